package record

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// A record is walked in steps, in the order of the ids, whatever the order of writing.
func TestIDsInSteps(t *testing.T) {
	r, err := Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	defer r.Close()
	want := []string{
		"00000000-0000-5000-8000-000000000009", "01900000-0000-7000-8000-000000000001",
		"01900000-0000-7000-8000-000000000002", "f0000000-0000-5000-8000-000000000000",
	}
	for _, i := range []int{2, 0, 3, 1} {
		require.NoError(t, r.Append(Row{ID: want[i], Kind: "note", Version: 1, Count: int64(i)}))
	}
	var got []string
	after := ""
	for {
		ids, err := r.IDs(after, 3)
		require.NoError(t, err)
		if len(ids) == 0 {
			break
		}
		got, after = append(got, ids...), ids[len(ids)-1]
	}
	require.Equal(t, want, got)
	none, err := r.IDs("", -1)
	require.NoError(t, err)
	require.Empty(t, none, "less than none is none, not all")

	rows, err := r.Rows(want[3], "01900000-0000-7000-8000-00000000000f", want[1], want[3], "no id", `"`)
	require.NoError(t, err)
	require.Equal(t, []string{want[1], want[3]}, []string{rows[0].ID, rows[1].ID})
	require.Equal(t, int64(1), rows[0].Count, "a row comes as it was written")
	require.Len(t, rows, 2)
	rows, err = r.Rows()
	require.NoError(t, err)
	require.Empty(t, rows)
	require.True(t, slices.IsSorted(got))
}

// What happened since a moment is found whoever did it.
func TestSince(t *testing.T) {
	r, err := Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	defer r.Close()
	none, err := r.Since(0, 9)
	require.NoError(t, err)
	require.Empty(t, none, "an empty record has nobody")

	var want []string
	for i, at := range []int64{400, 100, 300, 200, 300, 500} {
		row := Row{ID: fmt.Sprintf("0000000%d-0000-7000-8000-000000000000", i), At: at, Hand: string(rune('a' + i%3)), Kind: "note", Version: 1}
		require.NoError(t, r.Append(row))
		if at >= 300 {
			want = append(want, row.ID)
		}
	}
	got, err := r.Since(300, 9)
	require.NoError(t, err)
	require.Equal(t, want, got)
	got, err = r.Since(300, 2)
	require.NoError(t, err)
	require.Equal(t, want[:2], got)
}
