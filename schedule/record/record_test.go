package record

import (
	"database/sql"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
)

func openNew(tb testing.TB) *Record {
	tb.Helper()
	r, err := Open(filepath.Join(tb.TempDir(), "record.db"))
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, r.Close()) })
	return r
}

// closed makes a record with rows in a folder of its own and closes it.
func closed(tb testing.TB, rows ...Row) string {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "record.db")
	r, err := Open(path)
	require.NoError(tb, err)
	require.NoError(tb, r.AppendNamed([]Label{{ID: "p1", Class: PieceClass, Text: "Practice Bowl"}}, rows...))
	require.NoError(tb, r.Close())
	return path
}

// raw opens the file behind the package's back, as a stray script would.
func raw(tb testing.TB, path string) *sql.DB {
	tb.Helper()
	db, err := sql.Open("sqlite", path)
	require.NoError(tb, err)
	tb.Cleanup(func() { require.NoError(tb, db.Close()) })
	return db
}

// contents reads every file of a folder. No record in it may be open.
func contents(tb testing.TB, folder string) map[string]string {
	tb.Helper()
	files, err := os.ReadDir(folder)
	require.NoError(tb, err)
	all := map[string]string{}
	for _, file := range files {
		if file.IsDir() {
			all[file.Name()] = "folder"
			continue
		}
		bytes, err := os.ReadFile(filepath.Join(folder, file.Name()))
		require.NoError(tb, err)
		all[file.Name()] = string(bytes)
	}
	return all
}

func all(tb testing.TB, r *Record) []Row {
	tb.Helper()
	rows, err := collect(r.All())
	require.NoError(tb, err)
	return rows
}

// newID gives a UUIDv7 in lower case.
func newID() string { return uuid.Must(uuid.NewV7()).String() }

const (
	bowl = "0197a000-0000-7000-8000-0000000000c1"
	cup  = "0197a000-0000-7000-8000-0000000000c2"
	hand = "0197a000-0000-7000-8000-0000000000a1"
)

// sample is an entry of the size that a course of hammering has.
func sample() Row {
	return Row{
		ID: newID(), At: 1_750_000_000_000_000, Written: 1_750_000_060_000_000,
		Bench: "0197a000-0000-7000-8000-0000000000b1", Hand: hand, Piece: bowl, Zones: "rim\x1fshoulder",
		Kind: "work", Version: 1, Process: "raising", Count: 3, Shape: "sheet",
		Thick: 0.9, Diameter: 120, Ring: 80, Body: `{"note":"edge held"}`,
	}
}

func samples(n int) []Row {
	rows := make([]Row, n)
	for i := range rows {
		rows[i] = sample()
	}
	return rows
}

func TestCloseTwice(t *testing.T) {
	r, err := Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	require.NoError(t, r.Close())
	require.NoError(t, r.Close())
	require.Empty(t, opened.files, "a closed record must leave the list")
	require.ErrorContains(t, r.Append(sample()), "append "+r.Path())
}

func idsOf(rows []Row) []string {
	var ids []string
	for _, row := range rows {
		ids = append(ids, row.ID)
	}
	return ids
}
