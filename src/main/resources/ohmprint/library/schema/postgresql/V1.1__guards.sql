-- The same guards as on SQLite; who may do what besides is a matter of roles, which the owner of the database grants.

CREATE FUNCTION ohmprint_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '%', TG_ARGV[0] USING ERRCODE = 'integrity_constraint_violation';
END
$$;

CREATE FUNCTION ohmprint_removed_with_record() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM removal r WHERE r.id = OLD.id AND r.made_at >= OLD.added_at) THEN
        RAISE EXCEPTION 'a measurement is removed only with a record of the removal'
            USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END
$$;

CREATE FUNCTION ohmprint_removed_as_a_whole() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM measurement m WHERE m.id = OLD.measurement) THEN
        RAISE EXCEPTION 'a measurement is removed as a whole or not at all'
            USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END
$$;

-- Whatever a program claims, the record of a removal names the one who was logged in.
CREATE FUNCTION ohmprint_name_the_keeper() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    NEW.made_by := session_user;
    RETURN NEW;
END
$$;

CREATE TRIGGER measurement_unchanged BEFORE UPDATE OR TRUNCATE ON measurement
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a measurement is never changed');

CREATE TRIGGER curve_document_unchanged BEFORE UPDATE OR TRUNCATE ON curve_document
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a measurement is never changed');

CREATE TRIGGER curve_shape_unchanged BEFORE UPDATE OR TRUNCATE ON curve_shape
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a measurement is never changed');

CREATE TRIGGER take_unchanged BEFORE UPDATE OR TRUNCATE ON take
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a measurement is never changed');

CREATE TRIGGER microphone_unchanged BEFORE UPDATE OR TRUNCATE ON microphone
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a microphone is never changed');

CREATE TRIGGER supersession_unchanged BEFORE UPDATE OR TRUNCATE ON supersession
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a link is never changed');

CREATE TRIGGER repair_unchanged BEFORE UPDATE OR TRUNCATE ON repair
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a link is never changed');

CREATE TRIGGER specification_unchanged BEFORE UPDATE OR TRUNCATE ON specification
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('a specification is never changed');

CREATE TRIGGER removal_unchanged BEFORE UPDATE OR TRUNCATE ON removal
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('the record of a removal is never changed');

CREATE TRIGGER measurement_removed_with_record BEFORE DELETE ON measurement
    FOR EACH ROW EXECUTE FUNCTION ohmprint_removed_with_record();

CREATE TRIGGER removal_kept BEFORE DELETE ON removal
    FOR EACH STATEMENT EXECUTE FUNCTION ohmprint_refuse('the record of a removal is kept');

CREATE TRIGGER removal_named BEFORE INSERT ON removal
    FOR EACH ROW EXECUTE FUNCTION ohmprint_name_the_keeper();

CREATE TRIGGER curve_document_kept BEFORE DELETE ON curve_document
    FOR EACH ROW EXECUTE FUNCTION ohmprint_removed_as_a_whole();

CREATE TRIGGER curve_shape_kept BEFORE DELETE ON curve_shape
    FOR EACH ROW EXECUTE FUNCTION ohmprint_removed_as_a_whole();

CREATE TRIGGER take_kept BEFORE DELETE ON take
    FOR EACH ROW EXECUTE FUNCTION ohmprint_removed_as_a_whole();
