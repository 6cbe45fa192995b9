package heat

import (
	"math"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// wild draws what a bench never gives: far too much, no number, no end.
func wild(t *rapid.T, name string) float64 {
	switch rapid.IntRange(0, 7).Draw(t, name+" of a kind") {
	case 0, 1:
		return rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -273.15, 1e-9, 20, 1e6, -1e6}).Draw(t, name)
	case 2, 3:
		return figure(t, name)
	}
	return rapid.Float64Range(-273, 4000).Draw(t, name)
}

// figure is a number, believable or not.
func figure(t *rapid.T, name string) float64 { return rapid.Float64Range(-1e6, 1e6).Draw(t, name) }

func wildTemp(t *rapid.T, name string) unit.Celsius { return unit.Celsius(wild(t, name)) }

// share is an emissivity: half of them can be.
func share(t *rapid.T) float64 {
	if rapid.Bool().Draw(t, "an emissivity that can be") {
		return rapid.Float64Range(0, 1).Draw(t, "emissivity")
	}
	return wild(t, "emissivity")
}

// wildLength is none, or more than a millionth of a mm.
func wildLength(t *rapid.T, name string) unit.Millimetre {
	return unit.Millimetre(rapid.OneOf(rapid.Just(0.), rapid.Float64Range(1e-6, 1000), rapid.Float64Range(1e-6, 1e6)).Draw(t, name))
}

func wildSize(t *rapid.T) unit.Size {
	z := unit.Size{Shape: rapid.SampledFrom([]unit.Shape{unit.Rectangular, unit.Square, unit.Sheet, unit.Round, unit.Tube, unit.Ring, 99}).Draw(t, "shape")}
	a, b, c := wildLength(t, "a"), wildLength(t, "b"), wildLength(t, "c")
	switch z.Shape {
	case unit.Rectangular:
		z.Thick, z.Width = a, b
	case unit.Square:
		z.Thick, z.Width = a, a
	case unit.Sheet:
		z.Thick = a
	case unit.Round:
		z.Diameter = a
	case unit.Tube:
		z.Thick, z.Diameter = a, b
	default:
		z.Thick, z.Width, z.Diameter = a, b, c
	}
	return z
}

// someAlloy is drawn by its place, since an alloy is long in print.
func someAlloy(t *rapid.T) alloys.Alloy {
	all := alloys.All()
	return all[rapid.IntRange(0, len(all)-1).Draw(t, "alloy")]
}

func someMetal(t *rapid.T) Metal {
	return rapid.SampledFrom([]Metal{copperA1, silverA1, goldA1, brassA1}).Draw(t, "metal")
}

// someBody is of a metal that there is and of a size that can be, or the zero Body.
func someBody(t *rapid.T) Body {
	b, _ := BodyOf(someMetal(t), wildSize(t), wildLength(t, "length"))
	return b
}

func someFlame(t *rapid.T) Flame {
	if rapid.Bool().Draw(t, "a flame of a bench") {
		return Flame{Temp: BenchFlame, H: rapid.Float64Range(1, 500).Draw(t, "h of a torch"), Faces: 1, Brick: rapid.Bool().Draw(t, "brick")}
	}
	return Flame{Temp: wildTemp(t, "flame"), H: wild(t, "h of the flame"), Faces: rapid.IntRange(-1, 3).Draw(t, "faces"), Brick: rapid.Bool().Draw(t, "brick")}
}

func someCooling(t *rapid.T) Cooling {
	return Cooling{Body: someBody(t), Emissivity: share(t), Room: rapid.SampledFrom([]unit.Celsius{20, wildTemp(t, "room")}).Draw(t, "room taken"), H: rapid.SampledFrom([]float64{0, 10, wild(t, "h")}).Draw(t, "h taken")}
}

func someHeating(t *rapid.T) Heating {
	c := someCooling(t)
	return Heating{Body: c.Body, Flame: someFlame(t), Emissivity: c.Emissivity, Room: c.Room, H: c.H}
}

func someTime(t *rapid.T) time.Duration { return time.Duration(rapid.Int64().Draw(t, "time")) }

func numbers(t *rapid.T, what string, all ...float64) {
	t.Helper()
	for _, v := range all {
		require.False(t, math.IsNaN(v), what)
	}
}

func times(t *rapid.T, what string, all ...time.Duration) {
	t.Helper()
	for _, d := range all {
		require.GreaterOrEqual(t, d, time.Duration(0), what)
	}
}

func wildWork(t *rapid.T) unit.Strain {
	return unit.Strain(rapid.SampledFrom([]float64{0.5, 0.1, wild(t, "work")}).Draw(t, "work taken"))
}

func wildHistory(t *rapid.T) []Span {
	var all []Span
	for range rapid.IntRange(0, 3).Draw(t, "spans") {
		all = append(all, Span{wildTemp(t, "span"), someTime(t)})
	}
	return all
}

func wildKinetics(t *rapid.T) Kinetics {
	a, _ := alloys.Find(rapid.SampledFrom([]string{"brass", "copper", "fine silver", "sterling"}).Draw(t, "kinetics of"))
	k, _ := KineticsOf(a)
	var proofs []Proof
	for range rapid.IntRange(0, 3).Draw(t, "proofs") {
		proofs = append(proofs, Proof{wildWork(t), wildHistory(t), rapid.Bool().Draw(t, "soft")})
	}
	return k.Proved(proofs)
}
