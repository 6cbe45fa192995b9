-- What is made here is never changed once it has been released; what is to be otherwise
-- comes with a further step.

CREATE SCHEMA dullred;

-- One row: the number of the last step, and by which id this record is told from others.
CREATE TABLE dullred.version (
	one    boolean PRIMARY KEY DEFAULT true CHECK (one),
	n      integer NOT NULL,
	record uuid NOT NULL DEFAULT gen_random_uuid()
);
INSERT INTO dullred.version (n) VALUES (0);

-- One row: the last place in the line, and the sum of all entries. Whoever stores
-- something locks it until the end of the transaction, so that places are given in the
-- order of the commits, and whoever has read up to a place misses nothing.
CREATE TABLE dullred.head (
	one    boolean PRIMARY KEY DEFAULT true CHECK (one),
	seq    bigint NOT NULL DEFAULT 0,
	count  bigint NOT NULL DEFAULT 0,
	digest bigint NOT NULL DEFAULT 0
);
INSERT INTO dullred.head DEFAULT VALUES;

-- Which role writes for which bench.
CREATE TABLE dullred.bench (
	id   uuid PRIMARY KEY,
	role name NOT NULL UNIQUE
);

-- The entries. Lengths are in mm, temp in °C, at and written in microseconds since 1970
-- UTC; a figure that is absent is NULL.
CREATE TABLE dullred.entry (
	seq      bigint NOT NULL UNIQUE,
	id       uuid NOT NULL PRIMARY KEY,
	at       bigint NOT NULL,
	written  bigint NOT NULL,
	bench    uuid NOT NULL,
	hand     uuid NOT NULL,
	piece    uuid NOT NULL,
	zones    text NOT NULL,
	kind     text NOT NULL,
	version  bigint NOT NULL,
	process  text NOT NULL,
	count    bigint,
	shape    text NOT NULL,
	thick    double precision,
	width    double precision,
	diameter double precision,
	ring     double precision,
	length   double precision,
	temp     double precision,
	body     text NOT NULL,
	digest   bigint NOT NULL
);
CREATE INDEX entry_piece ON dullred.entry (piece);

-- By piece, how many entries there are and the sum of their digests, modulo 2^64.
CREATE TABLE dullred.piece_sum (
	piece  uuid PRIMARY KEY,
	count  bigint NOT NULL,
	digest bigint NOT NULL
);

-- folded is the MD5 of the text without regard to case, since an index takes no text of
-- any length. owner is the bench that gave the label.
CREATE TABLE dullred.label (
	id     uuid PRIMARY KEY,
	class  text NOT NULL CHECK (class IN ('piece', 'hand', 'bench')),
	text   text NOT NULL CHECK (text <> ''),
	folded text NOT NULL,
	seq    bigint NOT NULL UNIQUE,
	owner  uuid NOT NULL,
	UNIQUE (class, folded)
);

-- Labels that were erased, and are not taken again.
CREATE TABLE dullred.forgotten (id uuid PRIMARY KEY);

CREATE FUNCTION dullred.refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
	RAISE EXCEPTION 'entries are never changed and never deleted' USING ERRCODE = 'DR002';
END $$;

CREATE TRIGGER entry_only_added BEFORE UPDATE OR DELETE OR TRUNCATE ON dullred.entry
	FOR EACH STATEMENT EXECUTE FUNCTION dullred.refuse();
ALTER TABLE dullred.entry ENABLE ALWAYS TRIGGER entry_only_added;
