package unit_test

import (
	"math"
	"slices"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func parseLike(s string) (unit.Size, error) { return unit.ParseSize(s, unit.Unshaped) }

func rectangular(thick, width unit.Millimetre) unit.Size {
	return unit.Size{Shape: unit.Rectangular, Thick: thick, Width: width}
}
func square(side unit.Millimetre) unit.Size {
	return unit.Size{Shape: unit.Square, Thick: side, Width: side}
}
func round(d unit.Millimetre) unit.Size     { return unit.Size{Shape: unit.Round, Diameter: d} }
func sheet(thick unit.Millimetre) unit.Size { return unit.Size{Shape: unit.Sheet, Thick: thick} }
func tube(outside, wall unit.Millimetre) unit.Size {
	return unit.Size{Shape: unit.Tube, Diameter: outside, Thick: wall}
}
func ring(inside, thick, width unit.Millimetre) unit.Size {
	return unit.Size{Shape: unit.Ring, Diameter: inside, Thick: thick, Width: width}
}

func TestParseSize(t *testing.T) {
	for _, c := range []struct {
		text string
		like unit.Shape
		want unit.Size
		why  string
	}{
		{"8x8", 0, rectangular(8, 8), "two equal readings are still two readings"},
		{"8 x 6.5mm", 0, rectangular(8, 6.5), "the unit behind the last number holds for both"},
		{"8mmx6mm", 0, rectangular(8, 6), "no blanks at all"},
		{"8×6.5", 0, rectangular(8, 6.5), "multiplication sign"},
		{"8*6.5", 0, rectangular(8, 6.5), "asterisk"},
		{"8X6,5", 0, rectangular(8, 6.5), "capital X, decimal comma"},
		{"12,5x8", 0, rectangular(12.5, 8), "decimal comma"},
		{"0.5in x 8mm", 0, rectangular(12.7, 8), "a unit of its own for each"},
		{"0.5x0.25in", 0, rectangular(12.7, 6.35), "both in inches"},
		{`1/2x1/4"`, 0, rectangular(12.7, 6.35), "both fractions of an inch"},
		{"8mm x 6", 0, rectangular(8, 6), "a bare number beside mm is in mm"},
		{"20ga x 5mm", 0, rectangular(0.811821, 5), "gauge is a length of its own"},
		{"8x6 rectangular", 0, rectangular(8, 6), "the shape written out"},
		{"6x8", 0, rectangular(6, 8), "the order of typing is kept"},
		{"ø3", 0, round(3), "diameter sign, small"},
		{"Ø3", 0, round(3), "diameter sign, capital"},
		{"⌀3", 0, round(3), "diameter sign of drawings"},
		{"ø 1/8in", 0, round(3.175), "diameter sign with a unit"},
		{"3 round", 0, round(3), "word behind"},
		{"round 3", 0, round(3), "word before"},
		{"3 dia", 0, round(3), "as on drawings"},
		{"3mm round", 0, round(3), "unit and word"},
		{"20ga round", 0, round(0.811821), "wire by gauge"},
		{"8 square", 0, square(8), "both sides are the one reading"},
		{"SQUARE 8", 0, square(8), "case does not matter"},
		{"1.2 sheet", 0, sheet(1.2), "word behind"},
		{"sheet 1.2", 0, sheet(1.2), "word before"},
		{"20ga sheet", 0, sheet(0.811821), "sheet by gauge"},
		{"tube 12x1", 0, tube(12, 1), "outside diameter, then wall"},
		{"12x1 tube", 0, tube(12, 1), "word behind"},
		{"0.5x0.03in tube", 0, tube(12.7, 0.762), "both in inches"},
		{"ring 62x3x8", 0, ring(62, 3, 8), "inside diameter, thickness, width"},
		{"62x3x8 ring", 0, ring(62, 3, 8), "word behind"},
		{"62x3x8mm ring", 0, ring(62, 3, 8), "one unit for all three"},
		{"3", unit.Round, round(3), "a bare number takes the shape of the piece"},
		{"3mm", unit.Square, square(3), "a bare number takes the shape of the piece"},
		{"20ga", unit.Sheet, sheet(0.811821), "a bare number takes the shape of the piece"},
		{"62x3x8", unit.Ring, ring(62, 3, 8), "three bare numbers on a ring"},
		{"8x6", unit.Round, rectangular(8, 6), "two numbers are two sides, whatever the piece was"},
		{"11x1", unit.Tube, rectangular(11, 1), "two numbers are two sides, whatever the piece was"},
		{"3 round", unit.Square, round(3), "the typed word wins"},
	} {
		t.Run(c.text, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			got, err := unit.ParseSize(c.text, c.like)
			require.NoError(t, err, c.why)
			require.Equal(t, c.want, got, c.why)
			require.True(t, got.Valid(), c.why)
		})
	}
}

