package main

import (
	"bytes"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/record"
)

// shelves are how many rows the merge is measured with.
var shelves = []int{100_000, 1_000_000}

// courses are rows of many pieces with many courses each, from some index on.
func courses(tb testing.TB, from, to int) (rows []record.Row) {
	hand := schedule.DerivedID("hand", "test")
	for i := from; i < to; i++ {
		at := time.Date(2024, 3, 5, 18, 0, 0, 0, time.UTC).Add(time.Duration(i) * time.Second)
		e := schedule.Entry{ID: schedule.DerivedID(fmt.Sprint("entry ", i), "test"), At: at, Written: at, Bench: hand, Hand: hand,
			Piece: schedule.DerivedID(fmt.Sprint("piece ", i/50), "test"), Body: schedule.Pass{Process: coldwork.Lengthen, Count: 1,
				Reading: schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: 7, Width: 8}}}}
		row, err := schedule.Encode(e)
		require.NoError(tb, err)
		rows = append(rows, record.Row(row))
	}
	return rows
}

// recordOf makes a record of rows and labels.
func recordOf(tb testing.TB, labels []record.Label, rows ...record.Row) string {
	path := filepath.Join(tb.TempDir(), "record.db")
	r, err := record.Open(path)
	require.NoError(tb, err)
	require.NoError(tb, r.AppendNamed(labels, rows...))
	require.NoError(tb, r.Close())
	return path
}

// ran runs a command on a record and gives what it printed.
func ran(tb testing.TB, path string, args ...string) string {
	var out, errOut bytes.Buffer
	home := tb.TempDir()
	getenv := func(name string) string { return map[string]string{"HOME": home}[name] }
	code := run(append(args, "--record", path), &out, &errOut, getenv)
	require.Equal(tb, exitOK, code, errOut.String())
	return out.String()
}

// Labels that no command would make come through text and back as they were.
func TestExportOfHostileNames(t *testing.T) {
	row := courses(t, 0, 1)
	for _, text := range []string{"two\nlines", "\u202ekcab", "zero\u200bwidth", `"quoted" <b>&`, "\x1b[31mred", "\u2028", string(bytes.Repeat([]byte("a"), 10_000)), "\x00"} {
		path := recordOf(t, []record.Label{{ID: row[0].Piece, Class: record.PieceClass, Text: text}}, row...)
		once := ran(t, path, "export")
		file, fresh := filepath.Join(t.TempDir(), "out.jsonl"), filepath.Join(t.TempDir(), "fresh.db")
		said := ran(t, path, "export", file)
		said += ran(t, fresh, "import", file)
		require.Equal(t, once, ran(t, fresh, "export"), "%.20q", text)
		other := recordOf(t, []record.Label{{ID: row[0].Hand, Class: record.PieceClass, Text: text}})
		said += ran(t, other, "import", file)
		require.Contains(t, said, "renamed")
		require.Less(t, len(said), 1000, "what is printed is cut")
		require.NotRegexp(t, "[\x00\x1b\u202e\u200b\u2028]", said)
	}
}

// Two records that have half of their entries in common, merged either way.
func TestMergeOfHalves(t *testing.T) {
	rows := courses(t, 0, 300)
	a, b := recordOf(t, nil, rows[:200]...), recordOf(t, nil, rows[100:]...)
	whole := ran(t, recordOf(t, nil, rows...), "export")
	require.Contains(t, ran(t, a, "merge", b), "new       entries 100, names 0\nknown     entries 100\n")
	require.Equal(t, whole, ran(t, a, "export"))
	ran(t, b, "merge", a)
	require.Equal(t, whole, ran(t, b, "export"))
	require.Contains(t, ran(t, b, "merge", a), "new       entries 0, names 0\nknown     entries 300\n")
}

// refused runs a command on a record and gives what it said in refusing.
func refused(tb testing.TB, path string, args ...string) string {
	var out, errOut bytes.Buffer
	code := run(append(args, "--record", path), &out, &errOut, func(string) string { return "" })
	require.Equal(tb, exitRefused, code, out.String())
	require.Empty(tb, out.String())
	return errOut.String()
}

// A key that completes a name, and a merge, leave the record that they read as it is.
func TestReadingAnotherWritesNothing(t *testing.T) {
	rows := courses(t, 0, 3)
	path := recordOf(t, []record.Label{{ID: rows[0].Piece, Class: record.PieceClass, Text: "spoon"}}, rows...)
	files := func() (seen []string) {
		found, err := os.ReadDir(filepath.Dir(path))
		require.NoError(t, err)
		for _, f := range found {
			info, err := f.Info()
			require.NoError(t, err)
			seen = append(seen, fmt.Sprint(f.Name(), info.Size(), info.ModTime().UnixNano()))
		}
		return seen
	}
	t.Setenv("TMPDIR", t.TempDir())
	before := files()
	require.Contains(t, ran(t, filepath.Join(t.TempDir(), "here.db"), "merge", path), "entries 3")
	var out, errOut bytes.Buffer
	require.Equal(t, exitOK, run([]string{"--record", path, "__complete", "pass", "sp"}, &out, &errOut, func(string) string { return "" }), errOut.String())
	require.Contains(t, out.String(), "spoon\n")
	require.Equal(t, before, files())
	left, err := os.ReadDir(os.TempDir())
	require.NoError(t, err)
	require.Empty(t, left)
}

