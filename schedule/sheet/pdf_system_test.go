//go:build system

package sheet_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The same figures are read by a reader of the poppler project (pdfinfo, pdftotext),
// which shares nothing with what wrote them.
//
// Outside check (reference): poppler (pdfinfo, pdftotext): the same figures in the PDF.
func TestSystemOthersReadThePDF(t *testing.T) {
	for name, s := range cases() {
		out, err := s.PDF()
		require.NoError(t, err)
		file := filepath.Join(t.TempDir(), "sheet.pdf")
		require.NoError(t, os.WriteFile(file, out, 0o600))

		info := run(t, "pdfinfo", file)
		require.Regexp(t, `(?m)^Pages: +`+strconv.Itoa(len(printed(t, s).Pages))+`$`, info)
		require.Regexp(t, `(?m)^Title: +Making record of `+s.Name+`$`, info)
		require.Regexp(t, `(?m)^Page size: +595.28 x 841.89 pts \(A4\)$`, info)
		require.Regexp(t, `(?m)^JavaScript: +no$`, info)
		require.NotContains(t, info, "Author")
		requireWords(t, figures(t, s), strings.Fields(run(t, "pdftotext", "-raw", file, "-")), name)
		requireApart(t, boxes(t, file), name)
	}
}

func run(t *testing.T, program string, args ...string) string {
	c := exec.Command(program, args...)
	c.Stderr = os.Stderr
	out, err := c.Output()
	require.NoError(t, err, program)
	return string(out)
}

// box is where a word stands, in points from the upper left corner.
type box struct {
	page           int
	x1, y1, x2, y2 float64
	word           string
}

var (
	boxOf = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*)</word>`)
)

func boxes(t *testing.T, file string) (all []box) {
	page := 0
	for line := range strings.Lines(run(t, "pdftotext", "-bbox", file, "-")) {
		if strings.Contains(line, "<page ") {
			page++
		}
		if m := boxOf.FindStringSubmatch(line); m != nil {
			f := func(i int) float64 { v, _ := strconv.ParseFloat(m[i], 64); return v }
			all = append(all, box{page, f(1), f(2), f(3), f(4), m[5]})
		}
	}
	require.NotEmpty(t, all)
	return all
}

// requireApart is that no word stands on another, and all within the margins.
func requireApart(t *testing.T, all []box, name string) {
	for i, a := range all {
		require.True(t, a.x1 >= 42 && a.x2 <= 554 && a.y1 >= 42 && a.y2 <= 775, "%s: %q is in the margin: %+v", name, a.word, a)
		for _, b := range all[i+1:] {
			over := a.page == b.page && a.x1+0.5 < b.x2 && b.x1+0.5 < a.x2 && a.y1+2 < b.y2 && b.y1+2 < a.y2
			require.False(t, over, "%s: %q stands on %q", name, a.word, b.word)
		}
	}
}
