-- Jobs, their spins, the client's products in our custody, benches and bookings.

CREATE TABLE job (
  id INTEGER PRIMARY KEY,
  number TEXT NOT NULL UNIQUE CHECK (number <> ''),
  client_id INTEGER NOT NULL REFERENCES client (id),
  contact_id INTEGER REFERENCES contact (id),
  title TEXT NOT NULL CHECK (title <> ''),
  brief_id INTEGER NOT NULL UNIQUE REFERENCES brief (id),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  order_number TEXT,
  buyer_reference TEXT,
  cost_centre TEXT,
  enquired_day TEXT NOT NULL CHECK (enquired_day = date(enquired_day)),
  call_back_day TEXT CHECK (call_back_day = date(call_back_day)),
  due_day TEXT CHECK (due_day = date(due_day)),
  promise_working_days INTEGER CHECK (promise_working_days BETWEEN 1 AND 365),
  return_by_day TEXT CHECK (return_by_day = date(return_by_day)),
  rounds_included INTEGER NOT NULL CHECK (rounds_included BETWEEN 0 AND 20),
  priority TEXT NOT NULL DEFAULT 'normal' CHECK (priority IN ('low', 'normal', 'high')),
  hold_reason TEXT,
  hold_until TEXT CHECK (hold_until = date(hold_until)),
  lost_reason TEXT,
  lost_price_minor INTEGER CHECK (lost_price_minor >= 0),
  lost_at TEXT CHECK (lost_at = strftime('%Y-%m-%dT%H:%M:%fZ', lost_at)),
  cancelled_reason TEXT,
  cancelled_at TEXT CHECK (cancelled_at = strftime('%Y-%m-%dT%H:%M:%fZ', cancelled_at)),
  note TEXT,
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at)),
  CHECK (due_day IS NULL OR promise_working_days IS NULL),
  CHECK ((hold_reason IS NULL) = (hold_until IS NULL)),
  CHECK ((lost_reason IS NULL) = (lost_at IS NULL)),
  CHECK ((cancelled_reason IS NULL) = (cancelled_at IS NULL))
) STRICT;
CREATE INDEX job_by_client ON job (client_id, id);
CREATE INDEX job_promised ON job (id) WHERE promise_working_days IS NOT NULL;

-- Worked out from the facts by the transaction that changes a fact; never set by hand.
CREATE TABLE job_standing (
  job_id INTEGER PRIMARY KEY REFERENCES job (id),
  station TEXT NOT NULL CHECK (station IN ('enquiry', 'quote', 'order', 'samples in', 'bench', 'takes', 'pick',
    'yes', 'delivery', 'samples back', 'invoice', 'paid', 'lost', 'cancelled')),
  is_open INTEGER NOT NULL CHECK (is_open IN (0, 1)),
  waits_for TEXT NOT NULL,
  due_day TEXT CHECK (due_day = date(due_day)),
  on_hold INTEGER NOT NULL CHECK (on_hold IN (0, 1)),
  spins INTEGER NOT NULL CHECK (spins >= 0),
  at_samples_in INTEGER NOT NULL CHECK (at_samples_in >= 0),
  at_bench INTEGER NOT NULL CHECK (at_bench >= 0),
  at_takes INTEGER NOT NULL CHECK (at_takes >= 0),
  at_pick INTEGER NOT NULL CHECK (at_pick >= 0),
  at_yes INTEGER NOT NULL CHECK (at_yes >= 0),
  at_delivery INTEGER NOT NULL CHECK (at_delivery >= 0),
  delivered INTEGER NOT NULL CHECK (delivered >= 0),
  bench_ms_left INTEGER NOT NULL CHECK (bench_ms_left >= 0),
  value_minor INTEGER NOT NULL,
  client_id INTEGER NOT NULL REFERENCES client (id),
  priority TEXT NOT NULL CHECK (priority IN ('low', 'normal', 'high')),
  CHECK (spins = at_samples_in + at_bench + at_takes + at_pick + at_yes + at_delivery + delivered)
) STRICT;
CREATE INDEX open_jobs_by_due ON job_standing (due_day, job_id) WHERE is_open = 1;
CREATE INDEX open_jobs_by_station ON job_standing (station, due_day, job_id) WHERE is_open = 1;
CREATE INDEX open_jobs_by_client ON job_standing (client_id, due_day) WHERE is_open = 1;

