package sheet_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule/sheet"
)

var update = flag.Bool("update", false, "write the golden sheets anew")

// formats are all formats, by the end of a file's name.
var formats = map[string]func(sheet.Sheet) ([]byte, error){
	"txt":  func(s sheet.Sheet) ([]byte, error) { return []byte(s.Text()), nil },
	"json": sheet.Sheet.JSON,
	"csv":  sheet.Sheet.CSV,
	"html": sheet.Sheet.HTML,
}

// The pieces of the demo, and one to which everything happened, in every format.
func TestGoldenSheets(t *testing.T) {
	for name, s := range cases() {
		for end, write := range formats {
			file := filepath.Join("testdata", strings.ReplaceAll(name, " ", "")+"."+end)
			got, err := write(s)
			require.NoError(t, err)
			if *update {
				require.NoError(t, os.MkdirAll("testdata", 0o755))
				require.NoError(t, os.WriteFile(file, got, 0o644))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err, "go test ./schedule/sheet -run Golden -update makes it")
			require.Equal(t, string(want), string(got), file)
		}
	}
}