func TestParseSizeRefuses(t *testing.T) {
	const expected = "expected a size such as 8x8, 8 x 6.5mm, 3 round, 1.2 sheet or 20ga round"
	testRefused(t, parseLike, []refused{
		{"", expected, "nothing typed"},
		{"8x-6", expected, "negative"},
		{"-8x6", expected, "negative"},
		{"x8", expected, "first number missing"},
		{"8x", expected, "last number missing"},
		{"8xx6", expected, "two signs"},
		{"8x6x5x4", expected, "four numbers"},
		{"8 6", expected, "no sign between"},
		{"hex 8", expected, "no such shape"},
		{"round", expected, "no number"},
		{"round 3 round", "expected a length", "the word twice"},
		{"8x8x", expected, "a number missing"},
		{"1.200,5x3", "expected a length", "a point and a comma"},
		{"1e3x2", expected, "exponent"},
		{"8xnan", expected, "not a number"},
		{"8kg round", "expected a length", "not a length"},
		{"8", "round, square or sheet", "a bare number on an unknown shape says which words to add"},
		{"8mm", "round, square or sheet", "the same with a unit"},
		{"62x3x8", "the word ring", "three bare numbers say which word to add"},
		{"8x0", "0 mm is not a length", "zero"},
		{"0x10", "0 mm is not a length", "hexadecimal, or a zero side"},
		{"8x100001", "is not a length", "above 100 m"},
		{"3x8 round", "expected a round size such as 3 round", "a round has one reading"},
		{"8x8 square", "expected a square size such as 3 square", "a square has one reading"},
		{"12 tube", "outside diameter x wall", "a tube has two readings"},
		{"62x3 ring", "inside diameter x thickness x width", "a ring has three readings"},
		{"8 rectangular", "expected a rectangular size such as 8x6.5", "a rectangle has two readings"},
		{"12x6 tube", "wall 6 mm is not below half the outside diameter 12 mm", "no bore left"},
		{"tube 1x12", "wall 12 mm is not below half", "typed the wrong way round"},
		{"0.5in x 0.25", "expected a unit with each number", "in or mm for the second is a guess"},
		{"5x20ga", "expected a unit with each number", "a gauge does not spread to the other number"},
		{"20swg round", "SWG is another table", "the British gauge"},
		{"20.5ga sheet", "whole B&S gauge", "only whole gauges"},
	})
}

func TestBareNumberNeedsAShapeOfOneReading(t *testing.T) {
	for _, like := range []unit.Shape{unit.Unshaped, unit.Rectangular, unit.Tube, unit.Ring} {
		_, err := unit.ParseSize("8", like)
		require.ErrorContains(t, err, "round, square or sheet", like.String())
	}
}

func TestSizeString(t *testing.T) {
	for want, size := range map[string]unit.Size{
		"6.4x7.2 mm":     rectangular(6.4, 7.2),
		"3 mm round":     round(3),
		"8 mm square":    square(8),
		"1.2 mm sheet":   sheet(1.2),
		"12x1 mm tube":   tube(12, 1),
		"62x3x8 mm ring": ring(62, 3, 8),
		"unshaped":       {},
	} {
		require.Equal(t, want, size.String())
	}
}

