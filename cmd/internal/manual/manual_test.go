package manual

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
)

func TestEscape(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"hyphen", "--at", `\-\-at`},
		{"backslash", `a\b`, `a\eb`},
		{"request", ".SH x", `\&.SH x`},
		{"apostrophe", "'br", `\(aqbr`},
		{"not ASCII", "650 °C", `650 \[u00B0]C`},
		{"control", "a\x1b[31m", "a[31m"},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, line(c.text)) })
	}
	require.Equal(t, `"a \(dqb\(dq"`, quoted(`a "b"`))
}

func TestPages(t *testing.T) {
	run := func(*cobra.Command, []string) {}
	root := &cobra.Command{Use: "smith", Short: "works", Long: "It works.\n\n  smith hit  once\n.not a request", Run: run}
	root.PersistentFlags().String("record", "", "the `FILE`")
	hit := &cobra.Command{Use: "hit [HARD]", Short: "hits", Example: "  smith hit 3", Run: run}
	hit.Flags().BoolP("loud", "l", false, "with noise")
	root.AddCommand(hit, &cobra.Command{Use: "secret", Hidden: true, Run: run})
	pages := Pages(root, About{Files: [][2]string{{"a.db", "the record"}}, Exits: [][2]string{{"0", "done"}}})
	require.Len(t, pages, 2)
	require.Equal(t, "smith-hit.1", pages[1].Name)
	for _, want := range []string{".TH \"SMITH\\-HIT\" 1", ".SH NAME\nsmith\\-hit \\- hits\n", ".SH SYNOPSIS\n.B \"smith hit [HARD] [flags]\"\n", ".SH DESCRIPTION\nHits.\n",
		".B \"\\-l, \\-\\-loud\"\nwith noise\n", ".B \"\\-\\-record FILE\"\nthe FILE\n", ".SH EXAMPLES\n.nf\n\\&  smith hit 3\n.fi\n",
		".SH \"FILES\"\n.TP\n.B \"a.db\"\nthe record\n", ".SH \"EXIT STATUS\"\n.TP\n.B \"0\"\ndone\n", ".SH SEE ALSO\n\\fBsmith\\fR(1)\n"} {
		require.Contains(t, pages[1].Roff, want)
	}
	require.Contains(t, pages[0].Roff, "\\&.not a request\n")
	folder := filepath.Join(t.TempDir(), "man1")
	n, err := Write(folder, pages)
	require.NoError(t, err)
	require.Equal(t, 2, n)
	written, err := os.ReadFile(filepath.Join(folder, "smith.1"))
	require.NoError(t, err)
	require.Equal(t, pages[0].Roff, string(written))
}
