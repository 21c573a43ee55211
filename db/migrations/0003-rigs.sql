-- What stands (rigs and their revisions) and what is dialled (settings). Neither ever changes once written.

CREATE TABLE platter (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  rim_um10 INTEGER NOT NULL CHECK (rim_um10 BETWEEN 1000000 AND 100000000),
  division_um10 INTEGER NOT NULL CHECK (division_um10 BETWEEN 1000 AND 1000000),
  load_limit_g INTEGER CHECK (load_limit_g > 0),
  surface TEXT,
  note TEXT,
  gone_at TEXT CHECK (gone_at = strftime('%Y-%m-%dT%H:%M:%fZ', gone_at))
) STRICT;

CREATE TABLE rig (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  size_class TEXT NOT NULL CHECK (size_class IN ('small', 'medium', 'large')),
  note TEXT,
  archived_at TEXT CHECK (archived_at = strftime('%Y-%m-%dT%H:%M:%fZ', archived_at)),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at))
) STRICT;

-- Rim, division, surface and load limit are copied from the platter: a new tape must not rewrite what stood then.
-- Distances are level, from the platter's axis; heights over its surface. What looks or shines down is more than 0.
CREATE TABLE rig_revision (
  id INTEGER PRIMARY KEY,
  rig_id INTEGER NOT NULL REFERENCES rig (id),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  platter_id INTEGER NOT NULL REFERENCES platter (id),
  rim_um10 INTEGER NOT NULL CHECK (rim_um10 BETWEEN 1000000 AND 100000000),
  division_um10 INTEGER NOT NULL CHECK (division_um10 BETWEEN 1000 AND 1000000),
  surface TEXT,
  load_limit_g INTEGER CHECK (load_limit_g > 0),
  backdrop TEXT NOT NULL CHECK (backdrop <> ''),
  backdrop_equipment_id INTEGER REFERENCES equipment (id),
  camera TEXT NOT NULL CHECK (camera <> ''),
  camera_equipment_id INTEGER REFERENCES equipment (id),
  sensor_width_um INTEGER CHECK (sensor_width_um BETWEEN 1000 AND 200000),
  sensor_height_um INTEGER CHECK (sensor_height_um BETWEEN 1000 AND 200000),
  sensor_width_px INTEGER CHECK (sensor_width_px BETWEEN 100 AND 50000),
  sensor_height_px INTEGER CHECK (sensor_height_px BETWEEN 100 AND 50000),
  lens TEXT NOT NULL CHECK (lens <> ''),
  lens_equipment_id INTEGER REFERENCES equipment (id),
  focal_um INTEGER NOT NULL CHECK (focal_um BETWEEN 1000 AND 2000000),
  widest_centi INTEGER CHECK (widest_centi BETWEEN 50 AND 12800),
  smallest_centi INTEGER CHECK (smallest_centi BETWEEN 50 AND 12800),
  camera_distance_um INTEGER NOT NULL CHECK (camera_distance_um BETWEEN 10000 AND 50000000),
  camera_height_um INTEGER NOT NULL CHECK (camera_height_um BETWEEN -5000000 AND 10000000),
  camera_tilt_mdeg INTEGER NOT NULL DEFAULT 0 CHECK (camera_tilt_mdeg BETWEEN -90000 AND 90000),
  product_swept_um INTEGER CHECK (product_swept_um BETWEEN 1000 AND 20000000),
  product_height_um INTEGER CHECK (product_height_um BETWEEN 1000 AND 20000000),
  flags TEXT,
  note TEXT,
  why TEXT NOT NULL CHECK (why <> ''),
  person_id INTEGER NOT NULL REFERENCES person (id),
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at)),
  UNIQUE (rig_id, revision),
  CHECK (smallest_centi >= widest_centi)
) STRICT;
CREATE TRIGGER rig_revision_stays_as_written BEFORE UPDATE ON rig_revision
BEGIN SELECT raise(ABORT, 'a rig revision never changes; make a new one'); END;
CREATE TRIGGER rig_revision_is_never_deleted BEFORE DELETE ON rig_revision
BEGIN SELECT raise(ABORT, 'a rig revision never changes; make a new one'); END;

