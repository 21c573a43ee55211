-- The studio itself: who it is, the figures it estimates with, its people, devices, papers and event log.
-- Lengths: *_um10 are tenths of a micrometre, *_um micrometres. Money: *_minor of the ISO 4217 code beside it.
-- Rates: *_ppm millionths. Quantities: *_milli thousandths. Angles: *_mdeg thousandths of a degree.
-- Instants are UTC ISO 8601 with milliseconds; days are YYYY-MM-DD in the studio's time zone.

CREATE TABLE attachment (
  id INTEGER PRIMARY KEY,
  sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  name TEXT NOT NULL CHECK (name <> ''),
  media_type TEXT NOT NULL CHECK (media_type LIKE '%/%'),
  bytes INTEGER NOT NULL CHECK (bytes >= 0),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at))
) STRICT;

CREATE TABLE studio (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL CHECK (name <> ''),
  legal_name TEXT,
  street TEXT,
  postal_code TEXT,
  city TEXT,
  region TEXT,
  country TEXT NOT NULL CHECK (length(country) = 2 AND country NOT GLOB '*[^A-Z]*'),
  email TEXT,
  phone TEXT,
  tax_number TEXT,
  company_number TEXT,
  iban TEXT,
  bic TEXT,
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  time_zone TEXT NOT NULL CHECK (time_zone <> ''),
  locale TEXT NOT NULL CHECK (locale <> ''),
  paper TEXT NOT NULL DEFAULT 'A4' CHECK (paper IN ('A4', 'Letter')),
  logo_id INTEGER REFERENCES attachment (id),
  quote_valid_days INTEGER NOT NULL DEFAULT 30 CHECK (quote_valid_days BETWEEN 1 AND 365),
  payment_days INTEGER NOT NULL DEFAULT 14 CHECK (payment_days BETWEEN 0 AND 365),
  deposit_ppm INTEGER NOT NULL DEFAULT 0 CHECK (deposit_ppm BETWEEN 0 AND 1000000),
  yes_days INTEGER NOT NULL DEFAULT 5 CHECK (yes_days BETWEEN 1 AND 90),
  bench_hour_minor INTEGER NOT NULL CHECK (bench_hour_minor >= 0),
  desk_hour_minor INTEGER NOT NULL CHECK (desk_hour_minor >= 0),
  second_hour_minor INTEGER NOT NULL DEFAULT 0 CHECK (second_hour_minor >= 0),
  half_day_minor INTEGER NOT NULL DEFAULT 0 CHECK (half_day_minor >= 0),
  day_minor INTEGER NOT NULL DEFAULT 0 CHECK (day_minor >= 0),
  minimum_minor INTEGER NOT NULL DEFAULT 0 CHECK (minimum_minor >= 0),
  rush_ppm INTEGER NOT NULL DEFAULT 0 CHECK (rush_ppm BETWEEN 0 AND 5000000),
  rounds_included INTEGER NOT NULL DEFAULT 1 CHECK (rounds_included BETWEEN 0 AND 20),
  late_interest_ppm INTEGER NOT NULL DEFAULT 0 CHECK (late_interest_ppm BETWEEN 0 AND 1000000),
  late_fee_minor INTEGER NOT NULL DEFAULT 0 CHECK (late_fee_minor >= 0),
  terms TEXT,
  -- On every printed ticket, so that a ticket of another studio is told from ours.
  ticket_key TEXT NOT NULL DEFAULT (hex(randomblob(2))) CHECK (length(ticket_key) = 4 AND ticket_key NOT GLOB '*[^0-9A-F]*'),
  is_demo INTEGER NOT NULL DEFAULT 0 CHECK (is_demo IN (0, 1)),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at))
) STRICT;

CREATE TRIGGER studio_keeps_its_ticket_key BEFORE UPDATE ON studio WHEN NEW.ticket_key <> OLD.ticket_key
BEGIN SELECT raise(ABORT, 'a studio keeps its mark; it stands on printed tickets'); END;

