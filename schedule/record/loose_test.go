package record

import (
	"database/sql"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// loosened makes a record and gives a connection through which anything can be
// stored in its tables. It made them itself, without types, checks and
// triggers, and has not read the schema again since our text was written over.
func loosened(tb testing.TB, path string) *sql.DB {
	tb.Helper()
	made, err := objectsMade(migrations)
	require.NoError(tb, err)
	db := raw(tb, path)
	db.SetMaxOpenConns(1)
	_, err = db.Exec(`PRAGMA application_id = 1685417074; PRAGMA user_version = 2;
		CREATE TABLE entry (` + strings.Replace(columns, "id,", "id PRIMARY KEY,", 1) + `) WITHOUT ROWID;
		CREATE INDEX entry_piece ON entry (piece, at, id);
		CREATE INDEX entry_hand ON entry (hand, at, id);` + version2 + `
		CREATE TABLE label (id PRIMARY KEY, class, text, folded, UNIQUE (class, folded)) WITHOUT ROWID;
		PRAGMA synchronous = OFF; PRAGMA journal_mode = WAL; PRAGMA writable_schema = ON`)
	require.NoError(tb, err)
	for _, o := range made {
		switch o.kind {
		case "trigger":
			_, err = db.Exec(`INSERT INTO sqlite_schema VALUES (?, ?, ?, 0, ?)`, o.kind, o.name, o.table, o.text)
		case "table":
			_, err = db.Exec(`UPDATE sqlite_schema SET sql = ? WHERE name = ?`, o.text, o.name)
		}
		require.NoError(tb, err)
	}
	return db
}

// FuzzRow stores whatever SQLite can in one row: reading it gives a Row with an
// id and figures that are numbers, or damage.
func FuzzRow(f *testing.F) {
	f.Add(newID(), "noon", []byte(`{"note":"edge held"}`), int64(7), 0.9, []byte{0, 1, 2, 3, 4})
	f.Add("\x1b[2J", "nan", []byte{0xff}, int64(math.MinInt64), math.Inf(1), []byte{4, 3, 2, 1, 0})
	f.Add(strings.ToUpper(newID()), "1e999", []byte(nil), int64(math.MaxInt64), -1e308, []byte{2})
	f.Add(newID(), "0x7f", []byte("1"), int64(0), math.SmallestNonzeroFloat64, []byte{3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 1, 3, 2})
	r, loose := openLoosened(f)
	insert := `INSERT INTO entry (` + columns + `) VALUES (?` + strings.Repeat(", ?", strings.Count(columns, ",")) + `)`
	f.Fuzz(func(t *testing.T, id, text string, bytes []byte, integer int64, figure float64, types []byte) {
		choices := []any{nil, text, bytes, integer, figure}
		types = append(types, 1) // one at least
		values := []any{id}
		for i := range strings.Count(columns, ",") {
			values = append(values, choices[int(types[i%len(types)])%len(choices)])
		}
		_, err := loose.Exec(insert, values...)
		require.NoError(t, err)
		requireReadable(t, r, id, text)
		_, err = loose.Exec(`DELETE FROM entry`)
		require.NoError(t, err)
	})
}

func openLoosened(tb testing.TB) (*Record, *sql.DB) {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "record.db")
	loose := loosened(tb, path)
	r, err := Open(path)
	require.NoError(tb, err)
	tb.Cleanup(func() { _ = r.Close() })
	return r, loose
}

// requireReadable reads the record in every way there is.
func requireReadable(t *testing.T, r *Record, id, text string) {
	t.Helper()
	for _, read := range []func() ([]Row, error){
		func() ([]Row, error) { return collect(r.All()) },
		func() ([]Row, error) { return collect(r.Stored()) },
		func() ([]Row, error) { return r.Piece(text) },
		func() ([]Row, error) { return r.Find("0000", 9) },
		func() ([]Row, error) { return nil, second(r.PiecesOfHand(text, 9)) },
		func() ([]Row, error) { return nil, second(r.Lately(9)) },
		func() ([]Row, error) { return nil, second(r.Check()) },
		func() ([]Row, error) { return collect(r.Search(Search{})) },
		func() ([]Row, error) { return collect(r.Search(Search{Newest: true, Kinds: []string{text, "pass"}})) },
		func() ([]Row, error) { return collect(r.Search(Search{Said: &Said{In: anything}})) },
		func() ([]Row, error) { return nil, second(r.Found(Search{Kinds: []string{text}})) },
		func() ([]Row, error) { return nil, second(r.Between(Span{})) },
		func() ([]Row, error) { return nil, second(collect(r.Bodies(text))) },
		func() ([]Row, error) { return nil, second(collect(r.Outlines(text))) },
	} {
		rows, err := read()
		if err != nil {
			require.ErrorIs(t, err, ErrDamaged)
		}
		for _, row := range rows {
			require.Equal(t, id, row.ID)
			require.True(t, isID(row.ID))
			for _, v := range []float64{row.Thick, row.Width, row.Diameter, row.Ring, row.Length, row.Temp} {
				require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%v", v)
			}
		}
	}
}

func anything(string, string) bool { return true }

func second[T any](_ T, err error) error { return err }