// One id with other content is refused, by its line in a file, and nothing of the rest
// comes in.
func TestJoiningRefusesAConflict(t *testing.T) {
	rows := courses(t, 0, 10)
	other := append([]record.Row{}, rows...)
	other[4].Thick = 6
	a, b := recordOf(t, nil, rows[4]), recordOf(t, nil, other...)
	before := ran(t, a, "export")
	said := refused(t, a, "merge", b)
	require.Contains(t, said, "the entry "+rows[4].ID+" is known here with other content; nothing was recorded; one of the two was changed by hand")
	file := filepath.Join(t.TempDir(), "b.jsonl")
	ran(t, b, "export", file)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	line := 1 + strings.Count(string(text[:bytes.Index(text, []byte(rows[4].ID))]), "\n")
	for _, args := range [][]string{{"import", file}, {"import", file, "--dry-run"}} {
		require.Contains(t, refused(t, a, args...), fmt.Sprintf("line %d: the entry %s is known here", line, rows[4].ID))
	}
	require.Equal(t, before, ran(t, a, "export"), "nothing came in")
}

// A piece that is started on two benches under one id gets no advice; that is said.
func TestMergeShowsAPieceStartedTwice(t *testing.T) {
	started := func(n int) record.Row {
		e := schedule.Entry{ID: schedule.DerivedID(fmt.Sprint("start ", n), "test"), At: time.Unix(1_709_600_000, 0), Written: time.Unix(1_709_600_000, 0),
			Bench: schedule.DerivedID("bench", "test"), Hand: schedule.DerivedID("hand", "test"), Piece: schedule.DerivedID("piece", "test"),
			Body: schedule.Started{Alloy: "AG925", Calliper: 0.1, Reading: schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: 8, Width: 8}}}}
		row, err := schedule.Encode(e)
		require.NoError(t, err)
		return record.Row(row)
	}
	one, two := started(1), started(2)
	a, b := recordOf(t, nil, one), recordOf(t, nil, two)
	said := strings.Join(strings.Fields(ran(t, a, "merge", b)), " ")
	require.Contains(t, said, "mind a piece is started 2 times and gets no advice: void all but one with dullred void ID: ")
	require.Contains(t, said, one.ID[28:])
	require.Contains(t, said, two.ID[28:])
	ran(t, a, "void", two.ID)
	require.NotContains(t, ran(t, a, "merge", b), "mind")
}

// A row of a kind to come goes through text and union as it is.
func TestExportOfAKindToCome(t *testing.T) {
	rows := courses(t, 0, 2)
	rows[1].Kind, rows[1].Version, rows[1].Body = "glazed", 7, `{"colour": "blue", "fired":[1, 2.50]}`
	a := recordOf(t, nil, rows...)
	text, file := ran(t, a, "export"), filepath.Join(t.TempDir(), "a.jsonl")
	ran(t, a, "export", file)
	for _, from := range [][]string{{"import", file}, {"merge", a}} {
		fresh := recordOf(t, nil)
		ran(t, fresh, from...)
		require.Equal(t, text, ran(t, fresh, "export"), from[0])
	}
}

// What is damaged is named, and the sound piece beside it still goes out.
func TestExportOfADamagedEntry(t *testing.T) {
	rows := courses(t, 49, 51)
	rows[0].Body = `{"word":1}`
	path := recordOf(t, []record.Label{{ID: rows[1].Piece, Class: record.PieceClass, Text: "sound"}}, rows...)
	var out, errOut bytes.Buffer
	require.Equal(t, exitRecord, run([]string{"export", "--record", path}, &out, &errOut, func(string) string { return "" }))
	require.Empty(t, out.String())
	require.Contains(t, errOut.String(), rows[0].ID)
	require.Contains(t, errOut.String(), "nothing was exported; dullred record check names what is damaged")
	require.Contains(t, ran(t, path, "export", "--piece", "sound"), rows[1].ID)
}

// BenchmarkMerge merges rows into an empty record, from file to file.
func BenchmarkMerge(b *testing.B) {
	onShelves(b, func(path, other string) { ran(b, path, "merge", other) })
}

// BenchmarkInsertOrIgnore is what SQLite takes for the same by itself, with the tables,
// indexes and triggers of the record and nothing checked.
func BenchmarkInsertOrIgnore(b *testing.B) {
	onShelves(b, func(path, other string) { insertOrIgnore(b, path, other) })
}

// onShelves measures what joins another record of so many rows to an empty one.
func onShelves(b *testing.B, join func(path, other string)) {
	for _, n := range shelves {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			other := recordOf(b, nil, courses(b, 0, n)...)
			for b.Loop() {
				b.StopTimer()
				path := recordOf(b, nil)
				b.StartTimer()
				join(path, other)
			}
		})
	}
}

func insertOrIgnore(b *testing.B, path, other string) {
	db, err := sql.Open("sqlite", path)
	require.NoError(b, err)
	db.SetMaxOpenConns(1)
	_, err = db.Exec(`ATTACH ? AS other`, other)
	require.NoError(b, err)
	_, err = db.Exec(`INSERT OR IGNORE INTO entry SELECT * FROM other.entry`)
	require.NoError(b, err)
	require.NoError(b, db.Close())
}
