-- Quotes, extras, terms; invoices, credit notes, payments. What was sent, agreed or issued never changes.

CREATE TABLE quote (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  number TEXT NOT NULL CHECK (number <> ''),
  version INTEGER NOT NULL CHECK (version >= 1),
  way TEXT NOT NULL DEFAULT 'as asked' CHECK (way IN ('coarser', 'as asked', 'smoother')),
  state TEXT NOT NULL DEFAULT 'draft' CHECK (state IN ('draft', 'sent', 'accepted', 'declined', 'lapsed', 'replaced')),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  rim_um10 INTEGER CHECK (rim_um10 BETWEEN 1000000 AND 100000000),
  step_um10 INTEGER CHECK (step_um10 BETWEEN 1000 AND 10000000),
  step_ms INTEGER NOT NULL CHECK (step_ms BETWEEN 500 AND 120000),
  step_from_takes INTEGER NOT NULL DEFAULT 0 CHECK (step_from_takes >= 0),
  people INTEGER NOT NULL DEFAULT 1 CHECK (people BETWEEN 1 AND 2),
  work_median_ms INTEGER NOT NULL DEFAULT 0 CHECK (work_median_ms >= 0),
  sold_by TEXT NOT NULL DEFAULT 'list' CHECK (sold_by IN ('list', 'days')),
  half_days INTEGER CHECK (half_days BETWEEN 1 AND 1000),
  bench_mean_ms INTEGER NOT NULL DEFAULT 0 CHECK (bench_mean_ms >= 0),
  bench_median_ms INTEGER NOT NULL DEFAULT 0 CHECK (bench_median_ms >= 0),
  bench_p80_ms INTEGER NOT NULL DEFAULT 0 CHECK (bench_p80_ms >= 0),
  desk_ms INTEGER NOT NULL DEFAULT 0 CHECK (desk_ms >= 0),
  cost_median_minor INTEGER NOT NULL DEFAULT 0 CHECK (cost_median_minor >= 0),
  cost_p80_minor INTEGER NOT NULL DEFAULT 0 CHECK (cost_p80_minor >= 0),
  discount_ppm INTEGER NOT NULL DEFAULT 0 CHECK (discount_ppm BETWEEN 0 AND 1000000),
  is_rush INTEGER NOT NULL DEFAULT 0 CHECK (is_rush IN (0, 1)),
  lines_by_hand INTEGER NOT NULL DEFAULT 0 CHECK (lines_by_hand IN (0, 1)),
  deposit_ppm INTEGER NOT NULL DEFAULT 0 CHECK (deposit_ppm BETWEEN 0 AND 1000000),
  tax_rate_id INTEGER NOT NULL REFERENCES tax_rate (id),
  net_minor INTEGER NOT NULL DEFAULT 0,
  tax_minor INTEGER NOT NULL DEFAULT 0,
  total_minor INTEGER NOT NULL DEFAULT 0,
  due_day TEXT CHECK (due_day = date(due_day)),
  valid_until TEXT CHECK (valid_until = date(valid_until)),
  terms TEXT,
  assumptions TEXT,
  -- The rights of use as they stood when it was sent; see main/trade/usageRights.ts.
  rights TEXT NOT NULL DEFAULT '[]' CHECK (json_type(rights) = 'array'),
  sent_at TEXT CHECK (sent_at = strftime('%Y-%m-%dT%H:%M:%fZ', sent_at)),
  decided_at TEXT CHECK (decided_at = strftime('%Y-%m-%dT%H:%M:%fZ', decided_at)),
  decided_reason TEXT,
  decided_price_minor INTEGER CHECK (decided_price_minor >= 0),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at)),
  UNIQUE (job_id, version, way),
  CHECK (total_minor = net_minor + tax_minor),
  CHECK (state = 'draft' OR sent_at IS NOT NULL),
  CHECK (state = 'draft' OR valid_until IS NOT NULL),
  CHECK ((state IN ('accepted', 'declined', 'lapsed', 'replaced')) = (decided_at IS NOT NULL)),
  CHECK (bench_p80_ms >= bench_median_ms)
) STRICT;
CREATE UNIQUE INDEX one_accepted_quote ON quote (job_id) WHERE state = 'accepted';
CREATE UNIQUE INDEX one_draft_quote ON quote (job_id, way) WHERE state = 'draft';
CREATE INDEX quote_open ON quote (valid_until) WHERE state = 'sent';
CREATE TRIGGER quote_sent_stays BEFORE UPDATE ON quote
WHEN OLD.state <> 'draft' AND (NEW.job_id <> OLD.job_id OR NEW.number <> OLD.number OR NEW.version <> OLD.version
  OR NEW.way <> OLD.way OR NEW.currency <> OLD.currency OR NEW.step_ms <> OLD.step_ms
  OR NEW.discount_ppm <> OLD.discount_ppm OR NEW.is_rush <> OLD.is_rush OR NEW.deposit_ppm <> OLD.deposit_ppm
  OR NEW.net_minor <> OLD.net_minor OR NEW.tax_minor <> OLD.tax_minor OR NEW.total_minor <> OLD.total_minor
  OR NEW.valid_until <> OLD.valid_until OR NEW.sent_at <> OLD.sent_at OR NEW.terms IS NOT OLD.terms
  OR NEW.assumptions IS NOT OLD.assumptions OR NEW.due_day IS NOT OLD.due_day OR NEW.state = 'draft'
  OR NEW.tax_rate_id <> OLD.tax_rate_id OR NEW.rim_um10 IS NOT OLD.rim_um10 OR NEW.step_um10 IS NOT OLD.step_um10
  OR NEW.step_from_takes <> OLD.step_from_takes OR NEW.bench_mean_ms <> OLD.bench_mean_ms
  OR NEW.bench_median_ms <> OLD.bench_median_ms OR NEW.bench_p80_ms <> OLD.bench_p80_ms OR NEW.desk_ms <> OLD.desk_ms
  OR NEW.cost_median_minor <> OLD.cost_median_minor OR NEW.cost_p80_minor <> OLD.cost_p80_minor
  OR NEW.lines_by_hand <> OLD.lines_by_hand OR NEW.people <> OLD.people OR NEW.sold_by <> OLD.sold_by
  OR NEW.half_days IS NOT OLD.half_days OR NEW.rights <> OLD.rights OR NEW.work_median_ms <> OLD.work_median_ms)
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;
CREATE TRIGGER quote_sent_is_never_deleted BEFORE DELETE ON quote WHEN OLD.state <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;

