package schedule_test

import (
	"testing"
	"unsafe"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
)

func encode(t require.TestingT, e schedule.Entry) schedule.Row {
	row, err := schedule.Encode(e)
	require.NoError(t, err)
	return row
}

func TestEveryEntryIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyEntry.Draw(t, "entry")
		back, err := schedule.Decode(encode(t, e))
		require.NoError(t, err)
		require.Equal(t, e, back)
	})
}

// The generators must not leave a kind out that a reader knows.
func TestEveryKindIsReadBack(t *testing.T) {
	seen := map[schedule.Kind]bool{}
	for i, b := range every() {
		e := entryAt(i, b)
		back, err := schedule.Decode(encode(t, e))
		require.NoError(t, err, b.Kind())
		require.Equal(t, e, back, b.Kind())
		seen[b.Kind()] = true
	}
	require.Len(t, seen, 38, "a kind was added: give it a generator")
}

func TestRowIsSmall(t *testing.T) {
	row := encode(t, entryAt(1, schedule.Soft{}))
	require.Empty(t, row.Body, "a kind that says nothing has no body")
	require.Equal(t, schedule.Row{ID: row.ID, At: row.At, Written: row.At, Bench: row.Bench, Hand: row.Hand,
		Piece: row.Piece, Kind: "proved soft", Version: 1}, row)
	require.Less(t, unsafe.Sizeof(row), uintptr(300), "a row is scanned by the thousand")
}

func TestFiguresStandInColumns(t *testing.T) {
	e := entryAt(1, schedule.Pass{Process: "raise", Count: 2, Reading: vessel(1.2, 140)}, "wall", "rim")
	row := encode(t, e)
	want := schedule.Row{ID: string(e.ID), At: e.At.UnixMicro(), Written: e.Written.UnixMicro(), Bench: string(bench),
		Hand: string(hand), Piece: string(piece), Zones: "wall\x1frim", Kind: "pass", Version: 1,
		Process: "raise", Count: 2, Shape: "sheet", Thick: 1.2, Ring: 140}
	require.Equal(t, want, row)
}

func TestEncodeRefusesWhatJSONCannotHold(t *testing.T) {
	_, err := schedule.Encode(entryAt(1, schedule.Shown{Spent: inf}))
	require.ErrorContains(t, err, "encode advice shown")
}

func TestUnreadEntriesAreKept(t *testing.T) {
	table := []struct {
		name, reason string
		change       func(*schedule.Row)
		why          string
	}{
		{"unknown kind", "an older version must not lose what a newer one logged",
			func(r *schedule.Row) { r.Kind, r.Body = "tempered", `{"heat":[1,2]}` }, `does not read "tempered" entries (version 1)`},
		{"newer version", "the same kind may say more one day",
			func(r *schedule.Row) { r.Version, r.Body = 2, `{"more":true}` }, `does not read "pass" entries (version 2)`},
		{"figures of a newer version", "its columns may mean something else",
			func(r *schedule.Row) { r.Version, r.Temp = 3, 12 }, `(version 3)`},
		{"no kind", "an empty kind is a kind this version does not know",
			func(r *schedule.Row) { r.Kind = "" }, `does not read "" entries`},
	}
	for _, kind := range schedule.Reserved() {
		table = append(table, struct {
			name, reason string
			change       func(*schedule.Row)
			why          string
		}{string(kind), "a reserved name is not yet read", func(r *schedule.Row) { r.Kind = string(kind) }, "does not read"})
	}
	for _, c := range table {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			h := start(wrought("AG925")).then(unread("lengthen", 1))
			row := encode(t, h[1])
			c.change(&row)
			e, err := schedule.Decode(row)
			require.NoError(t, err)
			require.Equal(t, row, encode(t, e), "the row is kept whole")
			require.Equal(t, schedule.Kind(row.Kind), e.Kind())
			h[1] = e
			requireSilent(t, h, c.why)
		})
	}
}

// requireSilent insists that nothing is advised about a piece, and why.
func requireSilent(t *testing.T, h story, why string) {
	t.Helper()
	a := h.advice()
	require.Equal(t, schedule.VerdictUnknown, a.Verdict)
	require.Contains(t, a.Reasons[0], why)
	require.Contains(t, a.Next, "look at the log of this piece")
	require.Equal(t, []string{"No advice is not a carry on: judge by hand and ear, and anneal when in doubt."}, a.Cautions)
	require.Empty(t, a.Zones)
}
