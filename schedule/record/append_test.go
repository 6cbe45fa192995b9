package record

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	sqlite3 "modernc.org/sqlite/lib"
	"pgregory.net/rapid"
)

// What is stored comes back the same in every field, whatever it holds.
func TestRowComesBackUnchanged(t *testing.T) {
	r := openNew(t)
	text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "a\x00b", "\xff\xfe", "'; DROP TABLE entry; --", "\u202e"}))
	figure := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-1e300, 1e300))
	rapid.Check(t, func(rt *rapid.T) {
		row := Row{
			ID: newID(), At: rapid.Int64().Draw(rt, "at"), Written: rapid.Int64().Draw(rt, "written"),
			Bench: text.Draw(rt, "bench"), Hand: text.Draw(rt, "hand"), Piece: text.Draw(rt, "piece"),
			Zones: text.Draw(rt, "zones"), Kind: text.Draw(rt, "kind"), Version: rapid.Int64().Draw(rt, "version"),
			Process: text.Draw(rt, "process"), Count: rapid.Int64().Draw(rt, "count"), Shape: text.Draw(rt, "shape"),
			Thick: figure.Draw(rt, "thick"), Width: figure.Draw(rt, "width"), Diameter: figure.Draw(rt, "diameter"),
			Ring: figure.Draw(rt, "ring"), Length: figure.Draw(rt, "length"), Temp: figure.Draw(rt, "temp"),
			Body: rapid.SampledFrom([]string{"", "{}", `{"a":[1,2]}`, `"\u0000"`}).Draw(rt, "body"),
		}
		require.NoError(rt, r.Append(row))
		found, err := r.Find(row.ID, 2)
		require.NoError(rt, err)
		require.Equal(rt, []Row{row}, found)
		require.NoError(rt, r.Append(row), "the same row again is no conflict")
	})
}

func TestAbsentFiguresAreNull(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.Append(Row{ID: newID(), Kind: "note"}))
	var absent int
	require.NoError(t, raw(t, r.Path()).QueryRow(`SELECT count(*) FROM entry WHERE coalesce(
		count, thick, width, diameter, ring, length, temp) IS NULL`).Scan(&absent))
	require.Equal(t, 1, absent)
}

func TestAppendRefuses(t *testing.T) {
	tests := []struct {
		name, reason, want string
		change             func(*Row)
	}{
		{"not a number", "SQLite would store NaN as absent", "NaN is not a figure", func(r *Row) { r.Thick = math.NaN() }},
		{"infinite", "nothing measured is infinite", "+Inf is not a figure", func(r *Row) { r.Temp = math.Inf(1) }},
		{"no id", "an entry without an id cannot be told apart", `id "" is not a UUID`, func(r *Row) { r.ID = "" }},
		{"upper case", "one entry would have two ids", "in lower case", func(r *Row) { r.ID = strings.ToUpper(newID()[:35]) + "A" }},
		{"misplaced dash", "Find builds on the layout of an id", "is not a UUID", func(r *Row) { r.ID = "-" + newID()[1:] }},
		{"broken body", "a body is JSON or empty", "CHECK constraint failed", func(r *Row) { r.Body = `{"note":` }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r := openNew(t)
			row := sample()
			tt.change(&row)
			err := r.Append(sample(), row)
			require.ErrorContains(t, err, tt.want, tt.reason)
			require.ErrorContains(t, err, "append "+r.Path())
			require.Empty(t, all(t, r), "a refused row takes its fellows with it")
		})
	}
}

func TestAppendNothing(t *testing.T) {
	r := openNew(t)
	require.NoError(t, r.Append())
	require.Empty(t, all(t, r))
}

// Every column counts when a known id comes again.
func TestKnownIDWithOtherContent(t *testing.T) {
	changes := map[string]func(*Row){
		"at": func(r *Row) { r.At++ }, "written": func(r *Row) { r.Written++ }, "bench": func(r *Row) { r.Bench += "x" },
		"hand": func(r *Row) { r.Hand += "x" }, "piece": func(r *Row) { r.Piece += "x" }, "zones": func(r *Row) { r.Zones += "x" },
		"kind": func(r *Row) { r.Kind += "x" }, "version": func(r *Row) { r.Version++ }, "process": func(r *Row) { r.Process += "x" },
		"count": func(r *Row) { r.Count = 0 }, "shape": func(r *Row) { r.Shape += "x" }, "thick": func(r *Row) { r.Thick = 0 },
		"width": func(r *Row) { r.Width = 1 }, "diameter": func(r *Row) { r.Diameter++ }, "ring": func(r *Row) { r.Ring++ },
		"length": func(r *Row) { r.Length++ }, "temp": func(r *Row) { r.Temp = 1 }, "body": func(r *Row) { r.Body = "{}" },
	}
	require.Len(t, changes, len(strings.Split(columns, ","))-1, "one change for every column but the id")
	r := openNew(t)
	row := sample()
	require.NoError(t, r.Append(row))
	for name, change := range changes {
		other, fellow := row, sample()
		change(&other)
		require.NotEqual(t, row, other, name)
		err := r.Append(other)
		require.ErrorIs(t, err, ErrConflict, name)
		require.EqualError(t, err, fmt.Sprintf("append %s: entry %s: already recorded with other content", r.Path(), row.ID))
		require.ErrorIs(t, r.Append(fellow, other), ErrConflict, name)
	}
	require.Equal(t, []Row{row}, all(t, r))
}

