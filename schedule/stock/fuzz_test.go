package stock

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

// FuzzParsePart reads a text as a section, a tang, a ring, a bowl, a share of loss and an
// old weight. What is read has figures that are finite and in their range, and prints and
// reads back to itself; what is not is refused in one line.
func FuzzParsePart(f *testing.F) {
	for kind, seeds := range partSeeds {
		for _, s := range seeds {
			f.Add(uint8(kind), s)
		}
	}
	f.Fuzz(func(t *testing.T, kind uint8, text string) {
		if err := partReaders[int(kind)%len(partReaders)](t, text); err != nil {
			require.Less(t, strings.IndexFunc(err.Error(), unicode.IsControl), 0, "%q", err)
			require.Less(t, len(err.Error()), 700)
		}
	})
}

var partSeeds = [][]string{
	{"18x3", "8 square", "4 round", "6x3 D", "6 D", "7x5 lozenge", "1/2in half-round", "100000x0.001 d"},
	{"2x120", "2x120@0", "1e2x3@end", "2\"x120 mm@ END ", "@0"},
	{"62x3x8", "iso 54 x1.5x4", "us 7 x1.5x4", "ISO 99999999999x1x1", "us 1e3 x1x1"},
	{"hemispherical 100x50", "conical 100000x100000", "flat-bottomed 0.001x1234567", "flat-bottomed 4in x 2in"},
	{"2.5%", "2,5 %", "90%", ".0000001 %", "1e9%"},
	{"ozt", " DWT ", "ertog", "roman-pound"},
}

var partReaders = []func(*testing.T, string) error{
	func(t *testing.T, text string) error {
		s, err := ParseSection(text)
		if err == nil {
			back, err := ParseSection(s.String())
			require.NoError(t, err)
			require.Equal(t, s, back)
			requireFinite(t, float64(s.Thick), float64(s.Width), float64(s.Area()))
		}
		return err
	},
	func(t *testing.T, text string) error {
		g, err := ParseTang(text)
		if err == nil {
			back, err := ParseTang(g.String())
			require.NoError(t, err)
			require.Equal(t, g, back)
			requireFinite(t, float64(g.Volume()))
		}
		return err
	},
	func(t *testing.T, text string) error {
		r, err := ParseRing(text)
		if err == nil {
			require.NoError(t, r.Check())
			requireFinite(t, float64(r.Inside), float64(r.Blank()), float64(r.TradeBlank()))
		}
		return err
	},
	func(t *testing.T, text string) error {
		b, err := ParseBowl(text)
		if err == nil {
			back, err := ParseBowl(b.String())
			require.NoError(t, err)
			require.Equal(t, b, back)
			require.NoError(t, b.Check())
			requireFinite(t, float64(b.Area()), float64(b.Disc()), float64(b.RuleDisc()))
		}
		return err
	},
	func(t *testing.T, text string) error {
		share, err := ParseShare(text)
		if err == nil {
			require.True(t, share >= 0 && share <= MaxLoss, share)
		}
		return err
	},
	func(t *testing.T, text string) error {
		w, err := ParseWeight(text)
		if err == nil {
			require.LessOrEqual(t, w.Low, w.High)
			requireFinite(t, float64(w.Low), float64(w.High))
			require.Equal(t, w.Name, must(ParseWeight(w.Name)).Name)
		}
		return err
	},
}

func must(w Weight, err error) Weight {
	if err != nil {
		panic(err)
	}
	return w
}

func requireFinite(t *testing.T, figures ...float64) {
	for _, v := range figures {
		require.True(t, v > 0 && !math.IsInf(v, 0), "%v", v)
	}
}