-- The studio's own figures, from which every estimate starts until takes have taught better ones.
CREATE TABLE pace (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  step_ms INTEGER NOT NULL CHECK (step_ms BETWEEN 500 AND 120000),
  step_spread_ppm INTEGER NOT NULL CHECK (step_spread_ppm BETWEEN 0 AND 1000000),
  check_frames INTEGER NOT NULL CHECK (check_frames BETWEEN 0 AND 500),
  overlap_frames INTEGER NOT NULL CHECK (overlap_frames BETWEEN 0 AND 500),
  row_change_ms INTEGER NOT NULL CHECK (row_change_ms BETWEEN 0 AND 7200000),
  restart_ppm INTEGER NOT NULL CHECK (restart_ppm BETWEEN 0 AND 900000),
  restart_pause_ms INTEGER NOT NULL CHECK (restart_pause_ms BETWEEN 0 AND 7200000),
  reshoot_ppm INTEGER NOT NULL CHECK (reshoot_ppm BETWEEN 0 AND 900000),
  change_platter_ms INTEGER NOT NULL CHECK (change_platter_ms BETWEEN 0 AND 28800000),
  change_light_ms INTEGER NOT NULL CHECK (change_light_ms BETWEEN 0 AND 28800000),
  change_camera_ms INTEGER NOT NULL CHECK (change_camera_ms BETWEEN 0 AND 28800000),
  change_lens_ms INTEGER NOT NULL CHECK (change_lens_ms BETWEEN 0 AND 28800000),
  change_backdrop_ms INTEGER NOT NULL CHECK (change_backdrop_ms BETWEEN 0 AND 28800000),
  change_settings_ms INTEGER NOT NULL CHECK (change_settings_ms BETWEEN 0 AND 28800000),
  frame_bytes INTEGER NOT NULL CHECK (frame_bytes BETWEEN 1 AND 1000000000),
  copy_bytes_per_second INTEGER NOT NULL CHECK (copy_bytes_per_second BETWEEN 1 AND 100000000000),
  develop_frame_ms INTEGER NOT NULL CHECK (develop_frame_ms BETWEEN 0 AND 3600000),
  pick_spin_ms INTEGER NOT NULL CHECK (pick_spin_ms BETWEEN 0 AND 28800000),
  export_frame_ms INTEGER NOT NULL CHECK (export_frame_ms BETWEEN 0 AND 3600000),
  small_max_um INTEGER NOT NULL CHECK (small_max_um > 0),
  medium_max_um INTEGER NOT NULL,
  handling_spread_ppm INTEGER NOT NULL CHECK (handling_spread_ppm BETWEEN 0 AND 1000000),
  beside_ppm INTEGER NOT NULL CHECK (beside_ppm BETWEEN 0 AND 1000000),
  bench_people INTEGER NOT NULL DEFAULT 1 CHECK (bench_people BETWEEN 1 AND 2),
  turning_cap_minutes INTEGER NOT NULL CHECK (turning_cap_minutes BETWEEN 30 AND 1440),
  CHECK (medium_max_um > small_max_um)
) STRICT;

-- What a minute late counts in a plan of the bench, by the job's priority.
CREATE TABLE plan_weights (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  low INTEGER NOT NULL DEFAULT 1 CHECK (low BETWEEN 1 AND 100),
  normal INTEGER NOT NULL DEFAULT 2 CHECK (normal BETWEEN 1 AND 100),
  high INTEGER NOT NULL DEFAULT 6 CHECK (high BETWEEN 1 AND 100),
  CHECK (low <= normal AND normal <= high)
) STRICT;

-- From where the check of a take finds fault, the studio's own limits. The defaults are common practice.
CREATE TABLE check_limits (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  flicker_mev INTEGER NOT NULL DEFAULT 20 CHECK (flicker_mev BETWEEN 1 AND 1000),
  light_step_mev INTEGER NOT NULL DEFAULT 50 CHECK (light_step_mev BETWEEN 1 AND 1000),
  drift_mev INTEGER NOT NULL DEFAULT 100 CHECK (drift_mev BETWEEN 1 AND 2000),
  centre_um INTEGER NOT NULL DEFAULT 1000 CHECK (centre_um BETWEEN 50 AND 100000),
  margin_ppm INTEGER NOT NULL DEFAULT 20000 CHECK (margin_ppm BETWEEN 0 AND 250000)
) STRICT;

