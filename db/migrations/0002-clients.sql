-- Clients with their people, briefs (what is wanted) and price lists; families and products.

CREATE TABLE brief (
  id INTEGER PRIMARY KEY,
  white_code INTEGER CHECK (white_code BETWEEN 0 AND 255),
  fill_ppm INTEGER CHECK (fill_ppm BETWEEN 100000 AND 1000000),
  direction TEXT NOT NULL DEFAULT 'clockwise' CHECK (direction IN ('clockwise', 'anticlockwise')),
  start_pose TEXT,
  name_pattern TEXT NOT NULL DEFAULT '{code}_{deliverable}_{frame:3}' CHECK (name_pattern <> ''),
  finish_class_id INTEGER REFERENCES finish_class (id),
  yes_days INTEGER CHECK (yes_days BETWEEN 1 AND 90),
  note TEXT
) STRICT;

-- One thing wanted of each spin. Frame rate is a fraction, so that 30000/1001 is exact.
CREATE TABLE deliverable (
  id INTEGER PRIMARY KEY,
  brief_id INTEGER NOT NULL REFERENCES brief (id) ON DELETE CASCADE,
  kind TEXT NOT NULL CHECK (kind IN ('loop', 'frame set', 'stills')),
  name TEXT NOT NULL CHECK (name <> ''),
  frames INTEGER CHECK (frames BETWEEN 1 AND 1440),
  width_px INTEGER NOT NULL CHECK (width_px BETWEEN 16 AND 20000),
  height_px INTEGER NOT NULL CHECK (height_px BETWEEN 16 AND 20000),
  fps_num INTEGER CHECK (fps_num > 0),
  fps_den INTEGER CHECK (fps_den > 0),
  drop_frame INTEGER NOT NULL DEFAULT 0 CHECK (drop_frame IN (0, 1)),
  file_type TEXT NOT NULL CHECK (file_type IN ('jpg', 'png', 'webp', 'tif', 'mp4', 'mov', 'webm')),
  file_cap_bytes INTEGER CHECK (file_cap_bytes > 0),
  position INTEGER NOT NULL,
  UNIQUE (brief_id, position),
  CHECK (kind = 'loop' OR frames IS NOT NULL),
  CHECK ((kind = 'loop') = (fps_num IS NOT NULL)),
  CHECK ((fps_num IS NULL) = (fps_den IS NULL)),
  CHECK ((kind = 'loop') = (file_type IN ('mp4', 'mov', 'webm')))
) STRICT;

