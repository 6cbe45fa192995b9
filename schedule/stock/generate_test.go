package stock

import (
	"dullred/alloys/unit"

	"pgregory.net/rapid"
)

// anySection is a section of a kind that a piece may have.
func anySection(t *rapid.T, k Kind) Section {
	side := rapid.Float64Range(0.5, 40)
	s := Section{k, unit.Millimetre(side.Draw(t, "width")), unit.Millimetre(side.Draw(t, "thick"))}
	if k == Square || k == Round {
		s.Thick = s.Width
	}
	return s
}

// anyShape is a piece of one to six tapers with shoulders between where the kind
// changes, and sometimes where it does not.
func anyShape(t *rapid.T) Shape {
	kinds := []Kind{Rectangular, Square, Round, D, Lozenge}
	k := rapid.SampledFrom(kinds).Draw(t, "kind")
	s := Shape{Stations: []Station{{0, anySection(t, k)}}}
	n := rapid.IntRange(1, 6).Draw(t, "tapers")
	for i := range n {
		at := s.Length() + unit.Millimetre(rapid.Float64Range(0.5, 300).Draw(t, "length"))
		s.Stations = append(s.Stations, Station{at, anySection(t, k)})
		if i < n-1 && rapid.Bool().Draw(t, "shoulder") {
			k = rapid.SampledFrom(kinds).Draw(t, "kind")
			s.Stations = append(s.Stations, Station{at, anySection(t, k)})
		}
	}
	for _, e := range []End{Start, Finish} {
		if rapid.Bool().Draw(t, "tang") {
			s.Tangs = append(s.Tangs, Tang{e, 0.3, unit.Millimetre(rapid.Float64Range(1, 500).Draw(t, "tang length"))})
		}
	}
	return s
}
