package record

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func remove(t *testing.T, path string)   { require.NoError(t, os.Remove(path)) }
func removeAll(t *testing.T, dir string) { require.NoError(t, os.RemoveAll(dir)) }

// What is acknowledged can be found at the path, whatever happened to the files.
func TestGone(t *testing.T) {
	tests := []struct {
		name, reason string
		lose         func(t *testing.T, path string)
	}{
		{"folder removed", "the entry would go with the last program to close", func(t *testing.T, path string) { removeAll(t, filepath.Dir(path)) }},
		{"record removed", "the entry would stand in a file without a name", remove},
		{"log removed", "an entry stands in the log first, and would be lost with it", func(t *testing.T, path string) { remove(t, path+"-wal") }},
		{"folder moved", "the smith would not know where the entry is", func(t *testing.T, path string) {
			require.NoError(t, os.Rename(filepath.Dir(path), filepath.Dir(path)+" of last year"))
		}},
		{"record replaced", "a backup was put back under the running program", func(t *testing.T, path string) {
			require.NoError(t, os.Rename(closed(t, samples(3)...), path))
		}},
		{"folder made anew", "another program began a new record", func(t *testing.T, path string) {
			removeAll(t, filepath.Dir(path))
			_, err := runChild(appendSome, path, "1")
			require.NoError(t, err)
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			r, err := Open(filepath.Join(t.TempDir(), "bench", "record.db"))
			require.NoError(t, err)
			rows := samples(3)
			require.NoError(t, r.Append(rows...))
			tt.lose(t, r.Path())
			label := Label{ID: "p1", Class: PieceClass, Text: "Practice Bowl"}
			for name, err := range map[string]error{
				"append one":  r.Append(sample()),
				"append two":  r.Append(samples(2)...),
				"append name": r.AppendNamed([]Label{label}),
			} {
				require.ErrorIs(t, err, ErrGone, "%s: %s", name, tt.reason)
				require.EqualError(t, err, "append "+r.Path()+": the record was moved or removed while open")
			}
			require.ElementsMatch(t, rows, all(t, r), "nothing was written to the lost file either")
			require.NoError(t, r.Close())
		})
	}
}

// A folder that is put back where it was is the record again.
func TestGoneAndBack(t *testing.T) {
	r := openNew(t)
	folder := filepath.Dir(r.Path())
	require.NoError(t, os.Rename(folder, folder+" away"))
	require.ErrorIs(t, r.Append(sample()), ErrGone)
	require.NoError(t, os.Rename(folder+" away", folder))
	row := sample()
	require.NoError(t, r.Append(row))
	require.Equal(t, []Row{row}, all(t, r))
}