-- The rows that are quoted: one turn each, at its own viewing angle and with its own frames per turn.
CREATE TABLE quote_row (
  quote_id INTEGER NOT NULL REFERENCES quote (id) ON DELETE CASCADE,
  row INTEGER NOT NULL CHECK (row BETWEEN 1 AND 20),
  view_angle_mdeg INTEGER NOT NULL CHECK (view_angle_mdeg BETWEEN -90000 AND 90000),
  frames_per_turn INTEGER NOT NULL CHECK (frames_per_turn BETWEEN 2 AND 1440),
  overlap_frames INTEGER NOT NULL CHECK (overlap_frames BETWEEN 0 AND 1440),
  PRIMARY KEY (quote_id, row)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX one_quote_row_per_angle ON quote_row (quote_id, view_angle_mdeg);
CREATE TRIGGER quote_row_sent_stays BEFORE UPDATE ON quote_row
WHEN (SELECT state FROM quote WHERE id = OLD.quote_id) <> 'draft' OR NEW.quote_id <> OLD.quote_id
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;
CREATE TRIGGER quote_row_sent_is_never_deleted BEFORE DELETE ON quote_row
WHEN (SELECT state FROM quote WHERE id = OLD.quote_id) <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;
CREATE TRIGGER quote_row_never_joins_a_sent_quote BEFORE INSERT ON quote_row
WHEN (SELECT state FROM quote WHERE id = NEW.quote_id) <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;

CREATE TABLE quote_line (
  id INTEGER PRIMARY KEY,
  quote_id INTEGER NOT NULL REFERENCES quote (id) ON DELETE CASCADE,
  position INTEGER NOT NULL CHECK (position >= 1),
  text TEXT NOT NULL CHECK (text <> ''),
  quantity_milli INTEGER NOT NULL,
  unit TEXT NOT NULL DEFAULT 'C62' CHECK (unit IN ('C62', 'HUR', 'DAY', 'LS')),
  price_minor INTEGER NOT NULL,
  base_milli INTEGER NOT NULL DEFAULT 1000 CHECK (base_milli > 0),
  net_minor INTEGER NOT NULL,
  tax_rate_id INTEGER NOT NULL REFERENCES tax_rate (id),
  kind TEXT NOT NULL CHECK (kind IN ('spins', 'days', 'finishing', 'fee', 'discount', 'rush', 'minimum', 'right')),
  spins INTEGER NOT NULL DEFAULT 0 CHECK (spins >= 0),
  why TEXT,
  UNIQUE (quote_id, position)
) STRICT;
CREATE TRIGGER quote_line_sent_stays BEFORE UPDATE ON quote_line
WHEN (SELECT state FROM quote WHERE id = OLD.quote_id) <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;
CREATE TRIGGER quote_line_sent_is_never_deleted BEFORE DELETE ON quote_line
WHEN (SELECT state FROM quote WHERE id = OLD.quote_id) <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;
CREATE TRIGGER quote_line_never_joins_a_sent_quote BEFORE INSERT ON quote_line
WHEN (SELECT state FROM quote WHERE id = NEW.quote_id) <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;

-- Which spins a line prices, so that what was delivered decides what is billed.
CREATE TABLE quote_line_shoot (
  quote_line_id INTEGER NOT NULL REFERENCES quote_line (id) ON DELETE CASCADE,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  PRIMARY KEY (quote_line_id, shoot_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX quote_line_by_shoot ON quote_line_shoot (shoot_id);
CREATE TRIGGER quote_line_shoot_stays BEFORE DELETE ON quote_line_shoot
WHEN (SELECT q.state FROM quote q JOIN quote_line l ON l.quote_id = q.id WHERE l.id = OLD.quote_line_id) <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;
CREATE TRIGGER quote_line_shoot_never_joins_a_sent_quote BEFORE INSERT ON quote_line_shoot
WHEN (SELECT q.state FROM quote q JOIN quote_line l ON l.quote_id = q.id WHERE l.id = NEW.quote_line_id) <> 'draft'
BEGIN SELECT raise(ABORT, 'a quote that was sent never changes; revise it'); END;
CREATE TRIGGER quote_line_shoot_never_moves BEFORE UPDATE ON quote_line_shoot
BEGIN SELECT raise(ABORT, 'which spins a line prices is written once; revise the quote'); END;

CREATE TABLE extra (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  number INTEGER NOT NULL CHECK (number >= 1),
  title TEXT NOT NULL CHECK (title <> ''),
  state TEXT NOT NULL DEFAULT 'proposed' CHECK (state IN ('proposed', 'agreed', 'declined')),
  why TEXT,
  new_due_day TEXT CHECK (new_due_day = date(new_due_day)),
  -- Who of the client answered, and how: by e-mail, by telephone, signed.
  contact_id INTEGER REFERENCES contact (id),
  decided_day TEXT CHECK (decided_day = date(decided_day)),
  decided_how TEXT CHECK (decided_how <> ''),
  proposed_at TEXT NOT NULL CHECK (proposed_at = strftime('%Y-%m-%dT%H:%M:%fZ', proposed_at)),
  decided_at TEXT CHECK (decided_at = strftime('%Y-%m-%dT%H:%M:%fZ', decided_at)),
  UNIQUE (job_id, number),
  CHECK ((state = 'proposed') = (decided_at IS NULL)),
  CHECK ((decided_at IS NULL) = (decided_day IS NULL)),
  CHECK ((decided_at IS NULL) = (decided_how IS NULL))
) STRICT;
CREATE TRIGGER extra_decided_stays BEFORE UPDATE ON extra WHEN OLD.state <> 'proposed'
BEGIN SELECT raise(ABORT, 'an extra that was decided never changes; propose another'); END;
CREATE TRIGGER extra_decided_is_never_deleted BEFORE DELETE ON extra WHEN OLD.state <> 'proposed'
BEGIN SELECT raise(ABORT, 'an extra that was decided never changes; propose another'); END;

CREATE TABLE extra_line (
  id INTEGER PRIMARY KEY,
  extra_id INTEGER NOT NULL REFERENCES extra (id) ON DELETE CASCADE,
  position INTEGER NOT NULL CHECK (position >= 1),
  text TEXT NOT NULL CHECK (text <> ''),
  quantity_milli INTEGER NOT NULL,
  unit TEXT NOT NULL DEFAULT 'C62' CHECK (unit IN ('C62', 'HUR', 'DAY', 'LS')),
  price_minor INTEGER NOT NULL,
  base_milli INTEGER NOT NULL DEFAULT 1000 CHECK (base_milli > 0),
  net_minor INTEGER NOT NULL,
  tax_rate_id INTEGER NOT NULL REFERENCES tax_rate (id),
  UNIQUE (extra_id, position)
) STRICT;
CREATE TRIGGER extra_line_decided_stays BEFORE UPDATE ON extra_line
WHEN (SELECT state FROM extra WHERE id = OLD.extra_id) <> 'proposed'
BEGIN SELECT raise(ABORT, 'an extra that was decided never changes; propose another'); END;
CREATE TRIGGER extra_line_decided_is_never_deleted BEFORE DELETE ON extra_line
WHEN (SELECT state FROM extra WHERE id = OLD.extra_id) <> 'proposed'
BEGIN SELECT raise(ABORT, 'an extra that was decided never changes; propose another'); END;
CREATE TRIGGER extra_line_never_joins_a_decided_extra BEFORE INSERT ON extra_line
WHEN (SELECT state FROM extra WHERE id = NEW.extra_id) <> 'proposed'
BEGIN SELECT raise(ABORT, 'an extra that was decided never changes; propose another'); END;

-- What is charged for cancelling, moving late or an idle bench: proposed from facts, never booked by itself.
CREATE TABLE term (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('cancelling', 'moving late', 'idle bench')),
  within_days INTEGER NOT NULL CHECK (within_days BETWEEN 0 AND 365),
  charge_ppm INTEGER NOT NULL CHECK (charge_ppm BETWEEN 0 AND 1000000),
  UNIQUE (kind, within_days),
  CHECK (kind <> 'idle bench' OR within_days = 0)
) STRICT;

-- What became of a charge the terms would allow: proposed as an extra, or let go with a reason.
CREATE TABLE term_case (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('cancelling', 'moving late', 'idle bench')),
  booking_id INTEGER NOT NULL REFERENCES booking (id),
  at TEXT NOT NULL CHECK (at = strftime('%Y-%m-%dT%H:%M:%fZ', at)),
  extra_id INTEGER REFERENCES extra (id) ON DELETE CASCADE,
  let_go_reason TEXT CHECK (let_go_reason <> ''),
  UNIQUE (kind, booking_id, at),
  CHECK ((extra_id IS NULL) = (let_go_reason IS NOT NULL))
) STRICT;
CREATE INDEX term_case_by_booking ON term_case (booking_id);
CREATE INDEX term_case_by_extra ON term_case (extra_id) WHERE extra_id IS NOT NULL;

CREATE TABLE invoice (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('invoice', 'deposit', 'credit note')),
  client_id INTEGER NOT NULL REFERENCES client (id),
  job_id INTEGER REFERENCES job (id),
  number TEXT UNIQUE,
  corrects_id INTEGER REFERENCES invoice (id),
  state TEXT NOT NULL DEFAULT 'draft' CHECK (state IN ('draft', 'issued')),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  language TEXT NOT NULL DEFAULT 'en' CHECK (language IN ('en', 'de')),
  issue_day TEXT CHECK (issue_day = date(issue_day)),
  due_day TEXT CHECK (due_day = date(due_day)),
  service_from TEXT CHECK (service_from = date(service_from)),
  service_to TEXT CHECK (service_to = date(service_to)),
  order_number TEXT,
  buyer_reference TEXT,
  cost_centre TEXT,
  seller TEXT CHECK (json_valid(seller)),
  buyer TEXT CHECK (json_valid(buyer)),
  note TEXT,
  rights TEXT NOT NULL DEFAULT '[]' CHECK (json_type(rights) = 'array'),
  lines_minor INTEGER NOT NULL DEFAULT 0,
  allowance_minor INTEGER NOT NULL DEFAULT 0 CHECK (allowance_minor >= 0),
  charge_minor INTEGER NOT NULL DEFAULT 0 CHECK (charge_minor >= 0),
  net_minor INTEGER NOT NULL DEFAULT 0,
  tax_minor INTEGER NOT NULL DEFAULT 0,
  total_minor INTEGER NOT NULL DEFAULT 0,
  prepaid_minor INTEGER NOT NULL DEFAULT 0 CHECK (prepaid_minor >= 0),
  rounding_minor INTEGER NOT NULL DEFAULT 0,
  payable_minor INTEGER NOT NULL DEFAULT 0,
  payment_reference TEXT,
  issued_at TEXT CHECK (issued_at = strftime('%Y-%m-%dT%H:%M:%fZ', issued_at)),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at)),
  CHECK ((state = 'issued') = (number IS NOT NULL)),
  CHECK ((state = 'issued') = (issued_at IS NOT NULL)),
  CHECK (state = 'draft' OR (issue_day IS NOT NULL AND due_day IS NOT NULL AND seller IS NOT NULL AND buyer IS NOT NULL)),
  CHECK (due_day IS NULL OR issue_day IS NULL OR due_day >= issue_day),
  CHECK ((kind = 'credit note') = (corrects_id IS NOT NULL)),
  CHECK (net_minor = lines_minor - allowance_minor + charge_minor),
  CHECK (total_minor = net_minor + tax_minor),
  CHECK (payable_minor = total_minor - prepaid_minor + rounding_minor)
) STRICT;
CREATE INDEX invoice_by_job ON invoice (job_id) WHERE job_id IS NOT NULL;
CREATE INDEX invoice_by_client ON invoice (client_id, issue_day);
CREATE INDEX invoice_by_issue ON invoice (issue_day) WHERE state = 'issued';
CREATE INDEX invoice_drafts ON invoice (id) WHERE state = 'draft';
CREATE INDEX invoice_by_issue_day ON invoice (issue_day, id) WHERE state = 'issued';
CREATE INDEX invoice_corrections ON invoice (corrects_id) WHERE corrects_id IS NOT NULL;
CREATE UNIQUE INDEX one_draft_per_job_and_kind ON invoice (job_id, kind) WHERE state = 'draft' AND job_id IS NOT NULL;
CREATE TRIGGER invoice_issued_stays BEFORE UPDATE ON invoice WHEN OLD.state = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_issued_is_never_deleted BEFORE DELETE ON invoice WHEN OLD.state = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;

