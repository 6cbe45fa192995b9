package coldwork

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func bar(t, w unit.Millimetre) Section {
	return Section{Shape: unit.Rectangular, Thick: t, Width: w}
}
func square(side unit.Millimetre) Section {
	return Section{Shape: unit.Square, Thick: side, Width: side}
}
func round(d unit.Millimetre) Section { return Section{Shape: unit.Round, Diameter: d} }
func sheet(t unit.Millimetre) Section { return Section{Shape: unit.Sheet, Thick: t} }
func tube(d, wall unit.Millimetre) Section {
	return Section{Shape: unit.Tube, Diameter: d, Thick: wall}
}
func ring(inside, t, w unit.Millimetre) Section {
	return Section{Shape: unit.Ring, Diameter: inside, Thick: t, Width: w}
}
func vessel(t, d unit.Millimetre) Section {
	return Section{Shape: unit.Sheet, Thick: t, Diameter: d}
}

// size draws a measure that a calliper can read, as often small as large.
func size(t *rapid.T, label string) unit.Millimetre {
	low, high := math.Log(float64(unit.MinLength)), math.Log(float64(unit.MaxLength))
	l := unit.Millimetre(math.Exp(rapid.Float64Range(low, high).Draw(t, label)))
	return min(max(l, unit.MinLength), unit.MaxLength)
}

// kinds of section of which any two can be compared.
var kinds = []struct {
	name string
	draw func(t *rapid.T) Section
}{
	{"bar", func(t *rapid.T) Section {
		switch rapid.IntRange(0, 2).Draw(t, "shape") {
		case 0:
			return round(size(t, "diameter"))
		case 1:
			return square(size(t, "side"))
		}
		return bar(size(t, "thick"), size(t, "width"))
	}},
	{"sheet", func(t *rapid.T) Section { return sheet(size(t, "thick")) }},
	{"tube", func(t *rapid.T) Section {
		d := max(size(t, "diameter"), 3*unit.MinLength)
		return tube(d, max(unit.MinLength, d*unit.Millimetre(rapid.Float64Range(0, 0.49).Draw(t, "wall"))))
	}},
	{"ring", func(t *rapid.T) Section { return ring(size(t, "inside"), size(t, "thick"), size(t, "width")) }},
	{"vessel", func(t *rapid.T) Section { return vessel(size(t, "thick"), size(t, "ring")) }},
}

// sections draws n sections of one kind.
func sections(t *rapid.T, n int) (drawn []Section) {
	kind := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]
	for range n {
		drawn = append(drawn, kind.draw(t))
	}
	return drawn
}

func TestDrawnSectionsAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, s := range sections(t, 2) {
			if s.vessel() {
				s.Diameter = 0 // a vessel is typed as a sheet and a ring
			}
			require.NoError(t, unit.Size(s).Check())
		}
	})
}

func TestOnlySectionsOfOneKindAreComparable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(0, len(kinds)-1).Draw(t, "a")
		b := rapid.IntRange(0, len(kinds)-1).Draw(t, "b")
		x, y := kinds[a].draw(t), kinds[b].draw(t)
		require.Equal(t, a == b, x.Comparable(y))
		require.Equal(t, a == b, y.Comparable(x))
		require.False(t, x.Comparable(Section{}))
		require.False(t, Section{}.Comparable(x))
	})
	require.False(t, Section{}.Comparable(Section{}), "nothing measured is nothing to compare")
}

func TestSeen(t *testing.T) {
	const calliper = 0.1
	for _, c := range []struct {
		name     string
		from, to Section
		want     bool
		reason   string
	}{
		{"bar within the error", bar(8, 8), bar(7.95, 8.05), false, "both sides inside 0.1 mm"},
		{"bar in one side", bar(8, 8), bar(7.85, 8), true, "one side is enough"},
		{"round within the error", round(6), round(5.91), false, "0.09 mm of diameter"},
		{"round beyond the error", round(6), round(5.89), true, "0.11 mm of diameter, though only 0.097 mm of the equal square"},
		{"tube within the error", tube(12, 1), tube(11.95, 1), false, "0.05 mm of diameter, though 0.157 mm of circumference"},
		{"tube beyond the error", tube(12, 1), tube(11.85, 1), true, "0.15 mm of diameter"},
		{"tube in the wall", tube(12, 1), tube(12, 0.85), true, "0.15 mm of wall"},
		{"vessel in its ring", vessel(1, 90), vessel(1, 89.8), true, "0.2 mm of ring"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, c.from.Seen(c.to, calliper), c.reason)
			require.False(t, c.from.Seen(c.from, calliper), "nothing changed")
		})
	}
}

