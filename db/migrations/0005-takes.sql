-- Takes with their frames and faults, picks, the client's answers, finishing, deliveries.

CREATE TABLE take (
  id INTEGER PRIMARY KEY,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  row INTEGER NOT NULL DEFAULT 1 CHECK (row BETWEEN 1 AND 20),
  number INTEGER NOT NULL CHECK (number >= 1),
  rig_revision_id INTEGER NOT NULL REFERENCES rig_revision (id),
  settings_id INTEGER NOT NULL REFERENCES settings (id),
  bench_id INTEGER NOT NULL REFERENCES bench (id),
  person_id INTEGER NOT NULL REFERENCES person (id),
  device_id INTEGER NOT NULL REFERENCES device (id),
  counted_by TEXT NOT NULL DEFAULT 'key' CHECK (counted_by IN ('key', 'folder', 'beat', 'files')),
  folder TEXT,
  -- The folders that its files lie in besides, as JSON, in the order it went on in them: another card, or the next folder of one.
  more_folders TEXT NOT NULL DEFAULT '[]' CHECK (json_type(more_folders) = 'array'),
  frames_per_turn INTEGER NOT NULL CHECK (frames_per_turn BETWEEN 2 AND 1440),
  overlap_frames INTEGER NOT NULL CHECK (overlap_frames BETWEEN 0 AND 1440),
  started_at TEXT NOT NULL CHECK (started_at = strftime('%Y-%m-%dT%H:%M:%fZ', started_at)),
  ended_at TEXT CHECK (ended_at = strftime('%Y-%m-%dT%H:%M:%fZ', ended_at)),
  frames_shot INTEGER CHECK (frames_shot >= 0),
  median_step_ms INTEGER CHECK (median_step_ms > 0),
  verdict TEXT CHECK (verdict IN ('keep', 'reject')),
  verdict_reason TEXT,
  note TEXT,
  UNIQUE (shoot_id, number),
  CHECK (folder IS NOT NULL OR more_folders = '[]'),
  CHECK (ended_at IS NULL OR ended_at >= started_at),
  CHECK ((ended_at IS NULL) = (frames_shot IS NULL)),
  CHECK (verdict IS NULL OR ended_at IS NOT NULL)
) STRICT;
CREATE INDEX take_by_rig ON take (rig_revision_id, started_at);
CREATE INDEX take_by_settings ON take (rig_revision_id, settings_id);
CREATE INDEX take_by_start ON take (started_at);
CREATE INDEX take_by_bench ON take (bench_id, started_at);
CREATE INDEX rejected_take_by_rig ON take (rig_revision_id) WHERE verdict = 'reject';
CREATE UNIQUE INDEX one_running_take_per_spin ON take (shoot_id) WHERE ended_at IS NULL;
CREATE TRIGGER take_keeps_what_was_shot BEFORE UPDATE ON take
WHEN NEW.shoot_id <> OLD.shoot_id OR NEW.row <> OLD.row OR NEW.number <> OLD.number
  OR NEW.rig_revision_id <> OLD.rig_revision_id OR NEW.settings_id <> OLD.settings_id
  OR NEW.started_at <> OLD.started_at OR NEW.frames_per_turn <> OLD.frames_per_turn
  OR (OLD.ended_at IS NOT NULL AND (NEW.ended_at IS NOT OLD.ended_at OR NEW.frames_shot IS NOT OLD.frames_shot
    OR NEW.median_step_ms IS NOT OLD.median_step_ms))
BEGIN SELECT raise(ABORT, 'a take keeps what was shot; start a new take'); END;
CREATE TRIGGER take_is_never_deleted BEFORE DELETE ON take
BEGIN SELECT raise(ABORT, 'a take is never deleted; reject it'); END;