CREATE TABLE invoice_line (
  id INTEGER PRIMARY KEY,
  invoice_id INTEGER NOT NULL REFERENCES invoice (id) ON DELETE CASCADE,
  position INTEGER NOT NULL CHECK (position >= 1),
  text TEXT NOT NULL CHECK (text <> ''),
  quantity_milli INTEGER NOT NULL,
  unit TEXT NOT NULL DEFAULT 'C62' CHECK (unit IN ('C62', 'HUR', 'DAY', 'LS')),
  price_minor INTEGER NOT NULL,
  base_milli INTEGER NOT NULL DEFAULT 1000 CHECK (base_milli > 0),
  net_minor INTEGER NOT NULL,
  category TEXT NOT NULL CHECK (category IN ('S', 'Z', 'E', 'AE', 'G', 'O', 'K')),
  rate_ppm INTEGER NOT NULL CHECK (rate_ppm BETWEEN 0 AND 1000000),
  exemption_reason TEXT,
  named_rates TEXT NOT NULL DEFAULT '[]' CHECK (json_type(named_rates) = 'array'),
  allowance_minor INTEGER NOT NULL DEFAULT 0 CHECK (allowance_minor >= 0),
  allowance_reason TEXT,
  charge_minor INTEGER NOT NULL DEFAULT 0 CHECK (charge_minor >= 0),
  charge_reason TEXT,
  quote_line_id INTEGER REFERENCES quote_line (id),
  extra_line_id INTEGER REFERENCES extra_line (id),
  job_cost_id INTEGER REFERENCES job_cost (id),
  corrects_line_id INTEGER REFERENCES invoice_line (id),
  job_id INTEGER REFERENCES job (id),
  UNIQUE (invoice_id, position),
  CHECK (allowance_minor = 0 OR ifnull(allowance_reason, '') <> ''),
  CHECK (charge_minor = 0 OR ifnull(charge_reason, '') <> '')
) STRICT;
CREATE INDEX invoice_line_by_quote_line ON invoice_line (quote_line_id) WHERE quote_line_id IS NOT NULL;
CREATE INDEX invoice_line_by_job ON invoice_line (job_id, invoice_id) WHERE job_id IS NOT NULL;
CREATE INDEX invoice_line_by_extra_line ON invoice_line (extra_line_id) WHERE extra_line_id IS NOT NULL;
CREATE INDEX invoice_line_by_job_cost ON invoice_line (job_cost_id) WHERE job_cost_id IS NOT NULL;
CREATE INDEX invoice_line_corrections ON invoice_line (corrects_line_id) WHERE corrects_line_id IS NOT NULL;
CREATE TRIGGER invoice_line_issued_stays BEFORE UPDATE ON invoice_line
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_line_issued_is_never_deleted BEFORE DELETE ON invoice_line
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_line_never_joins_an_issued_invoice BEFORE INSERT ON invoice_line
WHEN (SELECT state FROM invoice WHERE id = NEW.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;

-- The printed papers, written after the document is frozen and always the same from the same rows.
CREATE TABLE quote_paper (
  quote_id INTEGER PRIMARY KEY REFERENCES quote (id),
  attachment_id INTEGER NOT NULL REFERENCES attachment (id)
) STRICT;

CREATE TABLE invoice_paper (
  invoice_id INTEGER PRIMARY KEY REFERENCES invoice (id),
  attachment_id INTEGER NOT NULL REFERENCES attachment (id)
) STRICT;

-- The electronic invoice (UBL) of an issued document, written once.
CREATE TABLE invoice_ubl (
  invoice_id INTEGER PRIMARY KEY REFERENCES invoice (id),
  attachment_id INTEGER NOT NULL REFERENCES attachment (id)
) STRICT;
CREATE TRIGGER invoice_ubl_stays BEFORE UPDATE ON invoice_ubl
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;
CREATE TRIGGER invoice_ubl_is_never_deleted BEFORE DELETE ON invoice_ubl
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;
CREATE TRIGGER quote_paper_stays BEFORE UPDATE ON quote_paper
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;
CREATE TRIGGER quote_paper_is_never_deleted BEFORE DELETE ON quote_paper
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;
CREATE TRIGGER invoice_paper_stays BEFORE UPDATE ON invoice_paper
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;
CREATE TRIGGER invoice_paper_is_never_deleted BEFORE DELETE ON invoice_paper
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;

-- Papers that a client was given beside quotes and invoices, as they were written on the day.
CREATE TABLE client_paper (
  id INTEGER PRIMARY KEY,
  client_id INTEGER NOT NULL REFERENCES client (id),
  job_id INTEGER REFERENCES job (id),
  kind TEXT NOT NULL CHECK (kind IN ('statement of account', 'order confirmation', 'goods receipt')),
  attachment_id INTEGER NOT NULL UNIQUE REFERENCES attachment (id),
  written_at TEXT NOT NULL CHECK (written_at = strftime('%Y-%m-%dT%H:%M:%fZ', written_at)),
  CHECK (job_id IS NOT NULL OR kind = 'statement of account')
) STRICT;
CREATE INDEX client_paper_by_job ON client_paper (job_id) WHERE job_id IS NOT NULL;
CREATE TRIGGER client_paper_stays BEFORE UPDATE ON client_paper
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;
CREATE TRIGGER client_paper_is_never_deleted BEFORE DELETE ON client_paper
BEGIN SELECT raise(ABORT, 'a paper that went out stays as it was'); END;

-- Allowances and charges on the whole document, per tax category.
CREATE TABLE invoice_adjustment (
  id INTEGER PRIMARY KEY,
  invoice_id INTEGER NOT NULL REFERENCES invoice (id) ON DELETE CASCADE,
  kind TEXT NOT NULL CHECK (kind IN ('allowance', 'charge')),
  reason TEXT NOT NULL CHECK (reason <> ''),
  amount_minor INTEGER NOT NULL CHECK (amount_minor >= 0),
  category TEXT NOT NULL CHECK (category IN ('S', 'Z', 'E', 'AE', 'G', 'O', 'K')),
  rate_ppm INTEGER NOT NULL CHECK (rate_ppm BETWEEN 0 AND 1000000),
  exemption_reason TEXT,
  named_rates TEXT NOT NULL DEFAULT '[]' CHECK (json_type(named_rates) = 'array')
) STRICT;
CREATE INDEX invoice_adjustment_by_invoice ON invoice_adjustment (invoice_id);
CREATE TRIGGER invoice_adjustment_issued_stays BEFORE UPDATE ON invoice_adjustment
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_adjustment_issued_is_never_deleted BEFORE DELETE ON invoice_adjustment
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_adjustment_never_joins_an_issued_invoice BEFORE INSERT ON invoice_adjustment
WHEN (SELECT state FROM invoice WHERE id = NEW.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;

-- Tax per category and rate; a sales tax of several names has a row for each, whose name is not empty.
CREATE TABLE invoice_tax (
  invoice_id INTEGER NOT NULL REFERENCES invoice (id) ON DELETE CASCADE,
  category TEXT NOT NULL CHECK (category IN ('S', 'Z', 'E', 'AE', 'G', 'O', 'K')),
  rate_ppm INTEGER NOT NULL CHECK (rate_ppm BETWEEN 0 AND 1000000),
  name TEXT NOT NULL DEFAULT '',
  base_minor INTEGER NOT NULL,
  tax_minor INTEGER NOT NULL,
  exemption_reason TEXT,
  PRIMARY KEY (invoice_id, category, rate_ppm, name)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER invoice_tax_issued_stays BEFORE UPDATE ON invoice_tax
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_tax_issued_is_never_deleted BEFORE DELETE ON invoice_tax
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_tax_never_joins_an_issued_invoice BEFORE INSERT ON invoice_tax
WHEN (SELECT state FROM invoice WHERE id = NEW.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;

-- The deposit invoices that a final invoice deducts.
CREATE TABLE invoice_deposit (
  invoice_id INTEGER NOT NULL REFERENCES invoice (id) ON DELETE CASCADE,
  deposit_id INTEGER NOT NULL REFERENCES invoice (id),
  amount_minor INTEGER NOT NULL CHECK (amount_minor > 0),
  PRIMARY KEY (invoice_id, deposit_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX invoice_deposit_by_deposit ON invoice_deposit (deposit_id);
CREATE TRIGGER invoice_deposit_issued_stays BEFORE UPDATE ON invoice_deposit
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_deposit_issued_is_never_deleted BEFORE DELETE ON invoice_deposit
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_deposit_never_joins_an_issued_invoice BEFORE INSERT ON invoice_deposit
WHEN (SELECT state FROM invoice WHERE id = NEW.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;

CREATE TABLE invoice_delivery (
  invoice_id INTEGER NOT NULL REFERENCES invoice (id) ON DELETE CASCADE,
  delivery_id INTEGER NOT NULL REFERENCES delivery (id),
  PRIMARY KEY (invoice_id, delivery_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX invoice_delivery_by_delivery ON invoice_delivery (delivery_id);
CREATE TRIGGER invoice_delivery_issued_stays BEFORE UPDATE ON invoice_delivery
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_delivery_issued_is_never_deleted BEFORE DELETE ON invoice_delivery
WHEN (SELECT state FROM invoice WHERE id = OLD.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;
CREATE TRIGGER invoice_delivery_never_joins_an_issued_invoice BEFORE INSERT ON invoice_delivery
WHEN (SELECT state FROM invoice WHERE id = NEW.invoice_id) = 'issued'
BEGIN SELECT raise(ABORT, 'an issued invoice never changes; write a credit note'); END;

-- How the CSV statements of one bank are read, so that columns are matched once.
CREATE TABLE statement_mapping (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  mapping TEXT NOT NULL CHECK (json_valid(mapping))
) STRICT;

-- Statements of the studio's bank as they were taken in. Nothing in them books anything by itself.
CREATE TABLE bank_statement (
  id INTEGER PRIMARY KEY,
  format TEXT NOT NULL CHECK (format IN ('csv', 'camt.053')),
  file_name TEXT NOT NULL CHECK (file_name <> ''),
  account TEXT NOT NULL CHECK (account <> ''),
  taken_in_at TEXT NOT NULL CHECK (taken_in_at = strftime('%Y-%m-%dT%H:%M:%fZ', taken_in_at))
) STRICT;

-- One movement on the account, more than 0 where money came in. The key is the account with the bank's own reference,
-- or with a hash of the line where there is none: the same statement taken in again adds nothing.
CREATE TABLE bank_line (
  id INTEGER PRIMARY KEY,
  statement_id INTEGER NOT NULL REFERENCES bank_statement (id) ON DELETE CASCADE,
  line_key TEXT NOT NULL UNIQUE CHECK (line_key <> ''),
  day TEXT NOT NULL CHECK (day = date(day)),
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  is_reversal INTEGER NOT NULL DEFAULT 0 CHECK (is_reversal IN (0, 1)),
  payer TEXT,
  payer_iban TEXT,
  reference TEXT,
  text TEXT NOT NULL DEFAULT '',
  -- What payments have taken of it, kept by the transaction that enters or takes back a payment.
  used_minor INTEGER NOT NULL DEFAULT 0 CHECK (used_minor >= 0),
  set_aside_reason TEXT CHECK (set_aside_reason <> ''),
  CHECK (used_minor = 0 OR used_minor <= amount_minor)
) STRICT;
CREATE INDEX bank_line_by_statement ON bank_line (statement_id);
CREATE INDEX bank_line_by_day ON bank_line (day, id);
CREATE INDEX bank_line_by_payer ON bank_line (payer_iban) WHERE payer_iban IS NOT NULL AND used_minor > 0;
CREATE INDEX bank_line_open ON bank_line (day, id)
  WHERE amount_minor > 0 AND used_minor < amount_minor AND set_aside_reason IS NULL;
CREATE TRIGGER bank_line_stays_as_written BEFORE UPDATE ON bank_line
WHEN NEW.statement_id <> OLD.statement_id OR NEW.line_key <> OLD.line_key OR NEW.day <> OLD.day
  OR NEW.amount_minor <> OLD.amount_minor OR NEW.currency <> OLD.currency OR NEW.is_reversal <> OLD.is_reversal
  OR NEW.payer IS NOT OLD.payer OR NEW.payer_iban IS NOT OLD.payer_iban OR NEW.reference IS NOT OLD.reference
  OR NEW.text <> OLD.text
BEGIN SELECT raise(ABORT, 'a line of a bank statement stays as the bank wrote it'); END;

-- More than 0 where money came in, less where it was paid back to the client.
CREATE TABLE payment (
  id INTEGER PRIMARY KEY,
  client_id INTEGER NOT NULL REFERENCES client (id),
  day TEXT NOT NULL CHECK (day = date(day)),
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  way TEXT NOT NULL CHECK (way IN ('transfer', 'card', 'cash', 'cheque', 'other')),
  reference TEXT,
  bank_line_id INTEGER REFERENCES bank_line (id),
  reverses_id INTEGER UNIQUE REFERENCES payment (id),
  note TEXT,
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at))
) STRICT;
CREATE INDEX payment_by_client ON payment (client_id, day);
CREATE INDEX payment_by_day ON payment (day);
CREATE INDEX payment_by_bank_line ON payment (bank_line_id) WHERE bank_line_id IS NOT NULL;
CREATE TRIGGER payment_stays_as_written BEFORE UPDATE ON payment
BEGIN SELECT raise(ABORT, 'a payment never changes; enter the opposite one'); END;
CREATE TRIGGER payment_is_never_deleted BEFORE DELETE ON payment
BEGIN SELECT raise(ABORT, 'a payment never changes; enter the opposite one'); END;

CREATE TABLE payment_share (
  payment_id INTEGER NOT NULL REFERENCES payment (id),
  invoice_id INTEGER NOT NULL REFERENCES invoice (id),
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
  PRIMARY KEY (payment_id, invoice_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX payment_share_by_invoice ON payment_share (invoice_id);
CREATE TRIGGER payment_share_stays_as_written BEFORE UPDATE ON payment_share
BEGIN SELECT raise(ABORT, 'a payment never changes; enter the opposite one'); END;
CREATE TRIGGER payment_share_is_never_deleted BEFORE DELETE ON payment_share
BEGIN SELECT raise(ABORT, 'a payment never changes; enter the opposite one'); END;

-- What is open on an issued invoice: worked out by the transaction that changes it, never set by hand.
CREATE TABLE invoice_account (
  invoice_id INTEGER PRIMARY KEY REFERENCES invoice (id),
  due_day TEXT NOT NULL CHECK (due_day = date(due_day)),
  open_minor INTEGER NOT NULL
) STRICT;
CREATE INDEX invoice_account_open ON invoice_account (due_day, invoice_id) WHERE open_minor <> 0;

-- What is given up of an invoice, with why; less than 0 where it takes one back.
CREATE TABLE write_off (
  id INTEGER PRIMARY KEY,
  invoice_id INTEGER NOT NULL REFERENCES invoice (id),
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
  day TEXT NOT NULL CHECK (day = date(day)),
  reason TEXT NOT NULL CHECK (reason <> ''),
  reverses_id INTEGER UNIQUE REFERENCES write_off (id),
  CHECK ((amount_minor < 0) = (reverses_id IS NOT NULL))
) STRICT;
CREATE INDEX write_off_by_invoice ON write_off (invoice_id);
CREATE INDEX write_off_by_day ON write_off (day);
CREATE TRIGGER write_off_stays_as_written BEFORE UPDATE ON write_off
BEGIN SELECT raise(ABORT, 'a write-off never changes; take it back'); END;
CREATE TRIGGER write_off_is_never_deleted BEFORE DELETE ON write_off
BEGIN SELECT raise(ABORT, 'a write-off never changes; take it back'); END;

-- When a reminder of each level may go out, and whether it proposes late interest and the lump sum of the studio.
CREATE TABLE reminder_level (
  level INTEGER PRIMARY KEY CHECK (level BETWEEN 1 AND 9),
  days_after_due INTEGER NOT NULL CHECK (days_after_due BETWEEN 1 AND 365),
  days_between INTEGER NOT NULL CHECK (days_between BETWEEN 0 AND 365),
  with_interest INTEGER NOT NULL DEFAULT 0 CHECK (with_interest IN (0, 1)),
  with_lump_sum INTEGER NOT NULL DEFAULT 0 CHECK (with_lump_sum IN (0, 1))
) STRICT;

-- Reminders that a person has sent: one paper to a client, over one invoice or several of one currency.
CREATE TABLE reminder (
  id INTEGER PRIMARY KEY,
  client_id INTEGER NOT NULL REFERENCES client (id),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  day TEXT NOT NULL CHECK (day = date(day)),
  lump_sum_minor INTEGER NOT NULL DEFAULT 0 CHECK (lump_sum_minor >= 0),
  paper_id INTEGER REFERENCES attachment (id)
) STRICT;
CREATE INDEX reminder_by_client ON reminder (client_id, day);
CREATE TRIGGER reminder_stays_as_sent BEFORE UPDATE ON reminder
WHEN OLD.paper_id IS NOT NULL OR NEW.client_id <> OLD.client_id OR NEW.currency <> OLD.currency OR NEW.day <> OLD.day
  OR NEW.lump_sum_minor <> OLD.lump_sum_minor
BEGIN SELECT raise(ABORT, 'a reminder that was sent stays as it was'); END;
CREATE TRIGGER reminder_is_never_deleted BEFORE DELETE ON reminder
BEGIN SELECT raise(ABORT, 'a reminder that was sent stays as it was'); END;

CREATE TABLE reminder_invoice (
  reminder_id INTEGER NOT NULL REFERENCES reminder (id),
  invoice_id INTEGER NOT NULL REFERENCES invoice (id),
  level INTEGER NOT NULL CHECK (level BETWEEN 1 AND 9),
  open_minor INTEGER NOT NULL CHECK (open_minor > 0),
  interest_minor INTEGER NOT NULL DEFAULT 0 CHECK (interest_minor >= 0),
  PRIMARY KEY (reminder_id, invoice_id),
  UNIQUE (invoice_id, level)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER reminder_invoice_stays_as_sent BEFORE UPDATE ON reminder_invoice
BEGIN SELECT raise(ABORT, 'a reminder that was sent stays as it was'); END;
CREATE TRIGGER reminder_invoice_is_never_deleted BEFORE DELETE ON reminder_invoice
BEGIN SELECT raise(ABORT, 'a reminder that was sent stays as it was'); END;

CREATE TRIGGER search_new_quote AFTER INSERT ON quote BEGIN
  INSERT INTO search (rowid, label, detail, kind, ref) VALUES (NEW.id * 8 + 4, NEW.number, '', 'quote', NEW.id);
END;
CREATE TRIGGER search_gone_quote AFTER DELETE ON quote BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 8 + 4;
END;
CREATE TRIGGER search_issued_invoice AFTER UPDATE OF number ON invoice WHEN NEW.number IS NOT NULL AND OLD.number IS NULL BEGIN
  INSERT INTO search (rowid, label, detail, kind, ref) VALUES (NEW.id * 8 + 5, NEW.number, ifnull(NEW.order_number, ''), 'invoice', NEW.id);
END;
