-- What the tables must not let happen, whichever program writes to the file: a measurement is never changed, only
-- superseded; it is removed only where a record of the removal was written first; no record is changed or removed.
-- SQLite knows no roles: whoever may write to the file may do what a keeper may do, and leaves a record.

PRAGMA application_id = 1332243792;
PRAGMA user_version = 1;

-- All that a search by words reads, in the order in which results are listed.
CREATE INDEX measurement_search ON measurement (measured_at DESC, id, search_text);

CREATE TRIGGER measurement_unchanged BEFORE UPDATE ON measurement
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never changed');
END;

CREATE TRIGGER curve_document_unchanged BEFORE UPDATE ON curve_document
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never changed');
END;

CREATE TRIGGER curve_shape_unchanged BEFORE UPDATE ON curve_shape
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never changed');
END;

CREATE TRIGGER take_unchanged BEFORE UPDATE ON take
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never changed');
END;

CREATE TRIGGER microphone_unchanged BEFORE UPDATE ON microphone
BEGIN
    SELECT RAISE(ABORT, 'a microphone is never changed');
END;

CREATE TRIGGER supersession_unchanged BEFORE UPDATE ON supersession
BEGIN
    SELECT RAISE(ABORT, 'a link is never changed');
END;

CREATE TRIGGER repair_unchanged BEFORE UPDATE ON repair
BEGIN
    SELECT RAISE(ABORT, 'a link is never changed');
END;

CREATE TRIGGER specification_unchanged BEFORE UPDATE ON specification
BEGIN
    SELECT RAISE(ABORT, 'a specification is never changed');
END;

CREATE TRIGGER removal_unchanged BEFORE UPDATE ON removal
BEGIN
    SELECT RAISE(ABORT, 'the record of a removal is never changed');
END;

CREATE TRIGGER measurement_not_replaced BEFORE INSERT ON measurement
WHEN EXISTS (SELECT 1 FROM measurement m WHERE m.id = NEW.id OR m.sha256 = NEW.sha256)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never replaced');
END;

CREATE TRIGGER measurement_removed_with_record BEFORE DELETE ON measurement
WHEN NOT EXISTS (SELECT 1 FROM removal r WHERE r.id = OLD.id AND r.made_at >= OLD.added_at)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is removed only with a record of the removal');
END;

CREATE TRIGGER removal_kept BEFORE DELETE ON removal
BEGIN
    SELECT RAISE(ABORT, 'the record of a removal is kept');
END;

CREATE TRIGGER curve_document_not_replaced BEFORE INSERT ON curve_document
WHEN EXISTS (SELECT 1 FROM curve_document p WHERE p.measurement = NEW.measurement)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never replaced');
END;

CREATE TRIGGER curve_document_kept BEFORE DELETE ON curve_document
WHEN EXISTS (SELECT 1 FROM measurement m WHERE m.id = OLD.measurement)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is removed as a whole or not at all');
END;

CREATE TRIGGER curve_shape_not_replaced BEFORE INSERT ON curve_shape
WHEN EXISTS (SELECT 1 FROM curve_shape p WHERE p.measurement = NEW.measurement)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never replaced');
END;

CREATE TRIGGER curve_shape_kept BEFORE DELETE ON curve_shape
WHEN EXISTS (SELECT 1 FROM measurement m WHERE m.id = OLD.measurement)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is removed as a whole or not at all');
END;

CREATE TRIGGER take_not_replaced BEFORE INSERT ON take
WHEN EXISTS (SELECT 1 FROM take p WHERE p.measurement = NEW.measurement AND p.place = NEW.place)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is never replaced');
END;

CREATE TRIGGER take_kept BEFORE DELETE ON take
WHEN EXISTS (SELECT 1 FROM measurement m WHERE m.id = OLD.measurement)
BEGIN
    SELECT RAISE(ABORT, 'a measurement is removed as a whole or not at all');
END;