func TestCheckChange(t *testing.T) {
	shrunk, err := ring(62, 3, 8).AtRing(56)
	require.NoError(t, err)
	for _, c := range []struct {
		name     string
		from, to Section
		want     error
		reason   string
	}{
		{"drawn out", bar(8, 8), bar(6.4, 7.2), nil, "both sides fall"},
		{"spread", bar(8, 8), bar(6, 9), nil, "one side may grow"},
		{"read a little large", bar(8, 8), bar(8.05, 8.05), nil, "inside the error of the calliper"},
		{"grown bar", bar(8, 8), bar(8.3, 8.2), ErrGrew, "no hammer adds metal"},
		{"grown wire", round(3), round(3.2), ErrGrew, "both sides of the equal square grew"},
		{"grown sheet", sheet(1.2), sheet(1.4), ErrGrew, "the width is not followed"},
		{"vessel thickened by raising", vessel(1, 90), vessel(1.2, 70), nil, "the ring shrank"},
		{"ring shrunk", ring(62, 3, 8), shrunk, nil, "a closed ring gets thicker and wider as it gets shorter"},
		{"grown ring", ring(62, 3, 8), ring(62, 3.3, 8.3), ErrGrew, "no part of it shrank"},
		{"sheet and bar", sheet(1.2), bar(1.2, 8), ErrShape, "nothing is known of the sheet's width"},
		{"nothing read", Section{}, Section{}, ErrShape, "nothing to compare"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.ErrorIs(t, c.from.CheckChange(c.to, 0.1), c.want, c.reason)
		})
	}
}

func TestGrown(t *testing.T) {
	require.False(t, bar(8, 8).Grown(bar(8.05, 7), 0.1), "inside the error")
	require.True(t, bar(8, 8).Grown(bar(7, 8.2), 0.1), "a side grew")
	require.False(t, tube(12, 1).Grown(tube(12.05, 1), 0.1), "0.05 mm of diameter")
}

// The new blank is measured with the old thickness, which is good to 1 % for a
// tenth more or less.
func TestAtRingKeepsTheVolumeOfARing(t *testing.T) {
	volume := func(s Section) float64 {
		area, _ := s.Area()
		return float64(area) * float64(s.BlankLength())
	}
	rapid.Check(t, func(t *rapid.T) {
		before := ring(unit.Millimetre(rapid.Float64Range(40, 300).Draw(t, "inside")), 3, 8)
		after, err := before.AtRing(before.Diameter * unit.Millimetre(rapid.Float64Range(0.9, 1.1).Draw(t, "by")))
		require.NoError(t, err)
		require.InEpsilon(t, volume(before), volume(after), 0.01)
	})
	_, err := round(3).AtRing(60)
	require.ErrorIs(t, err, ErrShape)
}

func TestAfterCompletesAReading(t *testing.T) {
	require.Equal(t, ring(62, 2.8, 8.1), ring(62, 3, 8).After(bar(2.8, 8.1)), "a ring keeps its diameter")
	require.Equal(t, vessel(0.9, 80), vessel(1, 80).After(sheet(0.9)), "a vessel keeps its ring")
	require.Equal(t, bar(5, 5), bar(6, 6).After(bar(5, 5)), "a bar has nothing to add")
}

func TestDepthIsTheThicknessThatBends(t *testing.T) {
	require.EqualValues(t, 3, bar(8, 3).Depth(), "the easy way")
	require.EqualValues(t, 6, round(6).Depth())
	require.EqualValues(t, 1.2, sheet(1.2).Depth())
	require.EqualValues(t, 3, ring(62, 3, 8).Depth())
}

func TestVesselNamesItsRing(t *testing.T) {
	require.Equal(t, "1 mm sheet at a ring of 90 mm", vessel(1, 90).String())
	require.Equal(t, "6.4x7.2 mm", bar(6.4, 7.2).String())
	_, ok := sheet(1).Area()
	require.False(t, ok, "the width of a sheet is not followed")
}

func TestSectionPrintsWhatACalliperShows(t *testing.T) {
	stretched, err := ring(18, 2, 3).AtRing(19)
	require.NoError(t, err)
	require.Equal(t, "19x1.95x2.93 mm ring", stretched.String(), "figures that were reckoned are rounded")
	require.Equal(t, "0.004 mm sheet", sheet(0.004).String(), "foil is not rounded away")
}
