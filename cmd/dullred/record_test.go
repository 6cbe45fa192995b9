package main

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/years"
	"dullred/schedule"
	"dullred/schedule/record"
)

// firstOfShop is the first entry of an invented piece.
func firstOfShop() schedule.Entry {
	for p := range years.Shop().Pieces() {
		return p.Entries[0]
	}
	panic("the shop has no piece")
}

// What the store takes for a row need not be an entry: the check reads both.
func TestRecordCheckReadsEntries(t *testing.T) {
	tests := []struct {
		name, reason string
		change       func(*record.Row)
		code         int
		want         string
	}{
		{"as written", "nothing is wrong", func(*record.Row) {}, exitOK, "sound   entries 1, pieces 1, labels 0\n"},
		{"kind to come", "a newer dullred wrote it", func(r *record.Row) { r.Kind = "cut into pieces" }, exitOK,
			"mind    entries of a newer dullred: 1; "},
		{"negative thickness", "no calliper reads that", func(r *record.Row) { r.Thick = -8 }, exitRecord, "entries that are damaged: 1, the first: damaged entry"},
		{"huge figure", "finite, and not to be believed", func(r *record.Row) { r.Thick = 1e300 }, exitRecord, "entries that are damaged: 1"},
		{"far future", "no bench is there yet", func(r *record.Row) { r.At = 1 << 62 }, exitRecord, "is not believable"},
		{"bench without id", "somebody typed it", func(r *record.Row) { r.Bench = "\x1b[2J" }, exitRecord, `"\x1b[2J" is not an id`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			path := filepath.Join(t.TempDir(), "record.db")
			stored := encoded(t, firstOfShop())
			tt.change(&stored)
			r, err := record.Open(path)
			require.NoError(t, err)
			require.NoError(t, r.Append(stored))
			require.NoError(t, r.Close())

			var out, errOut bytes.Buffer
			code := run([]string{"record", "check", "--record", path}, &out, &errOut, func(string) string { return "" })
			require.Equal(t, tt.code, code, errOut.String())
			require.Contains(t, out.String()+errOut.String(), tt.want, tt.reason)
			if code != exitOK {
				require.Empty(t, out.String())
				require.Contains(t, errOut.String(), "; nothing was changed; void each with dullred void ID")
				require.Regexp(t, sentence, errOut.String())
			}
		})
	}
}

// Rows come back as entries, in the order of time and whole, however many
// batches they make.
func TestReplay(t *testing.T) {
	for _, entries := range []int{0, 1, 2*batch + 300} {
		school := years.SchoolOf(entries)
		r, err := record.Open(grown(t, school))
		require.NoError(t, err)
		late := schedule.Entry{ID: schedule.NewID(), At: years.Begun.AddDate(-1, 0, 0), Written: years.Begun, Bench: school.Bench(0),
			Hand: school.Hand(0), Piece: growthID(2, 0), Version: 1, Body: schedule.Note{Text: "found again"}} // its id is the last, but it happened first
		row, err := schedule.Encode(late)
		require.NoError(t, err)
		require.NoError(t, r.Append(record.Row(row)))

		all, err := (&bench{rec: r}).replay()
		require.NoError(t, err)
		require.Len(t, all, school.Entries()+1)
		require.Equal(t, late, all[0])
		want := 0
		for row, err := range r.All() {
			require.NoError(t, err)
			e, err := schedule.Decode(schedule.Row(row))
			require.NoError(t, err)
			require.Equal(t, e, all[want])
			want++
		}
		require.NoError(t, r.Close())
	}
}
