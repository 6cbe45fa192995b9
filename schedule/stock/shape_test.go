package stock

import (
	"math"
	"testing"

	"dullred/alloys/unit"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

func mustShape(t testing.TB, text string) Shape {
	t.Helper()
	s, err := ParseShape(text)
	require.NoError(t, err)
	return s
}

func TestVolume(t *testing.T) {
	cases := []struct {
		name, shape string
		want        float64
		reason      string
	}{
		{"flared band", "0:6x3 95:18x3 190:6x3", 6840, "3 (6+18)/2 190"},
		{"even bar", "0:10x10 74:10x10", 7400, "a box"},
		{"tapers both ways", "0:6x4 80:3x2", 1120, "the mean of the ends would be 1200"},
		{"cone frustum", "0:10 round 20:6 round", math.Pi * 20 / 3 * (25 + 15 + 9), "π h/3 (R² + R r + r²)"},
		{"square frustum", "0:6 square 30:3 square", 30.0 / 3 * (36 + 18 + 9), "h/3 (A1 + √(A1 A2) + A2)"},
		{"square to rectangle", "0:6 square 30:12x3", 30.0 / 6 * (36 + 4*9*4.5 + 36), "more in the middle than at either end"},
		{"half round", "0:6x3 D 100:6x3 D", 100 * math.Pi * 9 / 2, "half a circle of radius 3"},
		{"lozenge", "0:7x5 lozenge 100:7x5 lozenge", 1750, "half the box"},
		{"shoulder", "0:4 square 10:4 square 10:2 square 30:2 square", 160 + 80, "each side of it by itself"},
		{"with a tang", "0:6x1.5 50:6x1.5 tang:2x120", 450 + math.Pi*120, "the wire is added"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.InDelta(t, c.want, float64(mustShape(t, c.shape).Volume()), 1e-9*c.want, c.reason)
		})
	}
}

func TestLargestAndSmallest(t *testing.T) {
	cases := []struct {
		name, shape        string
		from, to           unit.Millimetre
		most, at, least, l float64
		reason             string
	}{
		{"flared", "0:6x3 95:18x3 190:6x3", 0, 190, 54, 95, 18, 0, "the middle"},
		{"one end of it", "0:6x3 95:18x3 190:6x3", 0, 47.5, 36, 47.5, 18, 0, "only what is asked for"},
		{"a point", "0:6x3 95:18x3 190:6x3", 95, 95, 54, 95, 54, 95, "no length"},
		{"beyond the ends", "0:6x3 95:18x3 190:6x3", -20, 500, 54, 95, 18, 0, "brought inside"},
		{"wide to thick", "0:2x10 80:10x2", 0, 80, 36, 40, 20, 0, "6x6 on the way, found by the vertex and not by the stations"},
		{"past the vertex", "0:2x10 80:10x2", 60, 80, 32, 60, 20, 80, "8x4: the vertex lies outside"},
		{"both sides of a shoulder", "0:4 square 10:4 square 10:2 square 30:2 square", 10, 30, 16, 10, 4, 10, "the larger side counts for most, the smaller for least"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := mustShape(t, c.shape)
			most, at := s.Largest(c.from, c.to)
			least, l := s.Smallest(c.from, c.to)
			require.InDeltaSlice(t, []float64{c.most, c.at, c.least, c.l},
				[]float64{float64(most), float64(at), float64(least), float64(l)}, 1e-9, c.reason)
		})
	}
}

func TestAt(t *testing.T) {
	s := mustShape(t, "0:6x3 95:18x3 95:8 round 190:4 round")
	require.Equal(t, "12x3", s.At(47.5).String(), "half way")
	require.Equal(t, "8 round", s.At(95).String(), "at a shoulder what follows")
	require.Equal(t, "6 round", s.At(142.5).String(), "half way")
	require.Equal(t, "4 round", s.At(1000).String(), "the end")
	require.Equal(t, Section{}, Shape{}.At(3), "a shape with nothing in it has no section")
	side, where := s.NearShape()
	require.InDelta(t, math.Sqrt(54), float64(side), 1e-12, "the square of 54 mm²")
	require.Equal(t, unit.Millimetre(95), where)
}