// The triggers are in the file and hold for every program that writes to it.
func TestStrayStatements(t *testing.T) {
	const other = `VALUES (?, 1, 1, '', '', '', '', 'forged', 1, '', NULL, '', NULL, NULL, NULL, NULL, NULL, NULL, '')`
	tests := []struct{ name, reason, statement string }{
		{"update", "entries are never changed", `UPDATE entry SET kind = 'forged' WHERE id = ?`},
		{"update or replace", "the same by another name", `UPDATE OR REPLACE entry SET kind = 'forged' WHERE id = ?`},
		{"update or ignore", "raise(ABORT) is stronger than IGNORE", `UPDATE OR IGNORE entry SET kind = 'forged' WHERE id = ?`},
		{"delete", "entries are never deleted", `DELETE FROM entry WHERE id = ?`},
		{"delete everything", "SQLite has a short cut for this, not past a trigger", `DELETE FROM entry WHERE ? <> ''`},
		{"insert", "a known id stays what it is", `INSERT INTO entry (` + columns + `) ` + other},
		{"insert or replace", "would delete without asking the delete trigger", `INSERT OR REPLACE INTO entry (` + columns + `) ` + other},
		{"replace into", "the same by another name", `REPLACE INTO entry (` + columns + `) ` + other},
		{"upsert", "would update", `INSERT INTO entry (` + columns + `) ` + other + ` ON CONFLICT (id) DO UPDATE SET kind = 'forged'`},
	}
	r := openNew(t)
	rows := samples(2)
	require.NoError(t, r.Append(rows...))
	stray := raw(t, r.Path())
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			_, err := stray.Exec(tt.statement, rows[0].ID)
			require.ErrorContains(t, err, fmt.Sprintf("(%d)", sqlite3.SQLITE_CONSTRAINT_TRIGGER), tt.reason)
			require.Equal(t, rows, all(t, r))
		})
	}
}

// STRICT keeps values of the wrong type out, the CHECKs what is no id or no JSON.
func TestWrongTypes(t *testing.T) {
	tests := []struct{ name, reason, values string }{
		{"text for a time", "times are integers", `'0197a000-0000-7000-8000-000000000001', 'noon', 1, '', '', '', '', 'k', 1, '', NULL, '', NULL, NULL, NULL, NULL, NULL, NULL, ''`},
		{"text for a figure", "thickness is a real", `'0197a000-0000-7000-8000-000000000001', 1, 1, '', '', '', '', 'k', 1, '', NULL, '', 'thin', NULL, NULL, NULL, NULL, NULL, ''`},
		{"fraction for a count", "a count is an integer", `'0197a000-0000-7000-8000-000000000001', 1, 1, '', '', '', '', 'k', 1, '', 1.5, '', NULL, NULL, NULL, NULL, NULL, NULL, ''`},
		{"blob for a text", "texts are texts", `'0197a000-0000-7000-8000-000000000001', 1, 1, x'00', '', '', '', 'k', 1, '', NULL, '', NULL, NULL, NULL, NULL, NULL, NULL, ''`},
		{"no piece", "absent text is empty, not NULL", `'0197a000-0000-7000-8000-000000000001', 1, 1, '', '', NULL, '', 'k', 1, '', NULL, '', NULL, NULL, NULL, NULL, NULL, NULL, ''`},
		{"short id", "an id has 36 characters", `'0197a000', 1, 1, '', '', '', '', 'k', 1, '', NULL, '', NULL, NULL, NULL, NULL, NULL, NULL, ''`},
		{"body", "a body is JSON or empty", `'0197a000-0000-7000-8000-000000000001', 1, 1, '', '', '', '', 'k', 1, '', NULL, '', NULL, NULL, NULL, NULL, NULL, NULL, '{'`},
	}
	r := openNew(t)
	stray := raw(t, r.Path())
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			_, err := stray.Exec(`INSERT INTO entry (` + columns + `) VALUES (` + tt.values + `)`)
			require.ErrorContains(t, err, "constraint failed", tt.reason)
			require.Empty(t, all(t, r))
		})
	}
}

// A clock that was set back gives entries with earlier times and smaller ids
// than those before: they are stored as they are and take their place in time.
func TestClockSetBack(t *testing.T) {
	r := openNew(t)
	at := []int64{5000, 6000, 1000, 1000, 7000, -1}
	tails := []int{50, 60, 20, 10, 5, 70}
	rows := samples(len(at))
	for i := range rows {
		rows[i].ID = fmt.Sprintf("0197a000-0000-7000-8000-%012d", tails[i])
		rows[i].At, rows[i].Written = at[i], at[i]+1
		require.NoError(t, r.Append(rows[i]))
	}
	inOrder := []Row{rows[5], rows[3], rows[2], rows[0], rows[1], rows[4]}
	require.Equal(t, inOrder, all(t, r))
	found, err := r.Piece(bowl)
	require.NoError(t, err)
	require.Equal(t, inOrder, found)
	stored, err := collect(r.Stored())
	require.NoError(t, err)
	require.Equal(t, []Row{rows[4], rows[3], rows[2], rows[0], rows[1], rows[5]}, stored, "in the order of the ids")
}