CREATE TABLE handling (
  size_class TEXT NOT NULL CHECK (size_class IN ('small', 'medium', 'large')),
  finish TEXT NOT NULL CHECK (finish IN ('matt', 'satin', 'gloss', 'mirror', 'clear', 'textile')),
  first_ms INTEGER NOT NULL CHECK (first_ms BETWEEN 0 AND 28800000),
  following_ms INTEGER NOT NULL CHECK (following_ms BETWEEN 0 AND 28800000),
  PRIMARY KEY (size_class, finish)
) STRICT, WITHOUT ROWID;

-- What is done to a product before its take and once it is off the platter, by finish: the studio's own lists.
CREATE TABLE preparation (
  finish TEXT NOT NULL CHECK (finish IN ('matt', 'satin', 'gloss', 'mirror', 'clear', 'textile')),
  moment TEXT NOT NULL CHECK (moment IN ('before', 'after')),
  position INTEGER NOT NULL CHECK (position >= 1),
  step TEXT NOT NULL CHECK (step <> ''),
  PRIMARY KEY (finish, moment, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE finish_class (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  in_house INTEGER NOT NULL CHECK (in_house IN (0, 1)),
  frame_ms INTEGER NOT NULL CHECK (frame_ms BETWEEN 0 AND 7200000),
  frame_minor_per_100 INTEGER NOT NULL CHECK (frame_minor_per_100 >= 0),
  supplier TEXT,
  position INTEGER NOT NULL
) STRICT;

CREATE TABLE tax_rate (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK (name <> ''),
  category TEXT NOT NULL CHECK (category IN ('S', 'Z', 'E', 'AE', 'G', 'O', 'K')),
  rate_ppm INTEGER NOT NULL CHECK (rate_ppm BETWEEN 0 AND 1000000),
  exemption_reason TEXT,
  -- Sales tax of several names (state, county, city) as [{"name", "ratePpm"}]; rate_ppm is their sum.
  named_rates TEXT NOT NULL DEFAULT '[]' CHECK (json_type(named_rates) = 'array'),
  is_default INTEGER NOT NULL DEFAULT 0 CHECK (is_default IN (0, 1)),
  valid_from TEXT CHECK (valid_from = date(valid_from)),
  valid_to TEXT CHECK (valid_to = date(valid_to)),
  CHECK (category = 'S' OR rate_ppm = 0),
  CHECK (category = 'S' OR named_rates = '[]'),
  CHECK (category IN ('S', 'Z') OR ifnull(exemption_reason, '') <> ''),
  CHECK (valid_to IS NULL OR valid_from IS NULL OR valid_to >= valid_from)
) STRICT;
CREATE UNIQUE INDEX one_default_tax_rate ON tax_rate (is_default) WHERE is_default = 1;

-- What is paid in cash is rounded to the smallest coin; a currency without a row is not rounded.
CREATE TABLE cash_rounding (
  currency TEXT PRIMARY KEY CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  step_minor INTEGER NOT NULL CHECK (step_minor BETWEEN 2 AND 100000)
) STRICT, WITHOUT ROWID;

CREATE TABLE number_series (
  kind TEXT NOT NULL CHECK (kind IN ('job', 'quote', 'invoice', 'credit note', 'delivery')),
  year INTEGER NOT NULL CHECK (year BETWEEN 2000 AND 2999),
  first INTEGER NOT NULL DEFAULT 1 CHECK (first >= 1),
  next INTEGER NOT NULL CHECK (next >= 1),
  PRIMARY KEY (kind, year),
  CHECK (next >= first)
) STRICT, WITHOUT ROWID;
-- Where a series starts may be set while it has given no number yet; after that it goes up by one.
CREATE TRIGGER number_series_has_no_gaps BEFORE UPDATE ON number_series
WHEN NEW.kind <> OLD.kind OR NEW.year <> OLD.year
  OR NOT ((NEW.next = OLD.next + 1 AND NEW.first = OLD.first) OR (OLD.next = OLD.first AND NEW.next = NEW.first))
BEGIN SELECT raise(ABORT, 'a number series goes up by one'); END;
CREATE TRIGGER number_series_stays BEFORE DELETE ON number_series
BEGIN SELECT raise(ABORT, 'a number series is never deleted'); END;

CREATE TABLE person (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  role TEXT,
  hour_minor INTEGER NOT NULL DEFAULT 0 CHECK (hour_minor >= 0),
  turns INTEGER NOT NULL DEFAULT 1 CHECK (turns IN (0, 1)),
  left_at TEXT CHECK (left_at = strftime('%Y-%m-%dT%H:%M:%fZ', left_at))
) STRICT;

CREATE TABLE person_absence (
  id INTEGER PRIMARY KEY,
  person_id INTEGER NOT NULL REFERENCES person (id),
  from_day TEXT NOT NULL CHECK (from_day = date(from_day)),
  to_day TEXT NOT NULL CHECK (to_day = date(to_day)),
  reason TEXT,
  CHECK (to_day >= from_day)
) STRICT;
CREATE INDEX person_absence_by_person ON person_absence (person_id, from_day);

CREATE TABLE device (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK (name <> ''),
  door TEXT NOT NULL CHECK (door IN ('desktop', 'browser')),
  key_hash TEXT UNIQUE,
  person_id INTEGER NOT NULL REFERENCES person (id),
  first_seen_at TEXT NOT NULL CHECK (first_seen_at = strftime('%Y-%m-%dT%H:%M:%fZ', first_seen_at)),
  revoked_at TEXT CHECK (revoked_at = strftime('%Y-%m-%dT%H:%M:%fZ', revoked_at))
) STRICT;

CREATE TABLE equipment (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  kind TEXT NOT NULL CHECK (kind IN ('light', 'modifier', 'camera', 'lens', 'stand', 'backdrop', 'prop', 'other')),
  count INTEGER NOT NULL DEFAULT 1 CHECK (count >= 1),
  day_minor INTEGER NOT NULL DEFAULT 0 CHECK (day_minor >= 0),
  note TEXT,
  gone_at TEXT CHECK (gone_at = strftime('%Y-%m-%dT%H:%M:%fZ', gone_at))
) STRICT;

CREATE TABLE equipment_outage (
  id INTEGER PRIMARY KEY,
  equipment_id INTEGER NOT NULL REFERENCES equipment (id),
  kind TEXT NOT NULL CHECK (kind IN ('away', 'repair')),
  from_day TEXT NOT NULL CHECK (from_day = date(from_day)),
  to_day TEXT CHECK (to_day = date(to_day)),
  reason TEXT,
  CHECK (to_day IS NULL OR to_day >= from_day)
) STRICT;
CREATE INDEX equipment_outage_by_equipment ON equipment_outage (equipment_id, from_day);

-- Everything that was changed: who, when, what. Written in the transaction of the change itself.
CREATE TABLE event (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL CHECK (at = strftime('%Y-%m-%dT%H:%M:%fZ', at)),
  person_id INTEGER NOT NULL REFERENCES person (id),
  device_id INTEGER NOT NULL REFERENCES device (id),
  subject TEXT NOT NULL CHECK (subject <> ''),
  subject_id INTEGER NOT NULL,
  job_id INTEGER,
  client_id INTEGER,
  what TEXT NOT NULL CHECK (what <> ''),
  detail TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(detail))
) STRICT;
CREATE INDEX event_by_job ON event (job_id, id) WHERE job_id IS NOT NULL;
CREATE INDEX event_by_subject ON event (subject, subject_id, id);
CREATE TRIGGER event_stays_as_written BEFORE UPDATE ON event
BEGIN SELECT raise(ABORT, 'the event log is append-only'); END;
CREATE TRIGGER event_is_never_deleted BEFORE DELETE ON event
BEGIN SELECT raise(ABORT, 'the event log is append-only'); END;

-- What the search box finds. Kept by triggers on the tables it reads; rowid = id * 8 + kind number.
CREATE VIRTUAL TABLE search USING fts5 (label, detail, kind UNINDEXED, ref UNINDEXED, tokenize = 'trigram');
