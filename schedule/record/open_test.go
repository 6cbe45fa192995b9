package record

import (
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// edit changes the bytes of a closed file.
func edit(t *testing.T, path string, change func([]byte) []byte) {
	t.Helper()
	bytes, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, change(bytes), 0o600))
}

func write(text string) func(*testing.T, string) {
	return func(t *testing.T, path string) { require.NoError(t, os.WriteFile(path, []byte(text), 0o600)) }
}

func execute(statements string) func(*testing.T, string) {
	return func(t *testing.T, path string) {
		db, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		_, err = db.Exec(statements)
		require.NoError(t, err)
		require.NoError(t, db.Close())
	}
}

func change(change func([]byte) []byte) func(*testing.T, string) {
	return func(t *testing.T, path string) {
		edit(t, path, change)
	}
}

func TestOpenRefuses(t *testing.T) {
	const foreign = "not a dullred record; the file was left untouched"
	const damaged = "the record is damaged; the file was left untouched"
	replace := func(spoil func(*testing.T, string)) func(*testing.T, string) {
		return func(t *testing.T, path string) {
			require.NoError(t, os.Remove(path))
			spoil(t, path)
		}
	}
	tests := []struct {
		name, reason string
		spoil        func(t *testing.T, path string)
		is           error
		want         string
	}{
		{"text", "somebody's notes", replace(write("bowl, 0.9 mm\n")), ErrNotRecord, foreign},
		{"long text", "longer than a header", replace(write(fmt.Sprintf("%4096d", 0))), ErrNotRecord, foreign},
		{"other database", "another program's", replace(execute(`CREATE TABLE entry (id)`)), ErrNotRecord, foreign},
		{"other database with a log", "SQLite would make files beside it", replace(execute(`PRAGMA journal_mode = WAL; CREATE TABLE entry (id)`)), ErrNotRecord, foreign},
		{"newer", "its columns are unknown here", execute(`PRAGMA user_version = 99`), ErrNewer, "written by a newer version of dullred; the file was left untouched"},
		{"newer with a log", "SQLite would fold the log in", func(t *testing.T, path string) {
			execute(`PRAGMA user_version = 99`)(t, path)
			write("unsaved entries")(t, path+"-wal")
		}, ErrNewer, "written by a newer version of dullred; the file was left untouched"},
		{"no version", "no record has version 0", execute(`PRAGMA user_version = 0`), ErrDamaged, "version 0: " + damaged},
		{"magic flipped", "SQLite would not know it either", change(func(b []byte) []byte { b[3] ^= 0xff; return b }), ErrNotRecord, foreign},
		{"cut inside the header", "too short to be told", change(func(b []byte) []byte { return b[:60] }), ErrNotRecord, foreign},
		{"cut inside the first page", "the header promises more", change(func(b []byte) []byte { return b[:2000] }), ErrDamaged, damaged},
		{"cut between pages", "the header promises more", change(func(b []byte) []byte { return b[:len(b)/2/4096*4096] }), ErrDamaged, damaged},
		{"cut inside a page", "the header promises more", change(func(b []byte) []byte { return b[:len(b)-1000] }), ErrDamaged, damaged},
		{"garbage schema", "no table can be found", change(func(b []byte) []byte { fillPage(b[100:4096]); return b }), ErrDamaged, damaged},
		{"page size", "not a power of two", change(func(b []byte) []byte { binary.BigEndian.PutUint16(b[16:], 1000); return b }), ErrDamaged, damaged},
		{"no entries", "the table is missing", execute(`DROP TABLE entry`), ErrDamaged, `the index "entry_hand" is missing: ` + damaged},
		{"emptied beside its log", "SQLite would throw the log away", func(t *testing.T, path string) {
			write("")(t, path)
			write("unsaved entries")(t, path+"-wal")
		}, ErrDamaged, "a log without its record: " + damaged},
		{"removed beside its log", "the same", replace(func(t *testing.T, path string) { write("unsaved entries")(t, path+"-wal") }),
			ErrDamaged, "a log without its record: " + damaged},
		{"folder for a log", "the log cannot be made", func(t *testing.T, path string) {
			require.NoError(t, os.Mkdir(path+"-wal", 0o700))
		}, ErrReadOnly, "the file or its folder cannot be written"},
		{"folder", "nothing can be stored in it", replace(func(t *testing.T, path string) { require.NoError(t, os.Mkdir(path, 0o700)) }), ErrNotRecord, "a folder, " + foreign},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			path := closed(t, samples(100)...)
			tt.spoil(t, path)
			before := contents(t, filepath.Dir(path))
			_, err := Open(path)
			require.ErrorIs(t, err, tt.is, tt.reason)
			require.EqualError(t, err, "open "+path+": "+tt.want)
			require.Equal(t, before, contents(t, filepath.Dir(path)), "bytes or files beside it changed")
			require.Empty(t, opened.files)
		})
	}
}

func fillPage(page []byte) {
	for i := range page {
		page[i] = 0xa5
	}
}

// Killing a process cannot show whether a commit was synced; the settings can.
func TestSettings(t *testing.T) {
	r := openNew(t)
	for pragma, want := range map[string]string{
		"journal_mode": "wal", "synchronous": "2", "busy_timeout": "5000", "secure_delete": "1", "trusted_schema": "0",
	} {
		for name, row := range map[string]*sql.Row{
			"writing": r.pen.QueryRow("PRAGMA " + pragma), "reading": r.db.QueryRow("PRAGMA " + pragma),
		} {
			var got string
			require.NoError(t, row.Scan(&got))
			require.Equal(t, want, got, "%s, %s", pragma, name)
		}
	}
}

func TestOpenEmptyFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	write("")(t, path)
	r, err := Open(path)
	require.NoError(t, err, "a crash during creation leaves zero bytes")
	defer r.Close()
	require.NoError(t, r.Append(sample()))
}

// readAll reads through every table and index and returns the first error.
func readAll(r *Record) error {
	var failures []error
	rows, err := collect(r.All())
	failures = append(failures, err)
	for _, row := range rows {
		_, err := r.Find(row.ID, 1)
		failures = append(failures, err)
	}
	for _, piece := range []string{bowl, cup} {
		_, err := r.Piece(piece)
		failures = append(failures, err)
	}
	_, err = r.PiecesOfHand(hand, 1000)
	failures = append(failures, err)
	_, err = r.Lately(1000)
	failures = append(failures, err)
	_, err = r.Find("0000", 1000)
	failures = append(failures, err)
	_, err = collect(r.Search(Search{Kinds: []string{sample().Kind}}))
	failures = append(failures, err)
	_, err = collect(r.Search(Search{Said: &Said{In: anything}}))
	failures = append(failures, err)
	_, err = r.Labels(PieceClass)
	failures = append(failures, err)
	_, _, err = r.LabelID(PieceClass, "Practice Bowl")
	failures = append(failures, err)
	for _, err := range failures {
		if err != nil {
			return err
		}
	}
	return nil
}

// Whichever page is garbage, what cannot be read is called damage and names the file.
func TestGarbagePage(t *testing.T) {
	path := closed(t, samples(200)...)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Greater(t, len(whole), 20*4096)
	for at := 4096; at < len(whole); at += 4096 {
		bytes := append([]byte(nil), whole...)
		fillPage(bytes[at : at+4096])
		require.NoError(t, os.WriteFile(path, bytes, 0o600))
		r, err := Open(path)
		if err == nil {
			err = readAll(r)
			require.NoError(t, r.Close())
		}
		require.ErrorIs(t, err, ErrDamaged, "page at %d", at)
		require.ErrorContains(t, err, path)
	}
}

// Any flipped byte gives a right or a wrong figure or an error of ours, never a panic.
func TestFlippedBytes(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	path := closed(t, samples(40)...)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	refusals, flips := 0, fewer(300)
	for i := range flips {
		bytes := append([]byte(nil), whole...)
		at := random.IntN(len(bytes))
		if i < flips/3 {
			at = i // every byte of the header, at full length
		}
		bytes[at] ^= byte(1 + random.IntN(255))
		require.NoError(t, os.WriteFile(path, bytes, 0o600))
		r, err := Open(path)
		if err == nil {
			err = readAll(r)
			require.NoError(t, r.Close())
		}
		if err == nil {
			continue
		}
		refusals++
		known := errors.Is(err, ErrDamaged) || errors.Is(err, ErrNotRecord) || errors.Is(err, ErrNewer)
		require.True(t, known, "byte %d: %v", at, err)
	}
	require.Greater(t, refusals, flips/15)
}

// A doctored file bears our marks and is not as we make it.
func TestDoctoredSchema(t *testing.T) {
	require.EqualValues(t, 1685417074, application)
	tests := []struct{ name, reason, sql, want string }{
		{"loose tables", "anything could stand in a column", `CREATE TABLE entry (id PRIMARY KEY, at) WITHOUT ROWID;
			CREATE TABLE label (id, class, text, folded);
			PRAGMA application_id = 1685417074; PRAGMA user_version = 1;`, `the table "entry" is not as it was made`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			path := filepath.Join(t.TempDir(), "record.db")
			execute(tt.sql)(t, path)
			_, err := Open(path)
			require.ErrorIs(t, err, ErrDamaged)
			require.ErrorContains(t, err, tt.want)
		})
	}
	for _, extra := range []string{
		`CREATE TRIGGER late AFTER INSERT ON entry BEGIN SELECT 1; END`,
		`CREATE VIEW copy AS SELECT * FROM entry`,
		`CREATE TABLE more (id)`,
		`CREATE INDEX entry_more ON entry (kind)`,
	} {
		t.Run(extra, func(t *testing.T) {
			path := closed(t, samples(3)...)
			execute(extra)(t, path)
			_, err := Open(path)
			require.ErrorIs(t, err, ErrDamaged)
			require.ErrorContains(t, err, "is not one of its own")
		})
	}
}

// A doctored row holds what no Row can: it is damage, with our words for it.
func TestDoctoredRow(t *testing.T) {
	tests := []struct{ name, reason, change string }{
		{"huge figure", "reads as infinite", `INSERT INTO entry (id, at, written, bench, hand, piece, zones, kind, version, process, shape, thick, body)
			VALUES ('` + newID() + `', 1, 1, '', '', '', '', '', 1, '', '', 9e999, '')`},
		{"odd id", "could be printed to a terminal", `INSERT INTO entry (id, at, written, bench, hand, piece, zones, kind, version, process, shape, body)
			VALUES ('x' || char(27) || '[2J', 1, 1, '', '', '', '', '', 1, '', '', '')`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			path := closed(t, samples(3)...)
			execute(`PRAGMA ignore_check_constraints = 1; `+tt.change)(t, path)
			r, err := Open(path)
			require.NoError(t, err)
			defer r.Close()
			_, err = collect(r.All())
			require.ErrorIs(t, err, ErrDamaged, tt.reason)
			require.ErrorContains(t, err, path)
			require.NotContains(t, err.Error(), "\x1b")
			_, err = r.Check()
			require.ErrorIs(t, err, ErrDamaged, tt.reason)
		})
	}
}