-- The rows wanted: one turn each, at its own viewing angle and with its own frames per turn.
CREATE TABLE brief_row (
  brief_id INTEGER NOT NULL REFERENCES brief (id) ON DELETE CASCADE,
  row INTEGER NOT NULL CHECK (row BETWEEN 1 AND 20),
  view_angle_mdeg INTEGER NOT NULL DEFAULT 0 CHECK (view_angle_mdeg BETWEEN -90000 AND 90000),
  frames_per_turn INTEGER NOT NULL CHECK (frames_per_turn BETWEEN 2 AND 1440),
  overlap_frames INTEGER NOT NULL DEFAULT 0 CHECK (overlap_frames BETWEEN 0 AND 1440),
  PRIMARY KEY (brief_id, row)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX one_brief_row_per_angle ON brief_row (brief_id, view_angle_mdeg);

CREATE TABLE price_list (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  valid_from TEXT NOT NULL CHECK (valid_from = date(valid_from)),
  valid_to TEXT CHECK (valid_to = date(valid_to)),
  is_standard INTEGER NOT NULL DEFAULT 0 CHECK (is_standard IN (0, 1)),
  CHECK (valid_to IS NULL OR valid_to >= valid_from)
) STRICT;
-- Next year's list can lie ready: of several valid standard lists the one that began last counts.
CREATE UNIQUE INDEX one_standard_price_list ON price_list (currency, valid_from) WHERE is_standard = 1;

CREATE TABLE price (
  id INTEGER PRIMARY KEY,
  price_list_id INTEGER NOT NULL REFERENCES price_list (id) ON DELETE CASCADE,
  size_class TEXT NOT NULL CHECK (size_class IN ('small', 'medium', 'large')),
  finish_class_id INTEGER REFERENCES finish_class (id),
  kind TEXT NOT NULL CHECK (kind IN ('loop', 'frame set', 'stills')),
  rows INTEGER NOT NULL DEFAULT 1 CHECK (rows BETWEEN 1 AND 20),
  first_minor INTEGER NOT NULL CHECK (first_minor >= 0),
  following_minor INTEGER NOT NULL CHECK (following_minor >= 0)
) STRICT;
CREATE UNIQUE INDEX one_price_per_case ON price (price_list_id, size_class, ifnull(finish_class_id, 0), kind, rows);

CREATE TABLE price_break (
  price_list_id INTEGER NOT NULL REFERENCES price_list (id) ON DELETE CASCADE,
  from_spins INTEGER NOT NULL CHECK (from_spins >= 2),
  discount_ppm INTEGER NOT NULL CHECK (discount_ppm BETWEEN 1 AND 1000000),
  PRIMARY KEY (price_list_id, from_spins)
) STRICT, WITHOUT ROWID;

CREATE TABLE client (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  trade TEXT,
  street TEXT,
  postal_code TEXT,
  city TEXT,
  region TEXT,
  country TEXT NOT NULL CHECK (length(country) = 2 AND country NOT GLOB '*[^A-Z]*'),
  tax_number TEXT,
  currency TEXT NOT NULL CHECK (length(currency) = 3 AND currency NOT GLOB '*[^A-Z]*'),
  language TEXT NOT NULL DEFAULT 'en' CHECK (language IN ('en', 'de')),
  tax_rate_id INTEGER REFERENCES tax_rate (id),
  payment_days INTEGER CHECK (payment_days BETWEEN 0 AND 365),
  order_number_needed INTEGER NOT NULL DEFAULT 0 CHECK (order_number_needed IN (0, 1)),
  reference_needed INTEGER NOT NULL DEFAULT 0 CHECK (reference_needed IN (0, 1)),
  cost_centre_needed INTEGER NOT NULL DEFAULT 0 CHECK (cost_centre_needed IN (0, 1)),
  -- One invoice a month over all its jobs, in place of one for each.
  bills_monthly INTEGER NOT NULL DEFAULT 0 CHECK (bills_monthly IN (0, 1)),
  files_after_payment INTEGER NOT NULL DEFAULT 0 CHECK (files_after_payment IN (0, 1)),
  price_list_id INTEGER REFERENCES price_list (id),
  standing_brief_id INTEGER NOT NULL UNIQUE REFERENCES brief (id),
  note TEXT,
  archived_at TEXT CHECK (archived_at = strftime('%Y-%m-%dT%H:%M:%fZ', archived_at)),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at))
) STRICT;
CREATE INDEX client_by_name ON client (name COLLATE NOCASE);

CREATE TABLE contact (
  id INTEGER PRIMARY KEY,
  client_id INTEGER NOT NULL REFERENCES client (id),
  name TEXT NOT NULL CHECK (name <> ''),
  role TEXT,
  email TEXT,
  phone TEXT,
  is_main INTEGER NOT NULL DEFAULT 0 CHECK (is_main IN (0, 1)),
  left_at TEXT CHECK (left_at = strftime('%Y-%m-%dT%H:%M:%fZ', left_at))
) STRICT;
CREATE INDEX contact_by_client ON contact (client_id);
CREATE UNIQUE INDEX one_main_contact ON contact (client_id) WHERE is_main = 1;

CREATE TABLE family (
  id INTEGER PRIMARY KEY,
  client_id INTEGER NOT NULL REFERENCES client (id),
  name TEXT NOT NULL CHECK (name <> ''),
  rig_revision_id INTEGER REFERENCES rig_revision (id),
  settings_id INTEGER REFERENCES settings (id),
  note TEXT,
  UNIQUE (client_id, name)
) STRICT;