-- A spin: one product, or a set of several, spun in one job to one brief. Its own brief only as an exception.
CREATE TABLE shoot (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  position INTEGER NOT NULL CHECK (position >= 1),
  name TEXT NOT NULL CHECK (name <> ''),
  brief_id INTEGER UNIQUE REFERENCES brief (id),
  is_first INTEGER NOT NULL DEFAULT 0 CHECK (is_first IN (0, 1)),
  rig_revision_id INTEGER REFERENCES rig_revision (id),
  settings_id INTEGER REFERENCES settings (id),
  -- Of this spin alone, where it is to match an earlier one; else as spin_start_pose says.
  start_pose TEXT,
  estimate_ms INTEGER NOT NULL DEFAULT 0 CHECK (estimate_ms >= 0),
  without_sample_reason TEXT,
  -- A turn is never broken; between two rows the bench may close, where it is said to be so.
  breaks_between_rows INTEGER NOT NULL DEFAULT 0 CHECK (breaks_between_rows IN (0, 1)),
  -- What of it is to stand on the axis, where a person chose otherwise than its product's outline from above leads to.
  centre_choice TEXT CHECK (centre_choice IN ('body', 'least sweep')),
  cancelled_at TEXT CHECK (cancelled_at = strftime('%Y-%m-%dT%H:%M:%fZ', cancelled_at)),
  cancelled_reason TEXT,
  note TEXT,
  UNIQUE (job_id, position),
  CHECK ((cancelled_at IS NULL) = (cancelled_reason IS NULL))
) STRICT;
CREATE INDEX shoot_by_rig ON shoot (rig_revision_id, settings_id) WHERE rig_revision_id IS NOT NULL;

