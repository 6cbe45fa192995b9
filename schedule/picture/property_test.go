package picture_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/picture"
)

// tellings are entries of one piece in any order, that make sense or not.
var tellings = rapid.Custom(func(t *rapid.T) []schedule.Entry {
	s := &telling{}
	for range rapid.IntRange(0, 24).Draw(t, "entries") {
		zones := rapid.SampledFrom([][]string{nil, nil, {"tip"}, {"butt"}, {"tip", "butt"}, {schedule.Whole}, {"gone"}}).Draw(t, "zones")
		s.on(rapid.SampledFrom([]schedule.ID{kw, mb, ""}).Draw(t, "hand"), zones, anyBody(len(s.entries)).Draw(t, "body"))
		s.entries[len(s.entries)-1].At = evening.Add(time.Duration(rapid.IntRange(0, 600).Draw(t, "minute")) * time.Minute)
	}
	return s.entries
})

var anyReading = rapid.Custom(func(t *rapid.T) schedule.Reading {
	side := rapid.Float64Range(0.01, 500)
	shape := rapid.SampledFrom([]unit.Shape{unit.Unshaped, unit.Rectangular, unit.Square, unit.Round, unit.Sheet, unit.Tube, unit.Ring}).Draw(t, "shape")
	r := schedule.Reading{Size: unit.Size{Shape: shape, Thick: unit.Millimetre(side.Draw(t, "thick")), Width: unit.Millimetre(side.Draw(t, "width")),
		Diameter: unit.Millimetre(side.Draw(t, "diameter"))}}
	if shape == unit.Unshaped || shape == unit.Sheet && rapid.Bool().Draw(t, "vessel") {
		r.Ring = unit.Millimetre(rapid.Float64Range(0, 500).Draw(t, "ring"))
	}
	return r
})

func anyBody(n int) *rapid.Generator[schedule.Body] {
	return rapid.Custom(func(t *rapid.T) schedule.Body {
		reading := anyReading.Draw(t, "reading")
		start := schedule.Started{Alloy: rapid.SampledFrom([]string{"AG925", "C11000", "SN999", "no metal"}).Draw(t, "alloy"), Reading: reading, Calliper: 0.1,
			Length: unit.Millimetre(rapid.SampledFrom([]float64{0, 90}).Draw(t, "length")), Cast: rapid.Bool().Draw(t, "cast")}
		if rapid.Bool().Draw(t, "zoned") {
			start.Zones = []string{"tip", "butt"}
		}
		process := rapid.SampledFrom([]coldwork.Process{coldwork.Lengthen, coldwork.Raise, coldwork.Bending, coldwork.Twisting}).Draw(t, "process")
		pass := schedule.Pass{Process: process, Count: rapid.IntRange(0, 40).Draw(t, "count"), Radius: 30, Turns: 2, Over: 100}
		read := pass
		read.Reading = reading
		temp := unit.Celsius(rapid.Float64Range(-50, 1500).Draw(t, "temp"))
		return rapid.SampledFrom([]schedule.Body{start, start, pass, read, read, schedule.Measured{Reading: reading}, schedule.Filed{Reading: reading},
			schedule.Begun{Temp: temp}, schedule.Reached{Temp: temp}, schedule.Out{}, schedule.Quenched{}, schedule.FoundCool{}, schedule.Soft{}, schedule.Soft{},
			schedule.Springy{}, schedule.CrackSeen{}, schedule.CrackFiled{}, schedule.Trace{Curve: "AQAB", Max: temp}, schedule.Fluxed{},
			schedule.Jointed{Joint: "seam", Solder: "hard", Solidus: 700}, schedule.Void{Target: idOf(1, rapid.IntRange(0, n).Draw(t, "target"))},
			schedule.Unknown{Why: "a kind to come"}, schedule.Note{Text: "n"}}).Draw(t, "body")
	})
}

// Any entries make pictures: nothing panics, every figure is a number, and each
// rendering is sound.
func TestAnyEntriesMakePictures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		story := picture.Of(picture.Source{Name: rapid.String().Draw(t, "name"), Entries: tellings.Draw(t, "entries")})
		all := []picture.Figure{story.Strain(), story.Hardness(), story.Heat(), story.Shape(), picture.Class(picture.Lesson{Stories: []picture.Story{story}})}
		for _, f := range all {
			requireFinite(t, f)
			requireInert(t, picture.SVG(f))
			columns := rapid.IntRange(40, 130).Draw(t, "columns")
			requireFits(t, picture.Text(f, picture.Terminal{Columns: columns, Plain: columns%2 == 0}), columns, columns%2 == 0)
		}
	})
}

// requireFinite wants nothing but numbers in a figure, and points within their axes.
func requireFinite(t require.TestingT, f picture.Figure) {
	number := func(all ...float64) {
		for _, n := range all {
			require.False(t, math.IsNaN(n) || math.IsInf(n, 0))
		}
	}
	for _, p := range f.Panels {
		number(p.X.Min, p.X.Max, p.Y.Min, p.Y.Max, p.High)
		if p.Empty == "" {
			require.Less(t, p.X.Min, p.X.Max)
			require.Less(t, p.Y.Min, p.Y.Max)
		}
		for _, s := range p.Series {
			for _, q := range s.Points {
				number(q.X, q.Y)
				require.True(t, q.X >= p.X.Min-1e-9 && q.X <= p.X.Max+1e-9, "%v outside of %v", q, p.X)
				require.True(t, q.Y >= p.Y.Min-1e-9 && q.Y <= p.Y.Max*(1+1e-9), "%v outside of %v", q, p.Y)
			}
		}
		for _, r := range p.Rules {
			number(r.At)
		}
	}
}

// A PNG of any entries can be made; fewer are tried, since each takes some time.
func TestAnyEntriesMakeAPNG(t *testing.T) {
	for i := range 8 {
		story := picture.Of(picture.Source{Entries: tellings.Example(i)})
		for _, f := range []picture.Figure{story.Strain(), story.Hardness(), story.Shape()} {
			_, err := picture.PNG(f)
			require.NoError(t, err)
		}
	}
}
