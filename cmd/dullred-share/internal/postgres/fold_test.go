package postgres

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dullred/schedule/share"
)

var update = flag.Bool("update", false, "write migration/1/3-fold.sql anew; never after its release")

const foldFile = "migration/1/3-fold.sql"

// TestFoldOfTheServerIsOurs holds the table of letters in the migration to that of Go:
// two labels that a bench calls equal must be equal on the server. A later Unicode that
// has more letters needs a further step with the table as it is then.
func TestFoldOfTheServerIsOurs(t *testing.T) {
	want := foldFunction()
	if *update {
		require.NoError(t, os.WriteFile(foldFile, []byte(want), 0o644))
	}
	is, err := os.ReadFile(foldFile)
	require.NoError(t, err)
	require.Equal(t, want, string(is))
}

// foldFunction is the step that defines dullred.fold.
func foldFunction() string {
	var from, to strings.Builder
	for r := rune(1); r <= unicode.MaxRune; r++ {
		if !utf8.ValidRune(r) {
			continue
		}
		if least := share.Fold(string(r)); least != string(r) {
			from.WriteRune(r)
			to.WriteString(least)
		}
	}
	return fmt.Sprintf(`-- fold maps all spellings of a text that differ in case alone to one, the same as
-- share.Fold: each letter becomes the smallest of those that differ from it in case
-- (Unicode %s, simple folding). What lower() does would hang on the locale.
CREATE FUNCTION dullred.fold(t text) RETURNS text LANGUAGE sql IMMUTABLE AS $$
	SELECT CASE WHEN octet_length(t) = length(t) THEN upper(t COLLATE "C") ELSE translate(t,
		'%s',
		'%s') END
$$;
`, unicode.Version, from.String(), to.String())
}
