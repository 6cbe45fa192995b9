-- The groups are those of the whole server; another database of it may have made them.
DO $$
DECLARE
	name text;
BEGIN
	FOREACH name IN ARRAY ARRAY['dullred_writer', 'dullred_reader', 'dullred_teacher'] LOOP
		BEGIN
			IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = name) THEN
				EXECUTE format('CREATE ROLE %I NOLOGIN', name);
			END IF;
		EXCEPTION WHEN duplicate_object OR unique_violation THEN
			NULL; -- made by another at this moment
		END;
	END LOOP;
END $$;

-- Nobody but the owner has a right to write to a table: the functions do it.
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA dullred FROM PUBLIC;
GRANT USAGE ON SCHEMA dullred TO dullred_writer, dullred_reader, dullred_teacher;
GRANT SELECT ON ALL TABLES IN SCHEMA dullred TO dullred_writer, dullred_reader, dullred_teacher;
GRANT EXECUTE ON FUNCTION dullred.claim, dullred.send TO dullred_writer;
GRANT EXECUTE ON FUNCTION dullred.release, dullred.forget TO dullred_teacher;
