package stock

import (
	"math"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Outside check (standard): gauges of ASTM B258 in the sizes of a shape.
func TestParseShape(t *testing.T) {
	cases := []struct{ name, text, want, reason string }{
		{"as it is printed", "0:6x3 95:18x3 190:6x3", "0:6x3 95:18x3 190:6x3", "the plain form"},
		{"blanks anywhere", " 0 : 6 x 3   95 :18x3 ", "0:6x3 95:18x3", "people type blanks"},
		{"decimal commas and dividers", "0:6,5x3, 95:18x3; 190:6x3", "0:6.5x3 95:18x3 190:6x3", "a comma at the end of a part divides"},
		{"units", "0mm:6x3mm 9.5cm:18x3 10in:6x3", "0:6x3 95:18x3 254:6x3", "lengths as anywhere"},
		{"words", "0:4 round 60:ø4 60:6 square 90:6square", "0:4 round 60:4 round 60:6 square 90:6 square", "sections as anywhere"},
		{"half round", "0:6x3 D 60:6x3d 120:6 half round 150:6x3 half-round", "0:6x3 D 60:6x3 D 120:6x3 D 150:6x3 D", "one number is half a circle"},
		{"lozenge", "0:7x5 lozenge 60:7x5LOZENGE", "0:7x5 lozenge 60:7x5 lozenge", "its own word"},
		{"tangs", "0:6x3 60:6x3 tang:2x80@end tang:1.5x40", "0:6x3 60:6x3 tang:2x80@end tang:1.5x40@0", "one at each end"},
		{"gauge", "0:14ga round 60:14 ga round", "0:1.627727 round 60:1.627727 round", "B&S 14 of ASTM B258, to the nanometre"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s, err := ParseShape(c.text)
			require.NoError(t, err)
			require.Equal(t, c.want, s.String(), c.reason)
		})
	}
}

func TestParseShapeRefuses(t *testing.T) {
	cases := []struct{ name, text, says, reason string }{
		{"nothing", "", "PLACE:SECTION", "an empty text"},
		{"no place", "6x3", "PLACE:SECTION", "a section alone"},
		{"one station", "0:6x3", "at least two stations", "no length"},
		{"one number", "0:6x3 95:18", `"18": expected the word`, "which shape is not said"},
		{"not from 0", "5:6x3 95:18x3", "first station stands at 5 mm", "a piece begins at 0"},
		{"backwards", "0:6x3 95:18x3 50:6x3", "at 50 mm stands behind the one at 95 mm", "the order is along the piece"},
		{"two kinds", "0:6 round 95:18x3", "no straight taper from 6 round to 18x3", "a shoulder is wanted"},
		{"no section", "0:6x3 95:", `"95:" has no section`, "the end of the text is missing"},
		{"no section between", "0: 95:18x3", "0:95:18x3", "a place without a section runs into the next"},
		{"below 0", "0:6x3 -5:6x3", `"-5"`, "a place before the start"},
		{"nothing thick", "0:6x3 95:0x3", "0 mm is not a length", "no section"},
		{"not metal", "0:6x3 95:12x1 tube", "expected a solid section", "a tube is no solid bar"},
		{"sheet", "0:6x3 95:1 sheet", "expected a solid section", "a sheet has no width"},
		{"shoulder at the start", "0:6x3 0:7x3 95:6x3", "inside the piece", "there is nothing before it"},
		{"shoulder at the end", "0:6x3 95:6x3 95:7x3", "inside the piece", "there is nothing behind it"},
		{"lozenge of one number", "0:7 lozenge 9:7x5 lozenge", "two numbers before lozenge", "its thickness is not said"},
		{"tang too thick", "0:6x3 95:6x3 tang:8x100", "cannot be drawn from 6x3", "drawing never makes a section larger"},
		{"tang of nothing", "0:6x3 95:6x3 tang:", "expected a tang", "no size"},
		{"three tangs", "0:6x3 95:6x3 tang:1x9 tang:1x9@end tang:1x9@0", "one too many", "there are two ends"},
		{"endless", "0:6x3 95:6x3" + strings.Repeat(" ", MaxText), "longer", "a bound on the work"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			_, err := ParseShape(c.text)
			require.ErrorContains(t, err, c.says, c.reason)
			require.Less(t, strings.IndexFunc(err.Error(), unicode.IsControl), 0, "%q", err)
			require.Less(t, len(err.Error()), 700)
			require.Less(t, len(err.Error()), 400)
		})
	}
}

func TestShapeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		back, err := ParseShape(s.String())
		require.NoError(t, err)
		require.Equal(t, s, back)
	})
}

// FuzzParseShape: whatever is read prints and reads back to itself, has a volume
// that is a number, and can be drawn.
func FuzzParseShape(f *testing.F) {
	for _, seed := range []string{"0:6x3 95:18x3 190:6x3", "0:4 round 60:4 round 60:6x2 D 120:6x2 D tang:2x80@end", "0:6 half round 9in:3 D",
		"0:7x5 lozenge 60:0.001x99999 lozenge", "0:1/2in square 60:20ga square", "0:6x3 95:", "::", "tang:1x1", "0:1e9x3 5:3x3", "0:\x00x3 \xff:3"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseShape(text)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		back, err := ParseShape(s.String())
		require.NoError(t, err)
		require.Equal(t, s, back)
		v := float64(s.Volume())
		require.True(t, v > 0 && !math.IsInf(v, 0), "volume %v", v)
		most, _ := s.Largest(0, s.Length())
		least, _ := s.Smallest(0, s.Length())
		require.GreaterOrEqual(t, most, least)
		for _, line := range (Drawing{Columns: 60, ASCII: len(text)%2 == 0}).Lines(s) {
			require.LessOrEqual(t, utf8.RuneCountInString(line), 100)
		}
	})
}

func BenchmarkParseAndVolume(b *testing.B) {
	for b.Loop() {
		s, err := ParseShape("0:6x3 95:18x3 190:6x3")
		if err != nil || s.Volume() != 6840 {
			b.Fatal(s, err)
		}
	}
}
