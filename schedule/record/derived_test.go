package record

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Two programs that find the same cause write it once, and each writes what else
// it has.
func TestAppendWith(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.db")
	one, err := Open(path)
	require.NoError(t, err)
	defer one.Close()
	other, err := Open(path)
	require.NoError(t, err)
	defer other.Close()

	alert, pass, later := sample(), sample(), sample()
	require.NoError(t, one.AppendWith(nil, []Row{alert}, pass))
	anew := alert
	anew.Written++
	require.ErrorIs(t, other.Append(anew), ErrConflict, "a plain append does not pass it over")
	require.NoError(t, other.AppendWith(nil, []Row{anew}, later))
	rows, err := one.Piece(alert.Piece)
	require.NoError(t, err)
	require.ElementsMatch(t, []Row{alert, pass, later}, rows, "the first one stands")

	bad := sample()
	bad.ID = "no id"
	require.Error(t, one.AppendWith(nil, []Row{bad}, sample()))
	require.Error(t, one.AppendWith(nil, []Row{sample()}, bad))
	rows, err = one.Piece(alert.Piece)
	require.NoError(t, err)
	require.Len(t, rows, 3, "all of it or nothing")
}