// TestCheck is of shapes that were not typed, so that a program cannot reckon on.
func TestCheck(t *testing.T) {
	good := Section{Rectangular, 6, 3}
	nan := unit.Millimetre(math.NaN())
	cases := []struct {
		name   string
		shape  Shape
		says   string
		reason string
	}{
		{"nothing", Shape{}, "two stations", "the zero shape"},
		{"no kind", Shape{Stations: []Station{{0, Section{Width: 1, Thick: 1}}, {9, good}}}, "no kind", "the zero kind has no area"},
		{"no such kind", Shape{Stations: []Station{{0, good}, {9, Section{9, 1, 1}}}}, "no kind", "beyond the last"},
		{"a place that is no number", Shape{Stations: []Station{{0, good}, {nan, good}, {9, good}}}, "ascending", "comparisons with NaN are false"},
		{"an end that is no number", Shape{Stations: []Station{{0, good}, {nan, good}}}, "long", "NaN"},
		{"a side that is no number", Shape{Stations: []Station{{0, good}, {9, Section{Rectangular, nan, 1}}}}, "side", "NaN"},
		{"an oval round", Shape{Stations: []Station{{0, good}, {9, Section{Round, 3, 2}}}}, "one size", "a round has one diameter"},
		{"three at one place", Shape{Stations: []Station{{0, good}, {4, good}, {4, good}, {4, good}, {9, good}}}, "shoulder", "two are a shoulder"},
		{"a tang without an end", Shape{Stations: []Station{{0, good}, {9, good}}, Tangs: []Tang{{5, 1, 1}}}, "too many", "there are two ends"},
		{"a tang without a length", Shape{Stations: []Station{{0, good}, {9, good}}, Tangs: []Tang{{Start, 1, nan}}}, "no length", "NaN"},
		{"too many stations", Shape{Stations: make([]Station, MaxStations+1)}, "longer", "a bound on the work"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.ErrorContains(t, c.shape.Check(), c.says, c.reason)
		})
	}
}

// The prismoidal rule against the integral of the area along the piece. Quadrature
// of three points is exact to the fifth power, so each taper is split to be no
// better off for it.
//
// Outside check (reference): gonum, quad: the volume of a tapered piece.
func TestVolumeIsTheIntegralOfTheArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		require.NoError(t, s.Check())
		sum := 0.0
		for i := 1; i < len(s.Stations); i++ {
			a, b := s.Stations[i-1].At, s.Stations[i].At
			area := func(x float64) float64 { return float64(s.At(unit.Millimetre(x)).Area()) }
			sum += quad.Fixed(area, float64(a), float64(b), 16, nil, 0)
		}
		require.InEpsilon(t, sum, float64(s.Body()), 1e-9)
	})
}

func TestVolumeAddsUpWhereverItIsCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		at := s.Length() * unit.Millimetre(rapid.Float64Range(0.001, 0.999).Draw(t, "cut"))
		left, err := s.Part(0, at)
		require.NoError(t, err)
		right, err := s.Part(at, s.Length())
		require.NoError(t, err)
		require.InEpsilon(t, float64(s.Volume()), float64(left.Volume()+right.Volume()), 1e-9)
		require.InEpsilon(t, float64(s.Length()), float64(left.Length()+right.Length()), 1e-12)
		require.Len(t, append(left.Tangs, right.Tangs...), len(s.Tangs), "each tang goes with its end")
	})
}

func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		require.InEpsilon(t, k*float64(s.Volume()), float64(s.Lengthened(k).Volume()), 1e-9)
		require.InEpsilon(t, k*k*k*float64(s.Volume()), float64(s.Scaled(k).Volume()), 1e-9)
		require.InEpsilon(t, k*float64(s.Length()), float64(s.Lengthened(k).Length()), 1e-12)
	})
}

// Nothing between two places is larger than Largest or smaller than Smallest, and
// both are met where they say.
func TestExtremesBoundEveryPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		share := rapid.Float64Range(0, 1)
		x, y := share.Draw(t, "x"), share.Draw(t, "y")
		from, to := s.Length()*unit.Millimetre(min(x, y)), s.Length()*unit.Millimetre(max(x, y))
		most, at := s.Largest(from, to)
		least, low := s.Smallest(from, to)
		require.True(t, at >= from && at <= to && low >= from && low <= to)
		for i := range 101 {
			a := s.At(from + (to-from)*unit.Millimetre(i)/100).Area()
			require.LessOrEqual(t, float64(a), float64(most)*(1+1e-9))
			require.GreaterOrEqual(t, float64(a), float64(least)*(1-1e-9))
		}
	})
}

func TestPartRefusesNothing(t *testing.T) {
	s := mustShape(t, "0:6x3 95:18x3")
	for _, c := range [][2]unit.Millimetre{{5, 5}, {9, 3}, {-1, 5}, {5, 96}, {unit.Millimetre(math.NaN()), 5}} {
		_, err := s.Part(c[0], c[1])
		require.ErrorContains(t, err, "no part of a piece 95 mm long")
	}
}
