package published

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// RequirePage holds a page of outside checks to a text; update writes it again first.
func RequirePage(t *testing.T, name, text string, update bool) {
	t.Helper()
	if update {
		require.NoError(t, os.WriteFile(folder+name, []byte(text), 0o644))
	}
	page, err := os.ReadFile(folder + name)
	require.NoError(t, err)
	require.Equal(t, text, string(page), "the accuracy page is not current: run with -update and read what changed")
}

// List is a line for each.
func List(lines []string) string { return "- " + strings.Join(lines, "\n- ") + "\n" }

// Cell is text that does not end a column of a table.
func Cell(s string) string { return strings.ReplaceAll(s, "|", "/") }

// Digits are those of a figure that machines agree on.
func Digits(f float64) string { return fmt.Sprintf("%.7g", f) }

// Difference is got less want, none within the noise of machines.
func Difference(got, want, noise float64) string {
	d := got - want
	if math.Abs(d) <= noise {
		return "0"
	}
	return fmt.Sprintf("%+.1g", d)
}