func TestSizeCheck(t *testing.T) {
	nan, inf := unit.Millimetre(math.NaN()), unit.Millimetre(math.Inf(1))
	for _, c := range []struct {
		size unit.Size
		part string
		why  string
	}{
		{unit.Size{}, "no shape", "nothing measured"},
		{unit.Size{Shape: 99, Thick: 1}, "no shape", "a shape from nowhere"},
		{unit.Size{Shape: unit.Round}, "0 mm is not a length", "no diameter"},
		{round(-3), "-3 mm is not a length", "negative"},
		{round(nan), "NaN mm is not a length", "not a number"},
		{sheet(inf), "+Inf mm is not a length", "infinite"},
		{rectangular(8, 0), "0 mm is not a length", "one side missing"},
		{unit.Size{Shape: unit.Square, Thick: 8, Width: 7}, "a measure that its shape does not use", "a square with two sides"},
		{unit.Size{Shape: unit.Round, Diameter: 3, Thick: 1}, "a measure that its shape does not use", "a round with a thickness"},
		{unit.Size{Shape: unit.Sheet, Thick: 1, Width: nan}, "a measure that its shape does not use", "NaN in an unused field"},
		{tube(12, 6), "not below half", "no bore left"},
	} {
		require.NotEmpty(t, c.why)
		require.ErrorContains(t, c.size.Check(), c.part, c.why)
		require.False(t, c.size.Valid(), c.why)
	}
	require.NoError(t, tube(12, 5.99).Check(), "a bore is left")
}

func TestShapeNamed(t *testing.T) {
	for shape := unit.Rectangular; shape <= unit.Ring; shape++ {
		require.Equal(t, shape, unit.ShapeNamed(shape.String()))
	}
	require.Equal(t, unit.Unshaped, unit.ShapeNamed(""))
	require.Equal(t, unit.Unshaped, unit.ShapeNamed(unit.Unshaped.String()))
}

// anySize draws a valid size of any shape.
var anySize = rapid.Custom(func(t *rapid.T) unit.Size {
	mm := func(name string, most unit.Millimetre) unit.Millimetre {
		return unit.Millimetre(rapid.Float64Range(float64(unit.MinLength), float64(most)).Draw(t, name))
	}
	switch rapid.IntRange(1, 6).Draw(t, "shape") {
	case 1:
		return rectangular(mm("thick", unit.MaxLength), mm("width", unit.MaxLength))
	case 2:
		return square(mm("side", unit.MaxLength))
	case 3:
		return round(mm("diameter", unit.MaxLength))
	case 4:
		return sheet(mm("thick", unit.MaxLength))
	case 5:
		wall := mm("wall", unit.MaxLength/3)
		return tube(3*wall, wall)
	}
	return ring(mm("inside", unit.MaxLength), mm("thick", unit.MaxLength), mm("width", unit.MaxLength))
})

func TestSizeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anySize.Draw(t, "size")
		like := unit.Shape(rapid.IntRange(0, 6).Draw(t, "like"))
		got, err := unit.ParseSize(want.String(), like)
		require.NoError(t, err)
		require.Equal(t, want, got, "whatever the piece was")
	})
}

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"8x8", "8 x 6.5mm", "0.5in x 8", "ø3", "3 round", "20ga sheet", "tube 12x1", "62x3x8 ring", "8", "8x-6"} {
		f.Add(s, uint8(unit.Unshaped))
		f.Add(s, uint8(unit.Sheet))
	}
	f.Fuzz(func(t *testing.T, s string, like uint8) {
		got, err := unit.ParseSize(s, unit.Shape(like))
		if err != nil {
			requireClause(t, s, err)
			return
		}
		require.NoError(t, got.Check())
		fields := []float64{float64(got.Thick), float64(got.Width), float64(got.Diameter)}
		requirePositive(t, slices.Max(fields))
		require.GreaterOrEqual(t, slices.Min(fields), 0.0)
		again, err := unit.ParseSize(got.String(), unit.Shape(like))
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}