CREATE TABLE product (
  id INTEGER PRIMARY KEY,
  client_id INTEGER NOT NULL REFERENCES client (id),
  family_id INTEGER REFERENCES family (id),
  code TEXT NOT NULL CHECK (code <> ''),
  name TEXT NOT NULL CHECK (name <> ''),
  variant TEXT,
  width_um INTEGER CHECK (width_um BETWEEN 100 AND 10000000),
  depth_um INTEGER CHECK (depth_um BETWEEN 100 AND 10000000),
  height_um INTEGER CHECK (height_um BETWEEN 100 AND 10000000),
  plan TEXT NOT NULL DEFAULT 'box' CHECK (plan IN ('round', 'box', 'measured')),
  swept_um INTEGER CHECK (swept_um BETWEEN 100 AND 20000000),
  mass_g INTEGER CHECK (mass_g BETWEEN 0 AND 2000000),
  -- What stands on the platter with it: a stand, a bust, a prop.
  stand_g INTEGER CHECK (stand_g BETWEEN 0 AND 2000000),
  finish TEXT NOT NULL DEFAULT 'matt' CHECK (finish IN ('matt', 'satin', 'gloss', 'mirror', 'clear', 'textile')),
  gtin TEXT CHECK (length(gtin) IN (8, 12, 13, 14) AND gtin NOT GLOB '*[^0-9]*'),
  value_minor INTEGER CHECK (value_minor >= 0),
  start_pose TEXT,
  handling_note TEXT,
  picture_id INTEGER REFERENCES attachment (id),
  archived_at TEXT CHECK (archived_at = strftime('%Y-%m-%dT%H:%M:%fZ', archived_at)),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at)),
  -- All that the platter carries; unknown until the product is weighed.
  load_g INTEGER AS (mass_g + ifnull(stand_g, 0)),
  -- Half octaves of its longest side from 1 mm: two steps are twice the size. -1 where no side is known.
  size_step INTEGER AS (CASE WHEN coalesce(width_um, depth_um, height_um, swept_um) IS NULL THEN -1 ELSE
    CAST(2 * log2(max(1000, ifnull(width_um, 0), ifnull(depth_um, 0), ifnull(height_um, 0), ifnull(swept_um, 0)) / 1000.0)
      AS INTEGER) END),
  UNIQUE (client_id, code),
  CHECK (plan <> 'measured' OR swept_um IS NOT NULL)
) STRICT;
CREATE INDEX product_by_family ON product (family_id) WHERE family_id IS NOT NULL;
CREATE INDEX product_by_code ON product (code COLLATE NOCASE) WHERE archived_at IS NULL;
CREATE INDEX product_by_name ON product (name COLLATE NOCASE) WHERE archived_at IS NULL;
CREATE INDEX product_by_client ON product (client_id, code COLLATE NOCASE) WHERE archived_at IS NULL;
CREATE TRIGGER product_family_of_its_client BEFORE INSERT ON product
WHEN NEW.family_id IS NOT NULL AND (SELECT client_id FROM family WHERE id = NEW.family_id) <> NEW.client_id
BEGIN SELECT raise(ABORT, 'the family belongs to another client'); END;
CREATE TRIGGER product_family_stays_with_its_client BEFORE UPDATE ON product
WHEN NEW.family_id IS NOT NULL AND (SELECT client_id FROM family WHERE id = NEW.family_id) <> NEW.client_id
BEGIN SELECT raise(ABORT, 'the family belongs to another client'); END;

CREATE TRIGGER search_new_client AFTER INSERT ON client BEGIN
  INSERT INTO search (rowid, label, detail, kind, ref) VALUES (NEW.id * 8 + 1, NEW.name, ifnull(NEW.city, ''), 'client', NEW.id);
END;
CREATE TRIGGER search_changed_client AFTER UPDATE OF name, city ON client BEGIN
  UPDATE search SET label = NEW.name, detail = ifnull(NEW.city, '') WHERE rowid = NEW.id * 8 + 1;
END;
CREATE TRIGGER search_new_product AFTER INSERT ON product BEGIN
  INSERT INTO search (rowid, label, detail, kind, ref) VALUES (NEW.id * 8 + 2, NEW.code, NEW.name, 'product', NEW.id);
END;
CREATE TRIGGER search_changed_product AFTER UPDATE OF code, name ON product BEGIN
  UPDATE search SET label = NEW.code, detail = NEW.name WHERE rowid = NEW.id * 8 + 2;
END;