-- One row per frame while the take runs; packed into take_log when it ends.
CREATE TABLE take_frame (
  take_id INTEGER NOT NULL REFERENCES take (id),
  frame INTEGER NOT NULL CHECK (frame >= 1),
  at TEXT NOT NULL CHECK (at = strftime('%Y-%m-%dT%H:%M:%fZ', at)),
  is_void INTEGER NOT NULL DEFAULT 0 CHECK (is_void IN (0, 1)),
  -- Marks count from 0; those past the full turn are the overlap.
  mark INTEGER NOT NULL CHECK (mark >= 0),
  file TEXT,
  -- Which of the take's folders its file lies in: 0 is take.folder, 1 the first of take.more_folders.
  folder INTEGER NOT NULL DEFAULT 0 CHECK (folder >= 0),
  PRIMARY KEY (take_id, frame),
  CHECK (file IS NOT NULL OR folder = 0)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER take_frame_keeps_its_time BEFORE UPDATE ON take_frame
WHEN NEW.at <> OLD.at OR NEW.frame <> OLD.frame OR NEW.take_id <> OLD.take_id
BEGIN SELECT raise(ABORT, 'a frame keeps its time'); END;
CREATE TRIGGER take_frame_keeps_its_file BEFORE UPDATE ON take_frame
WHEN NEW.file IS NOT OLD.file OR NEW.folder <> OLD.folder
BEGIN SELECT raise(ABORT, 'a frame keeps its file'); END;
CREATE TRIGGER take_frame_lies_in_its_take BEFORE INSERT ON take_frame
WHEN NEW.file IS NOT NULL
  AND (SELECT folder IS NULL OR NEW.folder > json_array_length(more_folders) FROM take WHERE id = NEW.take_id)
BEGIN SELECT raise(ABORT, 'the take has no such folder'); END;
CREATE TRIGGER take_keeps_where_its_files_lie BEFORE UPDATE OF folder, more_folders ON take
WHEN EXISTS (SELECT 1 FROM take_frame f WHERE f.take_id = OLD.id AND f.file IS NOT NULL
    AND iif(f.folder = 0, NEW.folder, json_extract(NEW.more_folders, '$[' || (f.folder - 1) || ']'))
      IS NOT iif(f.folder = 0, OLD.folder, json_extract(OLD.more_folders, '$[' || (f.folder - 1) || ']')))
  OR ((NEW.folder IS NOT OLD.folder OR NEW.more_folders <> OLD.more_folders)
    AND EXISTS (SELECT 1 FROM take_log WHERE take_id = OLD.id))
BEGIN SELECT raise(ABORT, 'a take keeps where its files lie; add a folder'); END;
CREATE TRIGGER take_frame_only_while_running BEFORE INSERT ON take_frame
WHEN (SELECT ended_at FROM take WHERE id = NEW.take_id) IS NOT NULL
BEGIN SELECT raise(ABORT, 'the take has ended'); END;

-- A running take that is counted by the files arriving in a folder. `before`: the keys of the frames that lay
-- there already, as JSON; they do not count. Gone with the take's end; the take's own list of folders stays.
CREATE TABLE take_watch (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  folder TEXT NOT NULL CHECK (folder <> ''),
  before TEXT NOT NULL CHECK (json_type(before) = 'array')
) STRICT;
CREATE TRIGGER take_watch_ends_with_its_take AFTER UPDATE OF ended_at ON take WHEN NEW.ended_at IS NOT NULL
BEGIN
  DELETE FROM take_watch WHERE take_id = NEW.id;
  DELETE FROM take_checking WHERE take_id = NEW.id;
END;

-- The check of a running take's frames, so that it goes on when the program is begun anew.
CREATE TABLE take_checking (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  -- Where it was begun last, as JSON.
  folders TEXT NOT NULL CHECK (json_type(folders) = 'array'),
  -- How often it was begun and did not come to read all that lay there; null where a person stopped it.
  tries INTEGER CHECK (tries BETWEEN 0 AND 1000)
) STRICT;

-- The folder that was watched last at a bench from a device.
CREATE TABLE frame_folder (
  bench_id INTEGER NOT NULL REFERENCES bench (id),
  device_id INTEGER NOT NULL REFERENCES device (id),
  folder TEXT NOT NULL CHECK (folder <> ''),
  used_at TEXT NOT NULL CHECK (used_at = strftime('%Y-%m-%dT%H:%M:%fZ', used_at)),
  PRIMARY KEY (bench_id, device_id)
) STRICT, WITHOUT ROWID;

-- What was answered to each act at the bench, by the key the device gave it: an act that is sent again is answered
-- again and done once. Kept for a week after the take's end, for a tablet that comes back late.
CREATE TABLE take_act (
  take_id INTEGER NOT NULL REFERENCES take (id),
  act_key TEXT NOT NULL CHECK (act_key <> ''),
  -- The acts of a take in their order, from 1.
  number INTEGER NOT NULL CHECK (number >= 1),
  frame INTEGER CHECK (frame >= 1),
  mark INTEGER CHECK (mark >= 0),
  refusal_code TEXT,
  refusal_sentence TEXT,
  PRIMARY KEY (take_id, act_key),
  CHECK ((frame IS NULL) = (mark IS NULL)),
  CHECK ((refusal_code IS NULL) = (refusal_sentence IS NULL))
) STRICT, WITHOUT ROWID;

-- Who has a running take in hand: one device, of one person, at a place in words ('the tablet'). Gone at its end.
CREATE TABLE take_hold (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  holder_key TEXT NOT NULL CHECK (holder_key <> ''),
  person_id INTEGER NOT NULL REFERENCES person (id),
  device_id INTEGER NOT NULL REFERENCES device (id),
  place TEXT NOT NULL CHECK (place <> ''),
  since TEXT NOT NULL CHECK (since = strftime('%Y-%m-%dT%H:%M:%fZ', since))
) STRICT;

-- The packed frames of an ended take as JSON: milliseconds from its start; [frame, mark] only where a frame does
-- not stand one mark after the one before; void frame numbers; [frame, file], and the place of its folder among the
-- take's, from 0, where it is not the first. See main/trade/pack.ts.
CREATE TABLE take_log (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  offsets_ms TEXT NOT NULL CHECK (json_type(offsets_ms) = 'array'),
  marks TEXT NOT NULL CHECK (json_type(marks) = 'array'),
  voids TEXT NOT NULL CHECK (json_type(voids) = 'array'),
  files TEXT NOT NULL DEFAULT '[]' CHECK (json_type(files) = 'array')
) STRICT;
CREATE TRIGGER take_log_stays_as_written BEFORE UPDATE ON take_log
BEGIN SELECT raise(ABORT, 'a take keeps what was shot'); END;
CREATE TRIGGER take_log_is_never_deleted BEFORE DELETE ON take_log
BEGIN SELECT raise(ABORT, 'a take keeps what was shot'); END;

CREATE TABLE take_pause (
  id INTEGER PRIMARY KEY,
  take_id INTEGER NOT NULL REFERENCES take (id),
  paused_at TEXT NOT NULL CHECK (paused_at = strftime('%Y-%m-%dT%H:%M:%fZ', paused_at)),
  resumed_at TEXT CHECK (resumed_at = strftime('%Y-%m-%dT%H:%M:%fZ', resumed_at)),
  reason TEXT,
  CHECK (resumed_at IS NULL OR resumed_at >= paused_at)
) STRICT;
CREATE UNIQUE INDEX one_open_pause ON take_pause (take_id) WHERE resumed_at IS NULL;
CREATE INDEX take_pause_by_take ON take_pause (take_id);

CREATE TABLE take_fault (
  id INTEGER PRIMARY KEY,
  take_id INTEGER NOT NULL REFERENCES take (id),
  frame INTEGER CHECK (frame >= 1),
  kind TEXT NOT NULL CHECK (kind IN ('flicker', 'bump', 'off centre', 'missed step', 'focus', 'dust', 'light change', 'product moved')),
  note TEXT,
  -- The finding of the check that a person agreed to; null for a fault that a person wrote down.
  finding_key TEXT CHECK (finding_key <> ''),
  at TEXT NOT NULL CHECK (at = strftime('%Y-%m-%dT%H:%M:%fZ', at))
) STRICT;
CREATE INDEX take_fault_by_take ON take_fault (take_id);

-- The last whole report of a take's check (main/trade/check/report.ts), for when its frames are out of reach.
CREATE TABLE take_check (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  -- Where its frames were read, as JSON: one folder, or several that it went on in.
  folders TEXT NOT NULL CHECK (json_type(folders) = 'array'),
  frames_read INTEGER NOT NULL CHECK (frames_read >= 0),
  report TEXT NOT NULL CHECK (json_valid(report)),
  checked_at TEXT NOT NULL CHECK (checked_at = strftime('%Y-%m-%dT%H:%M:%fZ', checked_at))
) STRICT;

-- A finding that a person waved off, and how large it was then, in a unit of its own. One that was agreed to is a
-- take_fault with its key.
CREATE TABLE take_finding_off (
  take_id INTEGER NOT NULL REFERENCES take (id),
  finding_key TEXT NOT NULL CHECK (finding_key <> ''),
  size REAL CHECK (size >= 0),
  note TEXT,
  at TEXT NOT NULL CHECK (at = strftime('%Y-%m-%dT%H:%M:%fZ', at)),
  PRIMARY KEY (take_id, finding_key)
) STRICT, WITHOUT ROWID;

-- How a person wants a take played where it is looked at: the loop's first and last frame, null as the check proposes
-- them, and which way round. What is delivered is said by the pick.
CREATE TABLE take_loop (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  in_frame INTEGER CHECK (in_frame >= 1),
  out_frame INTEGER CHECK (out_frame >= 1),
  reversed INTEGER NOT NULL CHECK (reversed IN (0, 1)),
  CHECK ((in_frame IS NULL) = (out_frame IS NULL)),
  CHECK (in_frame IS NULL OR out_frame >= in_frame)
) STRICT;

-- Small frames of a kept take on one sheet, row by row, for when its drive is gone: what it looked like.
CREATE TABLE contact_strip (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  attachment_id INTEGER NOT NULL REFERENCES attachment (id),
  -- The take's numbers of the frames, in their order.
  frames TEXT NOT NULL CHECK (json_type(frames) = 'array'),
  columns INTEGER NOT NULL CHECK (columns BETWEEN 1 AND 24),
  cell_width_px INTEGER NOT NULL CHECK (cell_width_px BETWEEN 1 AND 1000),
  cell_height_px INTEGER NOT NULL CHECK (cell_height_px BETWEEN 1 AND 1000)
) STRICT;

-- A small picture that a take is known by: its frame 1. Another takes its place; the file itself stays.
CREATE TABLE take_picture (
  take_id INTEGER PRIMARY KEY REFERENCES take (id),
  attachment_id INTEGER NOT NULL REFERENCES attachment (id)
) STRICT;

-- Our choice of a take for a deliverable. Not the client's yes: that is an answer.
CREATE TABLE pick (
  id INTEGER PRIMARY KEY,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  row INTEGER NOT NULL CHECK (row BETWEEN 1 AND 20),
  deliverable_id INTEGER NOT NULL REFERENCES deliverable (id),
  take_id INTEGER NOT NULL REFERENCES take (id),
  start_frame INTEGER NOT NULL DEFAULT 1 CHECK (start_frame >= 1),
  reversed INTEGER NOT NULL DEFAULT 0 CHECK (reversed IN (0, 1)),
  picked_at TEXT NOT NULL CHECK (picked_at = strftime('%Y-%m-%dT%H:%M:%fZ', picked_at)),
  withdrawn_at TEXT CHECK (withdrawn_at = strftime('%Y-%m-%dT%H:%M:%fZ', withdrawn_at))
) STRICT;
CREATE UNIQUE INDEX one_pick_per_row_and_deliverable ON pick (shoot_id, row, deliverable_id) WHERE withdrawn_at IS NULL;
CREATE INDEX pick_by_take ON pick (take_id);
CREATE INDEX pick_by_deliverable ON pick (deliverable_id, shoot_id);
CREATE TRIGGER pick_of_a_kept_take BEFORE INSERT ON pick
WHEN (SELECT count(*) FROM take WHERE id = NEW.take_id AND shoot_id = NEW.shoot_id AND row = NEW.row AND verdict = 'keep') = 0
BEGIN SELECT raise(ABORT, 'only a kept take of this spin and row can be picked'); END;

CREATE TRIGGER pick_stays BEFORE UPDATE ON pick
WHEN NEW.shoot_id <> OLD.shoot_id OR NEW.row <> OLD.row OR NEW.deliverable_id <> OLD.deliverable_id
  OR NEW.take_id <> OLD.take_id OR NEW.start_frame <> OLD.start_frame OR NEW.reversed <> OLD.reversed
  OR NEW.picked_at <> OLD.picked_at
BEGIN SELECT raise(ABORT, 'a pick is withdrawn, never changed; pick anew'); END;
CREATE TRIGGER pick_is_never_deleted BEFORE DELETE ON pick
BEGIN SELECT raise(ABORT, 'a pick is withdrawn, never deleted'); END;

-- What was shown to the client for a yes, and by when an answer was asked.
CREATE TABLE showing (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  contact_id INTEGER REFERENCES contact (id),
  shown_at TEXT NOT NULL CHECK (shown_at = strftime('%Y-%m-%dT%H:%M:%fZ', shown_at)),
  answer_by_day TEXT CHECK (answer_by_day = date(answer_by_day)),
  note TEXT
) STRICT;
CREATE INDEX showing_by_job ON showing (job_id);

CREATE TABLE showing_item (
  showing_id INTEGER NOT NULL REFERENCES showing (id),
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  deliverable_id INTEGER NOT NULL REFERENCES deliverable (id),
  PRIMARY KEY (showing_id, shoot_id, deliverable_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX showing_item_by_deliverable ON showing_item (deliverable_id);
CREATE INDEX showing_item_by_shoot ON showing_item (shoot_id, deliverable_id);

CREATE TABLE answer (
  id INTEGER PRIMARY KEY,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  deliverable_id INTEGER NOT NULL REFERENCES deliverable (id),
  verdict TEXT NOT NULL CHECK (verdict IN ('yes', 'change')),
  needs TEXT CHECK (needs IN ('reshoot', 'rework')),
  cause TEXT CHECK (cause IN ('ours', 'client''s wish', 'sample', 'carrier')),
  words TEXT,
  contact_id INTEGER REFERENCES contact (id),
  answered_at TEXT NOT NULL CHECK (answered_at = strftime('%Y-%m-%dT%H:%M:%fZ', answered_at)),
  withdrawn_at TEXT CHECK (withdrawn_at = strftime('%Y-%m-%dT%H:%M:%fZ', withdrawn_at)),
  CHECK ((verdict = 'change') = (needs IS NOT NULL)),
  CHECK ((verdict = 'change') = (cause IS NOT NULL))
) STRICT;
CREATE UNIQUE INDEX one_standing_yes ON answer (shoot_id, deliverable_id) WHERE verdict = 'yes' AND withdrawn_at IS NULL;
CREATE INDEX answer_by_deliverable ON answer (deliverable_id);
CREATE INDEX answer_by_shoot ON answer (shoot_id, deliverable_id, answered_at);

CREATE TRIGGER answer_stays BEFORE UPDATE ON answer
WHEN NEW.shoot_id <> OLD.shoot_id OR NEW.deliverable_id <> OLD.deliverable_id OR NEW.verdict <> OLD.verdict
  OR NEW.needs IS NOT OLD.needs OR NEW.cause IS NOT OLD.cause OR NEW.words IS NOT OLD.words
  OR NEW.contact_id IS NOT OLD.contact_id OR NEW.answered_at <> OLD.answered_at
BEGIN SELECT raise(ABORT, 'an answer is taken back, never changed'); END;
CREATE TRIGGER answer_is_never_deleted BEFORE DELETE ON answer
BEGIN SELECT raise(ABORT, 'an answer is taken back, never deleted'); END;

-- Which takes a client's wish for a change was about: those picked when it came; a reshoot withdraws the picks after.
CREATE TABLE change_take (
  answer_id INTEGER NOT NULL REFERENCES answer (id),
  take_id INTEGER NOT NULL REFERENCES take (id),
  PRIMARY KEY (answer_id, take_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX change_by_take ON change_take (take_id);

-- What the client answered to each spin on each rig, worked out anew whenever an answer or a pick changes: the wall of
-- rigs counts them, and a rig's takes are too many to be looked through each time. A standing yes to what is picked is
-- a yes, whatever was wanted before; a change counts as none, unless the sample or the carrier was at fault, which
-- says nothing about a rig. With the newest take it is about, and its first product's finish and size.
CREATE TABLE rig_answer (
  rig_id INTEGER NOT NULL REFERENCES rig (id),
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  take_id INTEGER NOT NULL REFERENCES take (id),
  is_yes INTEGER NOT NULL CHECK (is_yes IN (0, 1)),
  answered_at TEXT NOT NULL CHECK (answered_at = strftime('%Y-%m-%dT%H:%M:%fZ', answered_at)),
  finish TEXT NOT NULL CHECK (finish <> ''),
  size_step INTEGER NOT NULL,
  PRIMARY KEY (rig_id, shoot_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX rig_yes_by_time ON rig_answer (rig_id, answered_at, shoot_id) WHERE is_yes = 1;
CREATE INDEX rig_yes_alike ON rig_answer (rig_id, finish, size_step, answered_at) WHERE is_yes = 1;
CREATE INDEX rig_answer_of_spin ON rig_answer (shoot_id);
CREATE VIEW rig_approval AS SELECT rig_id, shoot_id, take_id, answered_at FROM rig_answer WHERE is_yes = 1;

-- The same, counted by finish and size.
CREATE TABLE rig_evidence (
  rig_id INTEGER NOT NULL REFERENCES rig (id),
  finish TEXT NOT NULL CHECK (finish <> ''),
  size_step INTEGER NOT NULL,
  answered INTEGER NOT NULL CHECK (answered >= 0),
  approved INTEGER NOT NULL CHECK (approved >= 0),
  last_yes_at TEXT CHECK (last_yes_at = strftime('%Y-%m-%dT%H:%M:%fZ', last_yes_at)),
  PRIMARY KEY (rig_id, finish, size_step),
  CHECK (approved <= answered)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER rig_evidence_counts_an_answer AFTER INSERT ON rig_answer BEGIN
  INSERT INTO rig_evidence (rig_id, finish, size_step, answered, approved, last_yes_at)
  VALUES (NEW.rig_id, NEW.finish, NEW.size_step, 1, NEW.is_yes, CASE NEW.is_yes WHEN 1 THEN NEW.answered_at END)
  ON CONFLICT DO UPDATE SET answered = answered + 1, approved = approved + excluded.approved,
    last_yes_at = CASE WHEN excluded.last_yes_at > ifnull(last_yes_at, '') THEN excluded.last_yes_at ELSE last_yes_at END;
END;
CREATE TRIGGER rig_evidence_drops_an_answer AFTER DELETE ON rig_answer BEGIN
  UPDATE rig_evidence SET answered = answered - 1, approved = approved - OLD.is_yes,
    last_yes_at = (SELECT max(answered_at) FROM rig_answer WHERE rig_id = OLD.rig_id AND finish = OLD.finish
      AND size_step = OLD.size_step AND is_yes = 1)
  WHERE rig_id = OLD.rig_id AND finish = OLD.finish AND size_step = OLD.size_step;
END;

-- A spin put into this view is worked out anew.
CREATE VIEW rig_answer_anew AS SELECT id AS shoot_id FROM shoot;
CREATE TRIGGER rig_answers_of_a_spin INSTEAD OF INSERT ON rig_answer_anew BEGIN
  DELETE FROM rig_answer WHERE shoot_id = NEW.shoot_id;
  INSERT INTO rig_answer (rig_id, shoot_id, take_id, is_yes, answered_at, finish, size_step)
  SELECT v.rig_id, NEW.shoot_id,
    ifnull(max(CASE said.is_yes WHEN 1 THEN t.id END), max(t.id)), max(said.is_yes),
    ifnull(max(CASE said.is_yes WHEN 1 THEN said.answered_at END), max(said.answered_at)),
    product.finish, product.size_step
  FROM (
    SELECT p.take_id, 1 AS is_yes, a.answered_at FROM answer a
      JOIN pick p ON p.shoot_id = a.shoot_id AND p.deliverable_id = a.deliverable_id AND p.withdrawn_at IS NULL
      WHERE a.shoot_id = NEW.shoot_id AND a.verdict = 'yes' AND a.withdrawn_at IS NULL
    UNION ALL
    SELECT c.take_id, 0, a.answered_at FROM answer a JOIN change_take c ON c.answer_id = a.id
      WHERE a.shoot_id = NEW.shoot_id AND a.withdrawn_at IS NULL AND a.cause IN ('ours', 'client''s wish')
  ) said JOIN take t ON t.id = said.take_id JOIN rig_revision v ON v.id = t.rig_revision_id
    JOIN product ON product.id = (SELECT product_id FROM shoot_product WHERE shoot_id = NEW.shoot_id
      ORDER BY position, product_id LIMIT 1)
  GROUP BY v.rig_id;
END;
CREATE TRIGGER answer_is_about_what_is_picked AFTER INSERT ON answer BEGIN
  INSERT INTO change_take SELECT DISTINCT NEW.id, p.take_id FROM pick p WHERE p.shoot_id = NEW.shoot_id
    AND p.deliverable_id = NEW.deliverable_id AND p.withdrawn_at IS NULL AND NEW.verdict = 'change';
  INSERT INTO rig_answer_anew VALUES (NEW.shoot_id);
END;
CREATE TRIGGER rig_answer_after_changed_answer AFTER UPDATE OF withdrawn_at ON answer BEGIN
  INSERT INTO rig_answer_anew VALUES (NEW.shoot_id);
END;
CREATE TRIGGER rig_answer_after_changed_pick AFTER UPDATE OF withdrawn_at ON pick BEGIN
  INSERT INTO rig_answer_anew VALUES (NEW.shoot_id);
END;
CREATE TRIGGER rig_answer_after_pick AFTER INSERT ON pick
WHEN EXISTS (SELECT 1 FROM answer a WHERE a.shoot_id = NEW.shoot_id AND a.verdict = 'yes' AND a.withdrawn_at IS NULL)
BEGIN
  INSERT INTO rig_answer_anew VALUES (NEW.shoot_id);
END;
CREATE TRIGGER rig_answer_after_changed_product AFTER UPDATE ON product
WHEN NEW.finish <> OLD.finish OR NEW.size_step <> OLD.size_step
BEGIN
  INSERT INTO rig_answer_anew SELECT shoot_id FROM shoot_product WHERE product_id = NEW.id
    AND EXISTS (SELECT 1 FROM rig_answer r WHERE r.shoot_id = shoot_product.shoot_id);
END;

-- Faults of each kind on each rig, counted as they are written down.
CREATE TABLE rig_fault (
  rig_id INTEGER NOT NULL REFERENCES rig (id),
  kind TEXT NOT NULL CHECK (kind <> ''),
  faults INTEGER NOT NULL CHECK (faults >= 0),
  PRIMARY KEY (rig_id, kind)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER rig_fault_counts_a_fault AFTER INSERT ON take_fault BEGIN
  INSERT INTO rig_fault SELECT v.rig_id, NEW.kind, 1 FROM take t JOIN rig_revision v ON v.id = t.rig_revision_id
    WHERE t.id = NEW.take_id ON CONFLICT DO UPDATE SET faults = faults + 1;
END;
CREATE TRIGGER rig_fault_drops_a_fault AFTER DELETE ON take_fault BEGIN
  UPDATE rig_fault SET faults = faults - 1 WHERE kind = OLD.kind AND rig_id = (SELECT v.rig_id FROM take t
    JOIN rig_revision v ON v.id = t.rig_revision_id WHERE t.id = OLD.take_id);
END;
CREATE TRIGGER take_fault_keeps_its_kind BEFORE UPDATE OF take_id, kind ON take_fault
BEGIN SELECT raise(ABORT, 'a fault is taken back and written down anew'); END;

CREATE TABLE finishing_batch (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  finish_class_id INTEGER NOT NULL REFERENCES finish_class (id),
  frames INTEGER NOT NULL CHECK (frames >= 1),
  supplier TEXT,
  price_minor INTEGER CHECK (price_minor >= 0),
  sent_at TEXT NOT NULL CHECK (sent_at = strftime('%Y-%m-%dT%H:%M:%fZ', sent_at)),
  back_at TEXT CHECK (back_at = strftime('%Y-%m-%dT%H:%M:%fZ', back_at)),
  CHECK (back_at IS NULL OR back_at >= sent_at)
) STRICT;
CREATE INDEX finishing_batch_by_job ON finishing_batch (job_id);

CREATE TABLE finishing_batch_shoot (
  finishing_batch_id INTEGER NOT NULL REFERENCES finishing_batch (id) ON DELETE CASCADE,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  PRIMARY KEY (finishing_batch_id, shoot_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE delivery (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES job (id),
  number TEXT UNIQUE,
  way TEXT NOT NULL CHECK (way <> ''),
  contact_id INTEGER REFERENCES contact (id),
  note TEXT,
  prepared_at TEXT NOT NULL CHECK (prepared_at = strftime('%Y-%m-%dT%H:%M:%fZ', prepared_at)),
  sent_at TEXT CHECK (sent_at = strftime('%Y-%m-%dT%H:%M:%fZ', sent_at)),
  list_id INTEGER REFERENCES attachment (id),
  note_paper_id INTEGER REFERENCES attachment (id),
  CHECK ((sent_at IS NULL) = (number IS NULL))
) STRICT;
CREATE INDEX delivery_by_job ON delivery (job_id);
CREATE TRIGGER delivery_sent_stays BEFORE UPDATE ON delivery
WHEN OLD.sent_at IS NOT NULL AND (NEW.sent_at IS NOT OLD.sent_at OR NEW.number IS NOT OLD.number OR NEW.job_id <> OLD.job_id)
BEGIN SELECT raise(ABORT, 'a delivery that was sent stays as it was'); END;

-- What a delivery hands over: a spin's deliverable, and its files where they were read.
CREATE TABLE delivery_item (
  delivery_id INTEGER NOT NULL REFERENCES delivery (id) ON DELETE CASCADE,
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  deliverable_id INTEGER NOT NULL REFERENCES deliverable (id),
  PRIMARY KEY (delivery_id, shoot_id, deliverable_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX delivery_item_by_deliverable ON delivery_item (deliverable_id);
CREATE INDEX delivery_item_by_shoot ON delivery_item (shoot_id, deliverable_id);
CREATE TRIGGER delivery_item_of_a_sent_delivery BEFORE INSERT ON delivery_item
WHEN (SELECT sent_at FROM delivery WHERE id = NEW.delivery_id) IS NOT NULL
BEGIN SELECT raise(ABORT, 'a delivery that was sent stays as it was'); END;
CREATE TRIGGER delivery_item_never_moves BEFORE UPDATE ON delivery_item
BEGIN SELECT raise(ABORT, 'a delivery names what it hands over once; prepare another delivery'); END;
CREATE TRIGGER delivery_item_stays BEFORE DELETE ON delivery_item
WHEN (SELECT sent_at FROM delivery WHERE id = OLD.delivery_id) IS NOT NULL
BEGIN SELECT raise(ABORT, 'a delivery that was sent stays as it was'); END;
CREATE TRIGGER delivery_sent_is_never_deleted BEFORE DELETE ON delivery WHEN OLD.sent_at IS NOT NULL
BEGIN SELECT raise(ABORT, 'a delivery that was sent stays as it was'); END;

CREATE TABLE delivery_file (
  delivery_id INTEGER NOT NULL REFERENCES delivery (id) ON DELETE CASCADE,
  name TEXT NOT NULL CHECK (name <> '' AND name NOT LIKE '%..%' AND name NOT LIKE '/%'),
  shoot_id INTEGER NOT NULL REFERENCES shoot (id),
  deliverable_id INTEGER NOT NULL REFERENCES deliverable (id),
  frame INTEGER CHECK (frame >= 1),
  bytes INTEGER CHECK (bytes >= 0),
  sha256 TEXT CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  PRIMARY KEY (delivery_id, name),
  CHECK ((bytes IS NULL) = (sha256 IS NULL))
) STRICT, WITHOUT ROWID;
CREATE INDEX delivery_file_by_deliverable ON delivery_file (deliverable_id);
CREATE TRIGGER delivery_file_of_a_sent_delivery BEFORE INSERT ON delivery_file
WHEN (SELECT sent_at FROM delivery WHERE id = NEW.delivery_id) IS NOT NULL
BEGIN SELECT raise(ABORT, 'a delivery that was sent stays as it was'); END;
CREATE TRIGGER delivery_file_stays BEFORE UPDATE ON delivery_file
WHEN (SELECT sent_at FROM delivery WHERE id = OLD.delivery_id) IS NOT NULL
BEGIN SELECT raise(ABORT, 'a delivery that was sent stays as it was'); END;
CREATE TRIGGER delivery_file_is_never_deleted BEFORE DELETE ON delivery_file
WHEN (SELECT sent_at FROM delivery WHERE id = OLD.delivery_id) IS NOT NULL
BEGIN SELECT raise(ABORT, 'a delivery that was sent stays as it was'); END;

CREATE TABLE drive (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  kind TEXT NOT NULL CHECK (kind IN ('card', 'disk', 'server', 'archive')),
  place TEXT,
  gone_at TEXT CHECK (gone_at = strftime('%Y-%m-%dT%H:%M:%fZ', gone_at))
) STRICT;

CREATE TABLE take_copy (
  take_id INTEGER NOT NULL REFERENCES take (id),
  drive_id INTEGER NOT NULL REFERENCES drive (id),
  folder TEXT NOT NULL CHECK (folder <> ''),
  bytes INTEGER CHECK (bytes >= 0),
  verified_at TEXT CHECK (verified_at = strftime('%Y-%m-%dT%H:%M:%fZ', verified_at)),
  gone_at TEXT CHECK (gone_at = strftime('%Y-%m-%dT%H:%M:%fZ', gone_at)),
  PRIMARY KEY (take_id, drive_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX take_copy_by_drive ON take_copy (drive_id);
