package record

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// old makes a record as the first version did, by its step and no other.
func old(tb testing.TB, rows ...Row) string {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "record.db")
	r, err := open(path, []string{version1})
	require.NoError(tb, err)
	require.NoError(tb, r.AppendNamed([]Label{{ID: bowl, Class: PieceClass, Text: "Practice Bowl"}}, rows...))
	require.NoError(tb, r.Close())
	return path
}

// A file of the first version keeps its entries and labels, and what is in it is found.
func TestFirstVersionIsMigrated(t *testing.T) {
	rows := samples(60)
	for i := range rows {
		rows[i].Kind = []string{"pass", "note", "crack seen"}[i%3]
		if rows[i].Kind == "crack seen" {
			rows[i].Body = ""
		}
	}
	path := old(t, rows...)
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	require.ElementsMatch(t, rows, all(t, r))
	label, found, err := r.LabelNamed(PieceClass, "practice bowl")
	require.NoError(t, err)
	require.True(t, found)
	require.Equal(t, bowl, label.ID)

	for _, q := range []Search{{Kinds: []string{"crack seen"}}, {Said: &Said{Part: "edge", In: anything}}} {
		got, err := collect(r.Search(q))
		require.NoError(t, err)
		require.Equal(t, lookedFor(rows, q), got)
	}
	report, err := r.Check()
	require.NoError(t, err)
	require.Equal(t, Report{Entries: 60, Pieces: 1, Labels: 1}, report)
}

// The program before refuses what this one has migrated, and leaves it as it was.
func TestTheVersionBeforeRefuses(t *testing.T) {
	path := closed(t, samples(3)...)
	before := contents(t, filepath.Dir(path))
	_, err := open(path, []string{version1})
	require.ErrorIs(t, err, ErrNewer)
	require.ErrorContains(t, err, "the file was left untouched")
	require.Equal(t, before, contents(t, filepath.Dir(path)))
}

// One that had the file open meanwhile writes on, and what it writes is found.
func TestTheVersionBeforeWritesOn(t *testing.T) {
	path := old(t)
	before, err := open(path, []string{version1})
	require.NoError(t, err)
	defer before.Close()
	r, err := Open(path)
	require.NoError(t, err)
	defer r.Close()
	row := sample()
	require.NoError(t, before.Append(row))
	found, err := collect(r.Search(Search{Kinds: []string{row.Kind}}))
	require.NoError(t, err)
	require.Equal(t, []Row{row}, found)
}

// An index that is missing, or is another than ours, is not gone by.
func TestIndexesAreVetted(t *testing.T) {
	cases := []struct{ name, change, complaint, reason string }{
		{"dropped", `DROP INDEX entry_kind`, `the index "entry_kind" is missing`, "the search would fail"},
		{"other", `DROP INDEX entry_said; CREATE INDEX entry_said ON entry (at, id, kind, piece, hand, body) WHERE body <> ''`,
			`the index "entry_said" is not as it was made`, "the search would find something else"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			path := closed(t, samples(3)...)
			db := raw(t, path)
			_, err := db.Exec(c.change)
			require.NoError(t, err)
			require.NoError(t, db.Close())
			_, err = Open(path)
			require.ErrorIs(t, err, ErrDamaged, c.reason)
			require.ErrorContains(t, err, c.complaint)
		})
	}
}

// What a bench logs most costs no page more than before there were indexes of kinds and
// texts; what is rare costs a page for each index that it is in.
func TestFrequentEntriesWriteNoPageMore(t *testing.T) {
	const frame = 4096 + 24 // a page and its head: https://www.sqlite.org/fileformat2.html, section 4.1
	written := func(steps []string, row Row) int64 {
		path := filepath.Join(t.TempDir(), "record.db")
		r, err := open(path, steps)
		require.NoError(t, err)
		defer r.Close()
		require.NoError(t, r.Append(sample()))
		before, err := os.Stat(path + "-wal")
		require.NoError(t, err)
		require.NoError(t, r.Append(row))
		after, err := os.Stat(path + "-wal")
		require.NoError(t, err)
		return (after.Size() - before.Size()) / frame
	}
	cases := []struct {
		kind, body string
		more       int64
		reason     string
	}{
		{"note", `{"text":"edge held"}`, 2, "in both"},
		{"crack seen", "", 1, "of a rare kind"},
		{"pass", `{"tool":"planishing hammer"}`, 1, "it names a tool, which is looked for"},
		{"advice shown", `{"zone":"whole"}`, 0, "nobody typed it"},
	}
	for _, kind := range frequent {
		frequentCase := cases[0]
		frequentCase.kind, frequentCase.body, frequentCase.more, frequentCase.reason = kind, "", 0, "frequent"
		cases = append(cases, frequentCase)
	}
	for _, c := range cases {
		row := sample()
		row.Kind, row.Body = c.kind, c.body
		require.Equal(t, written([]string{version1}, row)+c.more, written(migrations, row), "%s: %s", c.kind, c.reason)
	}
}