CREATE TABLE rig_light (
  rig_revision_id INTEGER NOT NULL REFERENCES rig_revision (id),
  position INTEGER NOT NULL CHECK (position >= 1),
  kind TEXT NOT NULL CHECK (kind <> ''),
  equipment_id INTEGER REFERENCES equipment (id),
  modifier TEXT,
  bearing_mdeg INTEGER NOT NULL CHECK (bearing_mdeg BETWEEN 0 AND 359999),
  elevation_mdeg INTEGER NOT NULL DEFAULT 0 CHECK (elevation_mdeg BETWEEN -90000 AND 90000),
  distance_um INTEGER NOT NULL CHECK (distance_um BETWEEN 10000 AND 50000000),
  height_um INTEGER NOT NULL DEFAULT 0 CHECK (height_um BETWEEN -5000000 AND 10000000),
  power TEXT,
  colour_temperature_k INTEGER CHECK (colour_temperature_k BETWEEN 1500 AND 20000),
  PRIMARY KEY (rig_revision_id, position)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER rig_light_stays_as_written BEFORE UPDATE ON rig_light
BEGIN SELECT raise(ABORT, 'a rig revision never changes; make a new one'); END;
CREATE TRIGGER rig_light_is_never_deleted BEFORE DELETE ON rig_light
BEGIN SELECT raise(ABORT, 'a rig revision never changes; make a new one'); END;

-- A revision and its lights are written together; once a take was shot on it, or a newer one stands, none joins.
CREATE TRIGGER rig_light_never_joins_later BEFORE INSERT ON rig_light
WHEN EXISTS (SELECT 1 FROM take WHERE rig_revision_id = NEW.rig_revision_id)
  OR EXISTS (SELECT 1 FROM rig_revision n JOIN rig_revision o ON o.rig_id = n.rig_id AND o.revision < n.revision
    WHERE o.id = NEW.rig_revision_id)
BEGIN SELECT raise(ABORT, 'a rig revision never changes; make a new one'); END;

-- Where the platter's edge with its mark is seen in the picture, in millionths of its width and height. The camera's place
-- belongs to the rig, and each row of a spin has its own: a revision has one for each row.
CREATE TABLE edge_band (
  rig_revision_id INTEGER NOT NULL REFERENCES rig_revision (id),
  row INTEGER NOT NULL CHECK (row BETWEEN 1 AND 20),
  left_ppm INTEGER NOT NULL CHECK (left_ppm BETWEEN 0 AND 1000000),
  top_ppm INTEGER NOT NULL CHECK (top_ppm BETWEEN 0 AND 1000000),
  right_ppm INTEGER NOT NULL CHECK (right_ppm BETWEEN 0 AND 1000000),
  bottom_ppm INTEGER NOT NULL CHECK (bottom_ppm BETWEEN 0 AND 1000000),
  PRIMARY KEY (rig_revision_id, row),
  CHECK (right_ppm > left_ppm),
  CHECK (bottom_ppm > top_ppm)
) STRICT, WITHOUT ROWID;

-- On which side of the platter the pointer stands, seen from the camera: for the same places as the band.
CREATE TABLE pointer_side (
  rig_revision_id INTEGER NOT NULL REFERENCES rig_revision (id),
  row INTEGER NOT NULL CHECK (row BETWEEN 1 AND 20),
  side TEXT NOT NULL CHECK (side IN ('camera', 'left', 'behind', 'right')),
  PRIMARY KEY (rig_revision_id, row)
) STRICT, WITHOUT ROWID;

-- A photograph of the set as it stood. It is evidence and no part of what stands: it joins a revision at any time,
-- also after takes, and changes nothing of it. One added by mistake is taken off within the hour; its row stays.
CREATE TABLE rig_photo (
  id INTEGER PRIMARY KEY,
  rig_revision_id INTEGER NOT NULL REFERENCES rig_revision (id),
  attachment_id INTEGER NOT NULL REFERENCES attachment (id),
  width_px INTEGER NOT NULL CHECK (width_px BETWEEN 1 AND 100000),
  height_px INTEGER NOT NULL CHECK (height_px BETWEEN 1 AND 100000),
  caption TEXT,
  person_id INTEGER NOT NULL REFERENCES person (id),
  added_at TEXT NOT NULL CHECK (added_at = strftime('%Y-%m-%dT%H:%M:%fZ', added_at)),
  taken_off_at TEXT CHECK (taken_off_at = strftime('%Y-%m-%dT%H:%M:%fZ', taken_off_at)),
  CHECK (taken_off_at IS NULL OR unixepoch(taken_off_at) - unixepoch(added_at) BETWEEN 0 AND 3600)
) STRICT;
CREATE UNIQUE INDEX one_photo_once ON rig_photo (rig_revision_id, attachment_id) WHERE taken_off_at IS NULL;
CREATE TRIGGER rig_photo_stays BEFORE UPDATE ON rig_photo
WHEN OLD.taken_off_at IS NOT NULL OR NEW.rig_revision_id <> OLD.rig_revision_id OR NEW.attachment_id <> OLD.attachment_id
  OR NEW.added_at <> OLD.added_at OR NEW.person_id <> OLD.person_id
BEGIN SELECT raise(ABORT, 'a photograph stays with its revision; only its caption changes'); END;
CREATE TRIGGER rig_photo_is_never_deleted BEFORE DELETE ON rig_photo
BEGIN SELECT raise(ABORT, 'a photograph stays with its revision; it is taken off, not deleted'); END;

-- rig_id: the rig beside which they were written, so that they are found there before anything is turned with them.
CREATE TABLE settings (
  id INTEGER PRIMARY KEY,
  rig_id INTEGER REFERENCES rig (id),
  focus_um INTEGER CHECK (focus_um BETWEEN 10000 AND 50000000),
  aperture_centi INTEGER CHECK (aperture_centi BETWEEN 50 AND 12800),
  aperture_held TEXT NOT NULL DEFAULT 'each frame' CHECK (aperture_held IN ('wide open', 'ring', 'held', 'each frame')),
  shutter_num INTEGER CHECK (shutter_num > 0),
  shutter_den INTEGER CHECK (shutter_den > 0),
  iso INTEGER CHECK (iso BETWEEN 1 AND 10000000),
  white_balance_k INTEGER CHECK (white_balance_k BETWEEN 1500 AND 20000),
  crop_x_ppm INTEGER NOT NULL DEFAULT 0 CHECK (crop_x_ppm BETWEEN 0 AND 1000000),
  crop_y_ppm INTEGER NOT NULL DEFAULT 0 CHECK (crop_y_ppm BETWEEN 0 AND 1000000),
  crop_width_ppm INTEGER NOT NULL DEFAULT 1000000 CHECK (crop_width_ppm BETWEEN 1 AND 1000000),
  crop_height_ppm INTEGER NOT NULL DEFAULT 1000000 CHECK (crop_height_ppm BETWEEN 1 AND 1000000),
  development TEXT,
  note TEXT,
  created_at TEXT NOT NULL CHECK (created_at = strftime('%Y-%m-%dT%H:%M:%fZ', created_at)),
  CHECK ((shutter_num IS NULL) = (shutter_den IS NULL)),
  CHECK (crop_x_ppm + crop_width_ppm <= 1000000),
  CHECK (crop_y_ppm + crop_height_ppm <= 1000000)
) STRICT;
CREATE INDEX settings_by_rig ON settings (rig_id) WHERE rig_id IS NOT NULL;
CREATE TRIGGER settings_stay_as_written BEFORE UPDATE ON settings
BEGIN SELECT raise(ABORT, 'settings never change; make new ones'); END;

CREATE TABLE settings_row (
  settings_id INTEGER NOT NULL REFERENCES settings (id),
  row INTEGER NOT NULL CHECK (row BETWEEN 1 AND 20),
  view_angle_mdeg INTEGER NOT NULL DEFAULT 0 CHECK (view_angle_mdeg BETWEEN -90000 AND 90000),
  frames_per_turn INTEGER NOT NULL CHECK (frames_per_turn BETWEEN 2 AND 1440),
  overlap_frames INTEGER NOT NULL DEFAULT 0 CHECK (overlap_frames BETWEEN 0 AND 1440),
  camera_distance_um INTEGER CHECK (camera_distance_um BETWEEN 10000 AND 50000000),
  camera_height_um INTEGER CHECK (camera_height_um BETWEEN -5000000 AND 10000000),
  PRIMARY KEY (settings_id, row)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER settings_row_stays_as_written BEFORE UPDATE ON settings_row
BEGIN SELECT raise(ABORT, 'settings never change; make new ones'); END;
CREATE TRIGGER settings_are_never_deleted BEFORE DELETE ON settings
BEGIN SELECT raise(ABORT, 'settings never change; make new ones'); END;
CREATE TRIGGER settings_row_is_never_deleted BEFORE DELETE ON settings_row
BEGIN SELECT raise(ABORT, 'settings never change; make new ones'); END;

-- How many of each piece of equipment a rig revision takes.
CREATE VIEW rig_equipment AS
SELECT rig_revision_id, equipment_id, count(*) AS needed FROM (
  SELECT rig_revision_id, equipment_id FROM rig_light
  UNION ALL SELECT id, backdrop_equipment_id FROM rig_revision
  UNION ALL SELECT id, camera_equipment_id FROM rig_revision
  UNION ALL SELECT id, lens_equipment_id FROM rig_revision
) WHERE equipment_id IS NOT NULL GROUP BY rig_revision_id, equipment_id;
