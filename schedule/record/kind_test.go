package record

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOfKind(t *testing.T) {
	r, err := Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	defer r.Close()
	kinds := []string{"pass", "note", "pass"}
	var rows []Row
	for i, kind := range kinds {
		row := samples(3)[i]
		row.Kind, row.At = kind, int64(100-i)
		rows = append(rows, row)
	}
	require.NoError(t, r.Append(rows...))
	got, err := r.OfKind(rows[0].Piece, "pass")
	require.NoError(t, err)
	require.Equal(t, []Row{rows[2], rows[0]}, got, "only that kind, oldest first")
	got, err = r.OfKind(rows[0].Piece, "void")
	require.NoError(t, err)
	require.Empty(t, got)
}
