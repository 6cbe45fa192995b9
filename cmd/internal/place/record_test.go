package place

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRecordOfTheSettings(t *testing.T) {
	whole := filepath.Join(t.TempDir(), "other.db")
	cases := []struct {
		name, text, path, fault, reason string
	}{
		{"no file", "-", "", "", "a missing file is the defaults"},
		{"another key", "hand = \"AB\"\n[channels]\nbell = false\n", "", "", "it names no record"},
		{"a record", "record = '" + whole + "'\n", whole, "", "it is the one that dullred opens"},
		{"in a section", "[channels]\nrecord = '" + whole + "'\n", "", "", "that is another key"},
		{"part of a path", "record = \"other.db\"\n", "", "is not a whole path", "two programs in two folders would open two records"},
		{"no TOML", "record = \n", "", "config.toml", "a record that is named and cannot be read is not the usual one"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			file := filepath.Join(t.TempDir(), "config.toml")
			if c.text != "-" {
				require.NoError(t, os.WriteFile(file, []byte(c.text), 0o600))
			}
			path, err := settled(file)
			if c.fault != "" {
				require.ErrorContains(t, err, c.fault, c.reason)
				return
			}
			require.NoError(t, err)
			require.Equal(t, c.path, path, c.reason)
		})
	}
}

func TestRecordThatIsGiven(t *testing.T) {
	path, err := Record("here.db")
	require.NoError(t, err)
	require.Equal(t, "here.db", path)
}
