package record

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCheckCounts(t *testing.T) {
	r := openNew(t)
	report, err := r.Check()
	require.NoError(t, err)
	require.Equal(t, Report{}, report)

	rows := samples(5)
	rows[0].Piece, rows[1].Piece = cup, ""
	labels := []Label{{ID: bowl, Class: PieceClass, Text: "Practice Bowl"}, {ID: hand, Class: HandClass, Text: "smith"}}
	require.NoError(t, r.AppendNamed(labels, rows...))
	report, err = r.Check()
	require.NoError(t, err)
	require.Equal(t, Report{Entries: 5, Pieces: 2, Labels: 2}, report)
}

// An ANALYZE by some other tool changes nothing that counts.
func TestCheckKnowsStatistics(t *testing.T) {
	path := closed(t, samples(5)...)
	execute(`ANALYZE`)(t, path)
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	_, err = r.Check()
	require.NoError(t, err)
}

// doctor changes the record behind the back of a program that has it open,
// with every guard of SQLite off.
func doctor(t *testing.T, path, statements string) {
	t.Helper()
	db := raw(t, path)
	db.SetMaxOpenConns(1)
	_, err := db.Exec(`PRAGMA writable_schema = ON; PRAGMA ignore_check_constraints = ON; ` + statements)
	require.NoError(t, err)
}

func TestCheckFinds(t *testing.T) {
	tests := []struct{ name, reason, statements, want string }{
		{"trigger more", "it may rewrite what is appended", `CREATE TRIGGER late AFTER INSERT ON label BEGIN DELETE FROM label; END`,
			`the trigger "late" is not one of its own`},
		{"trigger less", "entries could be deleted", `DROP TRIGGER entry_delete`, `the trigger "entry_delete" is missing`},
		{"trigger changed", "the name is the same", `DROP TRIGGER entry_delete; CREATE TRIGGER entry_delete BEFORE DELETE ON entry BEGIN SELECT 1; END`,
			`the trigger "entry_delete" is not as it was made`},
		{"view more", "nothing of ours reads it", `CREATE VIEW late AS SELECT 1`, `the view "late" is not one of its own`},
		{"table more", "nothing of ours reads it", `CREATE TABLE late (id)`, `the table "late" is not one of its own`},
		{"column more", "entries of ours would lack it", `PRAGMA writable_schema = OFF; ALTER TABLE entry ADD COLUMN late TEXT`, `the table "entry" is not as it was made`},
		{"index less", "pieces would be read slowly", `DROP INDEX entry_piece`, `the index "entry_piece" is missing`},
		{"table for a view", "what is read would be reckoned, not stored", `DROP TABLE label; CREATE VIEW label AS SELECT '' id, '' class, '' text, '' folded`,
			`is not one of its own`},
		{"name with a command for the terminal", "names are quoted", `CREATE VIEW "` + "\x1b[2J" + `" AS SELECT 1`, `"\x1b[2J"`},
		{"body", "no JSON", `INSERT INTO entry SELECT '0197a000-0000-7000-8000-0000000000ff', at, written, bench, hand, piece, zones, kind, version,
			process, count, shape, thick, width, diameter, ring, length, temp, '{' FROM entry LIMIT 1`, `CHECK constraint failed`},
		{"infinite", "nothing measured is infinite", `INSERT INTO entry SELECT '0197a000-0000-7000-8000-0000000000ff', at, written, bench, hand, piece, zones, kind, version,
			process, count, shape, 9e999, width, diameter, ring, length, temp, body FROM entry LIMIT 1`, `+Inf is not a figure`},
		{"id of 36 characters", "the file lets it pass, we do not", `INSERT INTO entry SELECT 'XXXXXXXX-0000-7000-8000-0000000000ff', at, written, bench, hand, piece, zones, kind, version,
			process, count, shape, thick, width, diameter, ring, length, temp, body FROM entry LIMIT 1`, `is not a UUID`},
		{"class", "no list would show the label", `UPDATE label SET class = 'metal'`, `CHECK constraint failed`},
		{"folded text", "the piece could not be found by its name", `UPDATE label SET folded = 'BOWL'`, `the label "Practice Bowl" cannot be found by its text`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r, err := Open(closed(t, samples(3)...))
			require.NoError(t, err)
			defer r.Close()
			doctor(t, r.Path(), tt.statements)
			report, err := r.Check()
			require.ErrorIs(t, err, ErrDamaged, tt.reason)
			require.ErrorContains(t, err, tt.want)
			require.True(t, strings.HasPrefix(err.Error(), "check "+r.Path()+": "), err.Error())
			require.Equal(t, 1, strings.Count(err.Error(), r.Path()), "the file is named once: %v", err)
			require.NotContains(t, err.Error(), "\x1b")
			require.Zero(t, report)
		})
	}
}

// Entries of the wrong type cannot be stored in our tables, but the text of the
// schema can be put back after it was loosened.
func TestCheckFindsWrongTypes(t *testing.T) {
	tests := []struct{ name, reason, column, value string }{
		{"text for a time", "no such instant", "at", `'noon'`},
		{"fraction for a time", "times are whole microseconds", "at", `1.5`},
		{"null for a text", "a Row has no absent text", "piece", `NULL`},
		{"text for a figure", "reads as not a number", "thick", `'nan'`},
		{"huge text for a figure", "reads as infinite", "temp", `'1e999'`},
		{"bytes for a figure", "no figure", "ring", `x'00ff'`},
		{"figure for a count", "beyond what an integer holds", "count", `1e300`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			path := filepath.Join(t.TempDir(), "record.db")
			loose := loosened(t, path)
			_, err := loose.Exec(`INSERT INTO entry (id, at, written, bench, hand, piece, zones, kind, version, process, shape, body)
				VALUES (?, 1, 1, '', '', '', '', '', 1, '', '', '')`, newID())
			require.NoError(t, err)
			r, err := Open(path)
			require.NoError(t, err)
			defer r.Close()
			_, err = r.Check()
			require.NoError(t, err, "it is the value that is wrong")

			_, err = loose.Exec(`UPDATE entry SET ` + tt.column + ` = ` + tt.value)
			require.NoError(t, err)
			_, err = collect(r.All())
			require.ErrorIs(t, err, ErrDamaged, tt.reason)
			_, err = r.Check()
			require.ErrorIs(t, err, ErrDamaged, tt.reason)
		})
	}
}
