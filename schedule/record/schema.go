package record

import (
	"database/sql"
	"fmt"
)

// application marks our files among SQLite databases: "dulr" in the
// application_id of the header.
const application = 0x64756c72

// migrations brings a record up to date: step n takes version n to n+1. A step
// that has been released is never changed.
var migrations = []string{version1, version2}

// version1 makes an empty file a record.
//
// The entries are stored in the order of their ids without a hidden row number,
// which saves a second tree: an append then touches three pages, the last one
// of the table and one in each index. Ids stay text, so that any SQLite tool
// shows them as they are printed. Every index ends in the id, so both give
// their entries in the order (at, id) without sorting.
const version1 = `
CREATE TABLE entry (
	id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
	at       INTEGER NOT NULL,
	written  INTEGER NOT NULL,
	bench    TEXT NOT NULL,
	hand     TEXT NOT NULL,
	piece    TEXT NOT NULL,
	zones    TEXT NOT NULL,
	kind     TEXT NOT NULL,
	version  INTEGER NOT NULL,
	process  TEXT NOT NULL,
	count    INTEGER,
	shape    TEXT NOT NULL,
	thick    REAL,
	width    REAL,
	diameter REAL,
	ring     REAL,
	length   REAL,
	temp     REAL,
	body     TEXT NOT NULL CHECK (body = '' OR json_valid(body))
) STRICT, WITHOUT ROWID;

CREATE INDEX entry_piece ON entry (piece, at, id);
CREATE INDEX entry_hand ON entry (hand, at, id);

CREATE TRIGGER entry_update BEFORE UPDATE ON entry
BEGIN
	SELECT raise(ABORT, 'entries are never changed');
END;

CREATE TRIGGER entry_delete BEFORE DELETE ON entry
BEGIN
	SELECT raise(ABORT, 'entries are never deleted');
END;

CREATE TRIGGER entry_insert BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id)
BEGIN
	SELECT CASE WHEN
		(at, written, bench, hand, piece, zones, kind, version, process,
			count, shape, thick, width, diameter, ring, length, temp, body)
		IS (NEW.at, NEW.written, NEW.bench, NEW.hand, NEW.piece, NEW.zones, NEW.kind, NEW.version, NEW.process,
			NEW.count, NEW.shape, NEW.thick, NEW.width, NEW.diameter, NEW.ring, NEW.length, NEW.temp, NEW.body)
		THEN raise(IGNORE)
		ELSE raise(ABORT, 'the id is known with other content')
	END FROM entry WHERE id = NEW.id;
END;

CREATE TABLE label (
	id     TEXT NOT NULL PRIMARY KEY,
	class  TEXT NOT NULL CHECK (class IN ('piece', 'hand', 'bench')),
	text   TEXT NOT NULL CHECK (text <> ''),
	folded TEXT NOT NULL,
	UNIQUE (class, folded)
) STRICT, WITHOUT ROWID;
`

// version2 lets entries be found by their kind and by what is said in them.
//
// Both indexes leave out what a bench logs most, the steps of work and of a heat, so
// that appending one of those costs what it did: it touches no page of them. A kind
// that is in entry_kind costs one page more. entry_said holds the bodies themselves,
// in the order of the entries, and all that is asked of an entry whose text is looked
// for: going through it is quicker than an index of words, and finds parts of words.
// In it are the few steps that name a tool or a torch; not in it are advice, and
// curves, which nobody typed.
const version2 = `
CREATE INDEX entry_kind ON entry (kind, at, id) WHERE ` + rare + `;

CREATE INDEX entry_said ON entry (at, id, kind, piece, hand, body) WHERE ` + said + `;
`

// rare and said are the entries in the two indexes. A query that goes by one of them
// must ask for it in the same words.
const (
	rare = `CASE kind
		WHEN 'pass' THEN 0 WHEN 'advice shown' THEN 0 WHEN 'heat begun' THEN 0
		WHEN 'heat reached' THEN 0 WHEN 'heat out' THEN 0 WHEN 'quenched' THEN 0 ELSE 1 END`
	said = `CASE kind WHEN 'advice shown' THEN 0 WHEN 'probe trace' THEN 0 ELSE body <> '' END`
)

// frequent are the kinds that are not rare.
var frequent = []string{"pass", "advice shown", "heat begun", "heat reached", "heat out", "quenched"}

// migrate brings the file to the version len(steps) in one transaction. When a
// step fails the file keeps the version it had.
func (r *Record) migrate(steps []string) error {
	version, err := vetObjects(r.pen, steps)
	if err != nil || version == len(steps) {
		return err
	}
	tx, err := r.pen.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := climb(tx, steps); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	// The version must stand in the header, where Open looks for it, not in the log.
	_, err = r.pen.Exec(`PRAGMA wal_checkpoint(TRUNCATE)`)
	return err
}

// climb applies the steps that the file still lacks. It looks again, since
// another program may have migrated before our transaction began.
func climb(tx *sql.Tx, steps []string) error {
	from, err := vetObjects(tx, steps)
	if err != nil {
		return err
	}
	for i := from; i < len(steps); i++ {
		if _, err := tx.Exec(steps[i]); err != nil {
			return fmt.Errorf("from version %d to %d: %w (%v)", i, i+1, plain(err), err)
		}
	}
	_, err = tx.Exec(fmt.Sprintf(`PRAGMA application_id = %d; PRAGMA user_version = %d`, application, len(steps)))
	return err
}