CREATE TABLE shoot_product (
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  product_id INTEGER NOT NULL REFERENCES product (id),
  position INTEGER NOT NULL DEFAULT 1 CHECK (position >= 1),
  PRIMARY KEY (shoot_id, product_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX shoot_by_product ON shoot_product (product_id, shoot_id);

-- How a spin begins, the nearest word first: its own, its product's, that of the first of its product's family, its brief's.
CREATE VIEW spin_start_pose AS
SELECT shoot.id AS shoot_id, coalesce(
  shoot.start_pose,
  (SELECT product.start_pose FROM shoot_product sp JOIN product ON product.id = sp.product_id
    WHERE sp.shoot_id = shoot.id AND product.start_pose IS NOT NULL ORDER BY sp.position LIMIT 1),
  (SELECT first.start_pose FROM shoot_product sp JOIN product ON product.id = sp.product_id
    JOIN product first ON first.family_id = product.family_id
    WHERE sp.shoot_id = shoot.id AND first.start_pose IS NOT NULL ORDER BY sp.position, first.id LIMIT 1),
  (SELECT start_pose FROM brief WHERE id = ifnull(shoot.brief_id, (SELECT brief_id FROM job WHERE id = shoot.job_id)))
) AS start_pose FROM shoot;

CREATE TABLE shoot_row (
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  row INTEGER NOT NULL CHECK (row BETWEEN 1 AND 20),
  view_angle_mdeg INTEGER NOT NULL DEFAULT 0 CHECK (view_angle_mdeg BETWEEN -90000 AND 90000),
  frames_per_turn INTEGER NOT NULL CHECK (frames_per_turn BETWEEN 2 AND 1440),
  overlap_frames INTEGER NOT NULL DEFAULT 0 CHECK (overlap_frames BETWEEN 0 AND 1440),
  PRIMARY KEY (shoot_id, row)
) STRICT, WITHOUT ROWID;

-- A spin to be turned again: always with its cause, so that it bills by it.
CREATE TABLE reshoot (
  id INTEGER PRIMARY KEY,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  cause TEXT NOT NULL CHECK (cause IN ('ours', 'client''s wish', 'sample', 'carrier')),
  reason TEXT NOT NULL CHECK (reason <> ''),
  asked_at TEXT NOT NULL CHECK (asked_at = strftime('%Y-%m-%dT%H:%M:%fZ', asked_at)),
  -- The extra that bills it, or why a person lets it go unbilled.
  extra_id INTEGER REFERENCES extra (id) ON DELETE SET NULL,
  let_go_reason TEXT CHECK (let_go_reason <> ''),
  CHECK (extra_id IS NULL OR let_go_reason IS NULL)
) STRICT;
CREATE INDEX reshoot_by_asking ON reshoot (asked_at);
CREATE INDEX reshoot_by_extra ON reshoot (extra_id) WHERE extra_id IS NOT NULL;
CREATE INDEX reshoot_by_shoot ON reshoot (shoot_id, asked_at);

-- Custody of the client's products: the expected list, and every move of each.
CREATE TABLE sample (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  product_id INTEGER NOT NULL REFERENCES product (id),
  is_needed INTEGER NOT NULL DEFAULT 1 CHECK (is_needed IN (0, 1)),
  expected_day TEXT CHECK (expected_day = date(expected_day)),
  state TEXT NOT NULL DEFAULT 'expected' CHECK (state IN ('expected', 'in', 'missing', 'wrong', 'broken', 'back', 'kept', 'destroyed')),
  arrived_at TEXT CHECK (arrived_at = strftime('%Y-%m-%dT%H:%M:%fZ', arrived_at)),
  gone_at TEXT CHECK (gone_at = strftime('%Y-%m-%dT%H:%M:%fZ', gone_at)),
  condition TEXT,
  place TEXT,
  value_minor INTEGER CHECK (value_minor >= 0),
  fate TEXT NOT NULL DEFAULT 'return' CHECK (fate IN ('return', 'keep', 'destroy')),
  UNIQUE (job_id, product_id),
  CHECK (state IN ('expected', 'missing') OR arrived_at IS NOT NULL),
  CHECK ((state IN ('back', 'kept', 'destroyed')) = (gone_at IS NOT NULL))
) STRICT;
CREATE INDEX sample_here ON sample (place) WHERE state IN ('in', 'wrong', 'broken');
CREATE INDEX sample_by_product ON sample (product_id);

CREATE TABLE sample_move (
  id INTEGER PRIMARY KEY,
  sample_id INTEGER NOT NULL REFERENCES sample (id),
  at TEXT NOT NULL CHECK (at = strftime('%Y-%m-%dT%H:%M:%fZ', at)),
  state TEXT NOT NULL CHECK (state IN ('expected', 'in', 'missing', 'wrong', 'broken', 'back', 'kept', 'destroyed')),
  place TEXT,
  condition TEXT,
  carrier TEXT,
  note TEXT,
  person_id INTEGER NOT NULL REFERENCES person (id),
  picture_id INTEGER REFERENCES attachment (id)
) STRICT;
CREATE INDEX sample_move_by_sample ON sample_move (sample_id, at);
CREATE TRIGGER sample_move_stays_as_written BEFORE UPDATE ON sample_move
BEGIN SELECT raise(ABORT, 'custody is written down once; add a new move'); END;
CREATE TRIGGER sample_move_is_never_deleted BEFORE DELETE ON sample_move
BEGIN SELECT raise(ABORT, 'custody is written down once; add a new move'); END;

CREATE TABLE bench (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  place TEXT NOT NULL DEFAULT 'ours' CHECK (place IN ('ours', 'client')),
  address TEXT,
  load_limit_g INTEGER CHECK (load_limit_g > 0),
  position INTEGER NOT NULL,
  gone_at TEXT CHECK (gone_at = strftime('%Y-%m-%dT%H:%M:%fZ', gone_at))
) STRICT;

CREATE TABLE bench_platter (
  bench_id INTEGER NOT NULL REFERENCES bench (id),
  platter_id INTEGER NOT NULL REFERENCES platter (id),
  PRIMARY KEY (bench_id, platter_id)
) STRICT, WITHOUT ROWID;

-- Opening hours in minutes of the studio's local day; weekday 1 is Monday (ISO 8601).
CREATE TABLE opening (
  bench_id INTEGER NOT NULL REFERENCES bench (id),
  weekday INTEGER NOT NULL CHECK (weekday BETWEEN 1 AND 7),
  from_minute INTEGER NOT NULL CHECK (from_minute BETWEEN 0 AND 1439),
  to_minute INTEGER NOT NULL CHECK (to_minute BETWEEN 1 AND 1440),
  PRIMARY KEY (bench_id, weekday, from_minute),
  CHECK (to_minute > from_minute)
) STRICT, WITHOUT ROWID;

CREATE TABLE closure (
  id INTEGER PRIMARY KEY,
  bench_id INTEGER REFERENCES bench (id),
  from_day TEXT NOT NULL CHECK (from_day = date(from_day)),
  to_day TEXT NOT NULL CHECK (to_day = date(to_day)),
  reason TEXT NOT NULL CHECK (reason <> ''),
  source_uid TEXT,
  CHECK (to_day >= from_day)
) STRICT;
CREATE INDEX closure_by_day ON closure (to_day, from_day);
CREATE UNIQUE INDEX one_closure_per_source ON closure (source_uid) WHERE source_uid IS NOT NULL;

CREATE TABLE booking (
  id INTEGER PRIMARY KEY,
  bench_id INTEGER NOT NULL REFERENCES bench (id),
  kind TEXT NOT NULL CHECK (kind IN ('spins', 'set change', 'other')),
  title TEXT,
  job_id INTEGER REFERENCES job (id),
  rig_revision_id INTEGER REFERENCES rig_revision (id),
  starts_at TEXT NOT NULL CHECK (starts_at = strftime('%Y-%m-%dT%H:%M:%fZ', starts_at)),
  ends_at TEXT NOT NULL CHECK (ends_at = strftime('%Y-%m-%dT%H:%M:%fZ', ends_at)),
  is_fixed INTEGER NOT NULL DEFAULT 0 CHECK (is_fixed IN (0, 1)),
  overruled_reason TEXT,
  uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
  sequence INTEGER NOT NULL DEFAULT 0 CHECK (sequence >= 0),
  cancelled_at TEXT CHECK (cancelled_at = strftime('%Y-%m-%dT%H:%M:%fZ', cancelled_at)),
  changed_at TEXT NOT NULL CHECK (changed_at = strftime('%Y-%m-%dT%H:%M:%fZ', changed_at)),
  CHECK (ends_at > starts_at),
  CHECK (kind <> 'spins' OR job_id IS NOT NULL),
  CHECK (kind <> 'other' OR title <> '')
) STRICT;
CREATE INDEX booking_by_time ON booking (bench_id, starts_at) WHERE cancelled_at IS NULL;
CREATE INDEX booking_by_start ON booking (starts_at) WHERE cancelled_at IS NULL;
CREATE INDEX booking_by_job ON booking (job_id) WHERE job_id IS NOT NULL;
-- Calendars that subscribe are told of what was cancelled lately.
CREATE INDEX booking_by_cancelling ON booking (cancelled_at) WHERE cancelled_at IS NOT NULL;
-- Blocks of a bench never overlap, so of all that begin before the new one ends only the last can be in its way.
CREATE TRIGGER booking_never_overlaps BEFORE INSERT ON booking
WHEN NEW.cancelled_at IS NULL AND NEW.starts_at < (SELECT b.ends_at FROM booking b WHERE b.bench_id = NEW.bench_id
  AND b.cancelled_at IS NULL AND b.starts_at < NEW.ends_at ORDER BY b.starts_at DESC LIMIT 1)
BEGIN SELECT raise(ABORT, 'the bench is already booked then'); END;
CREATE TRIGGER booking_moves_without_overlap BEFORE UPDATE ON booking
WHEN NEW.cancelled_at IS NULL AND NEW.starts_at < (SELECT b.ends_at FROM booking b WHERE b.bench_id = NEW.bench_id
  AND b.id <> NEW.id AND b.cancelled_at IS NULL AND b.starts_at < NEW.ends_at ORDER BY b.starts_at DESC LIMIT 1)
BEGIN SELECT raise(ABORT, 'the bench is already booked then'); END;

CREATE TABLE booking_shoot (
  booking_id INTEGER NOT NULL REFERENCES booking (id) ON DELETE CASCADE,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  position INTEGER NOT NULL CHECK (position >= 1),
  PRIMARY KEY (booking_id, shoot_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX booking_of_shoot ON booking_shoot (shoot_id);

CREATE TABLE booking_person (
  booking_id INTEGER NOT NULL REFERENCES booking (id) ON DELETE CASCADE,
  person_id INTEGER NOT NULL REFERENCES person (id),
  PRIMARY KEY (booking_id, person_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE booking_equipment (
  booking_id INTEGER NOT NULL REFERENCES booking (id) ON DELETE CASCADE,
  equipment_id INTEGER NOT NULL REFERENCES equipment (id),
  PRIMARY KEY (booking_id, equipment_id)
) STRICT, WITHOUT ROWID;

-- The address at which calendar programs read the blocks; no row while none may.
CREATE TABLE calendar_feed (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  secret TEXT NOT NULL CHECK (length(secret) >= 22),
  with_names INTEGER NOT NULL CHECK (with_names IN (0, 1)),
  made_at TEXT NOT NULL CHECK (made_at = strftime('%Y-%m-%dT%H:%M:%fZ', made_at))
) STRICT;

CREATE TABLE job_paper (
  job_id INTEGER NOT NULL REFERENCES job (id),
  attachment_id INTEGER NOT NULL REFERENCES attachment (id),
  kind TEXT NOT NULL CHECK (kind <> ''),
  added_at TEXT NOT NULL CHECK (added_at = strftime('%Y-%m-%dT%H:%M:%fZ', added_at)),
  PRIMARY KEY (job_id, attachment_id)
) STRICT, WITHOUT ROWID;

-- What a job costs beside the studio's own hours. Amounts before tax, in the currency that was paid.
CREATE TABLE job_cost (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  kind TEXT NOT NULL CHECK (kind IN ('hire', 'carrier', 'travel', 'finishing', 'props', 'hours', 'other')),
  text TEXT NOT NULL CHECK (text <> ''),
  day TEXT NOT NULL CHECK (day = date(day)),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  planned_minor INTEGER CHECK (planned_minor >= 0),
  actual_minor INTEGER CHECK (actual_minor >= 0),
  tax_minor INTEGER NOT NULL DEFAULT 0 CHECK (tax_minor >= 0),
  supplier TEXT,
  passed_on INTEGER NOT NULL DEFAULT 0 CHECK (passed_on IN (0, 1)),
  receipt_id INTEGER REFERENCES attachment (id),
  CHECK (planned_minor IS NOT NULL OR actual_minor IS NOT NULL)
) STRICT;
CREATE INDEX job_cost_by_job ON job_cost (job_id);
CREATE INDEX job_cost_by_day ON job_cost (day);

-- Rights of use: proposed until the client says yes, by the quote or on their own. A quote that was sent and an invoice
-- that was issued keep a copy of theirs.
CREATE TABLE usage_right (
  -- A sent quote names its rights by their ids, so an id is never given twice.
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id INTEGER NOT NULL REFERENCES job (id),
  media TEXT NOT NULL CHECK (media <> ''),
  territory TEXT NOT NULL CHECK (territory <> ''),
  from_day TEXT CHECK (from_day = date(from_day)),
  to_day TEXT CHECK (to_day = date(to_day)),
  passes_on_payment INTEGER NOT NULL DEFAULT 1 CHECK (passes_on_payment IN (0, 1)),
  agreed_at TEXT CHECK (agreed_at = strftime('%Y-%m-%dT%H:%M:%fZ', agreed_at)),
  withdrawn_at TEXT CHECK (withdrawn_at = strftime('%Y-%m-%dT%H:%M:%fZ', withdrawn_at)),
  withdrawn_reason TEXT,
  CHECK (to_day IS NULL OR from_day IS NULL OR to_day >= from_day),
  CHECK ((withdrawn_at IS NULL) = (withdrawn_reason IS NULL))
) STRICT;
CREATE TRIGGER usage_right_agreed_stays BEFORE UPDATE ON usage_right
WHEN OLD.withdrawn_at IS NOT NULL OR (OLD.agreed_at IS NOT NULL AND (NEW.job_id <> OLD.job_id OR NEW.media <> OLD.media
  OR NEW.territory <> OLD.territory OR NEW.from_day IS NOT OLD.from_day OR NEW.to_day IS NOT OLD.to_day
  OR NEW.passes_on_payment <> OLD.passes_on_payment OR NEW.agreed_at IS NOT OLD.agreed_at))
BEGIN SELECT raise(ABORT, 'a right that was agreed never changes; withdraw it and add another'); END;
CREATE TRIGGER usage_right_agreed_is_never_deleted BEFORE DELETE ON usage_right WHEN OLD.agreed_at IS NOT NULL
BEGIN SELECT raise(ABORT, 'a right that was agreed never changes; withdraw it and add another'); END;
CREATE INDEX usage_right_by_job ON usage_right (job_id);
CREATE INDEX usage_right_by_end ON usage_right (to_day) WHERE to_day IS NOT NULL;

CREATE TRIGGER search_new_job AFTER INSERT ON job BEGIN
  INSERT INTO search (rowid, label, detail, kind, ref)
  VALUES (NEW.id * 8 + 3, NEW.number, NEW.title || ' ' || ifnull(NEW.order_number, ''), 'job', NEW.id);
END;
CREATE TRIGGER search_changed_job AFTER UPDATE OF number, title, order_number ON job BEGIN
  UPDATE search SET label = NEW.number, detail = NEW.title || ' ' || ifnull(NEW.order_number, '') WHERE rowid = NEW.id * 8 + 3;
END;
