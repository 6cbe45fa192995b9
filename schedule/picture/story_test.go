package picture_test

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/class"
	"dullred/schedule/coldwork"
	"dullred/schedule/demo"
	"dullred/schedule/picture"
	"dullred/schedule/probe"
	"dullred/schedule/sheet"
)

// evening is when the invented class meets.
var evening = time.Date(2026, time.March, 3, 19, 0, 0, 0, time.UTC)

// idOf is an id of a kind of thing: 1 entries, 2 pieces, 3 hands.
func idOf(kind, n int) schedule.ID {
	return schedule.ID(fmt.Sprintf("00000000-0000-7000-8000-%04d%08d", kind, n))
}

var kw, mb = idOf(3, 1), idOf(3, 2)

// telling is a piece: each entry a minute after the one before.
type telling struct{ entries []schedule.Entry }

func piece(start schedule.Started) *telling { return new(telling).by(kw, start) }

// rod is a wrought bar of sterling silver, 8 mm square and 100 mm long.
func rod(zones ...string) schedule.Started {
	return schedule.Started{Alloy: "AG925", Reading: square(8), Length: 100, Calliper: 0.05, Zones: zones}
}

func square(side unit.Millimetre) schedule.Reading {
	return schedule.Reading{Size: unit.Size{Shape: unit.Square, Thick: side, Width: side}}
}

func to(side unit.Millimetre) schedule.Pass {
	return schedule.Pass{Process: coldwork.Lengthen, Count: 1, Reading: square(side)}
}

func (s *telling) by(hand schedule.ID, bodies ...schedule.Body) *telling {
	return s.on(hand, nil, bodies...)
}

func (s *telling) on(hand schedule.ID, zones []string, bodies ...schedule.Body) *telling {
	for _, b := range bodies {
		n := len(s.entries)
		at := evening.Add(time.Duration(n) * time.Minute)
		s.entries = append(s.entries, schedule.Entry{ID: idOf(1, n), At: at, Written: at, Bench: idOf(9, 1), Hand: hand, Piece: idOf(2, 1),
			Zones: zones, Version: 1, Body: b})
	}
	return s
}

// fire is a heat up to the water.
func (s *telling) fire(hand schedule.ID) *telling {
	return s.by(hand, schedule.Begun{}, schedule.Reached{Temp: 640}, schedule.Out{}, schedule.Quenched{})
}

func (s *telling) story() picture.Story {
	return picture.Of(picture.Source{Name: "spoon", Entries: s.entries})
}

// measuredHeat is a trace from 20 °C over minutes up to a heat and held there.
func measuredHeat(t testing.TB, hottest unit.Celsius) schedule.Trace {
	t.Helper()
	r := probe.NewRecorder(evening)
	for s := range 241 {
		at := 20 + (hottest-20)*unit.Celsius(min(1, float64(s)/180))
		require.True(t, r.Add(probe.Reading{At: evening.Add(time.Duration(s) * time.Second), Temp: at}))
	}
	return schedule.Trace{Curve: r.Trace().Encode(), Max: hottest, Hot: time.Minute}
}

// seriesOf finds the points of a series by its name.
func seriesOf(t testing.TB, p picture.Panel, name string) []picture.Point {
	t.Helper()
	for _, s := range p.Series {
		if s.Name == name {
			return s.Points
		}
	}
	require.Fail(t, "there is no series", name)
	return nil
}

// The strain of a square bar from 8 mm to a side is 2 ln(8/side), by hand; 45 % of the
// thickness, the published limit of sterling, is (2/√3) ln(1/0.55).
func TestStrainOfTheEntries(t *testing.T) {
	p := piece(rod()).by(kw, to(7), to(6)).fire(kw).by(kw, schedule.Soft{}, to(5)).story().Strain().Panels[0]
	want := []picture.Point{{X: 0, Y: 0, Gap: true}, {X: 1, Y: 2 * math.Log(8./7)}, {X: 2, Y: 2 * math.Log(8./6)}, {X: 2, Y: 0, Gap: true}, {X: 3, Y: 2 * math.Log(6./5)}}
	got := seriesOf(t, p, "strain since soft")
	require.Len(t, got, len(want))
	for i := range want {
		require.InDelta(t, want[i].X, got[i].X, 0, "point %d", i)
		require.InDelta(t, want[i].Y, got[i].Y, 1e-9, "point %d", i)
		require.Equal(t, want[i].Gap, got[i].Gap, "point %d", i)
	}
	for _, q := range seriesOf(t, p, "limit") {
		require.InDelta(t, 2/math.Sqrt(3)*math.Log(1/0.55), q.Y, 1e-9)
	}
	require.Equal(t, []picture.Rule{{Name: "heat, proved soft", At: 2, Upright: true, Stroke: picture.Solid, Marker: picture.Square}}, p.Rules)
}

// The curve of a piece is that of its sheet, which is reckoned apart from it.
func TestStrainIsThatOfTheSheet(t *testing.T) {
	for _, d := range demo.Class(evening) {
		t.Run(d.Name, func(t *testing.T) {
			story := picture.Of(picture.Source{Name: d.Name, Entries: d.Entries})
			want := map[string][]float64{}
			for _, w := range sheet.Build(sheet.Source{Entries: d.Entries}).Work {
				for _, z := range w.Zones {
					want[z.Zone] = append(want[z.Zone], *z.Since)
				}
			}
			for _, z := range story.Zones {
				wanted, worked := want[z.Name], []float64{}
				if z.Name != schedule.Whole { // a plan may have divided it
					wanted = slices.Concat(want[schedule.Whole], wanted)
				}
				for i, s := range z.Steps {
					if i == 0 || !s.Fresh {
						worked = append(worked, float64(s.Done.Strain))
					}
				}
				require.InDeltaSlice(t, wanted, worked, 0.0005, "the sheet rounds to three places")
			}
		})
	}
}

func TestHeatsAreToldApart(t *testing.T) {
	cases := []struct {
		name, reason string
		then         []schedule.Body
		want         picture.Proof
	}{
		{"soft", "bent and soft", []schedule.Body{schedule.Soft{}}, picture.Soft},
		{"springy", "bent and springy", []schedule.Body{schedule.Springy{}}, picture.Springy},
		{"worked on", "nobody bent it", []schedule.Body{to(5.5)}, picture.Never},
		{"in the water", "it may still be bent", nil, picture.Open},
	}
	marks := map[picture.Marker]bool{}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s := piece(rod()).by(kw, to(6)).fire(kw).by(kw, c.then...).story()
			require.Equal(t, c.want, s.Heats[0].Proof(), c.reason)
			rule := s.Strain().Panels[0].Rules[0]
			require.Equal(t, c.want == picture.Soft, rule.Stroke == picture.Solid, "a proved one has a stroke of its own")
			marks[rule.Marker] = true
		})
	}
	require.Len(t, marks, 3, "soft, springy and not proved have a marker each")
}

func TestAVoidIsNotDrawn(t *testing.T) {
	s := piece(rod()).by(kw, to(7), to(5))
	s.by(mb, schedule.Void{Target: s.entries[2].ID})
	require.Equal(t, 1, s.story().Zones[0].Courses)
}

func TestCoursesThatWereNotRead(t *testing.T) {
	p := piece(rod()).by(kw, schedule.Pass{Process: coldwork.Lengthen, Count: 3}, to(6)).story().Strain().Panels[0]
	require.Len(t, seriesOf(t, p, "estimated, not read"), 1)
	require.InDelta(t, 3, seriesOf(t, p, "estimated, not read")[0].X, 0)
	require.Len(t, seriesOf(t, p, "read"), 1)
}

func TestMoreZonesThanFit(t *testing.T) {
	names := []string{"a", "b", "c", "d", "e", "f", "g", "h"}
	s := piece(rod(names...)).by(kw, to(7))
	require.Len(t, s.story().Strain().Panels, 1, "zones with the same story share a panel")
	for i, name := range names {
		s.on(kw, []string{name}, to(unit.Millimetre(6-0.1*float64(i))))
	}
	f := s.story().Strain()
	require.Len(t, f.Panels, picture.MostZones)
	require.Contains(t, f.Desc, "and 2 more zones, not shown")
}

func TestShape(t *testing.T) {
	cases := []struct {
		name, reason, want string
		told               *telling
	}{
		{"longer", "100 mm x 64/25, by constant volume", "100 mm at the start, 256 mm now by constant volume", piece(rod()).by(kw, to(5))},
		{"filed", "metal taken off makes nothing longer", "100 mm at the start, 100 mm now by constant volume, less",
			piece(rod()).by(kw, schedule.Filed{Reading: square(7)})},
		{"alike", "zones that are all alike are one bar", "100 mm at the start, 256 mm now", piece(rod("a", "b")).by(kw, to(5))},
		{"zones", "nobody noted where they begin", "its length is not known", piece(rod("a", "b")).on(kw, []string{"a"}, to(5))},
		{"no length", "it was not noted", "Its length at the start was not noted", piece(schedule.Started{Alloy: "AG925", Reading: square(8), Calliper: 0.05}).by(kw, to(5))},
		{"sheet", "its width is not followed", "Its width is not followed", piece(schedule.Started{Alloy: "AG925", Length: 50, Calliper: 0.05,
			Reading: schedule.Reading{Size: unit.Size{Shape: unit.Sheet, Thick: 1}}})},
		{"no size", "nothing was read", "its shape is not known", piece(schedule.Started{Alloy: "AG925", Calliper: 0.05})},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Contains(t, c.told.story().Shape().Desc, c.want, c.reason)
		})
	}
}

// The outline of the bar now is as long and as thick as it is said to be.
func TestShapeToScale(t *testing.T) {
	f := piece(rod()).by(kw, to(5)).story().Shape()
	require.True(t, f.Panels[1].Even)
	require.Equal(t, []picture.Point{{X: 0, Y: -2.5}, {X: 256, Y: -2.5}, {X: 256, Y: 2.5}, {X: 0, Y: 2.5}}, f.Panels[1].Series[0].Points)
}

func TestHardness(t *testing.T) {
	f := piece(rod()).by(kw, to(7)).fire(kw).by(kw, schedule.Soft{}, to(6.5), schedule.CrackSeen{}).story().Hardness()
	require.Len(t, f.Panels, 2)
	require.Len(t, seriesOf(t, f.Panels[0], "where it was annealed"), 1)
	worked := seriesOf(t, f.Panels[1], "where it was annealed")
	require.InDelta(t, 100*(1-math.Exp(-math.Sqrt(3)*math.Log(8./7))), worked[0].X, 1e-9, "2 ln(8/7) as plane strain of a thickness")
	require.InDelta(t, 100*(1-math.Exp(-math.Sqrt(3)*math.Log(7/6.5))), seriesOf(t, f.Panels[1], "where a crack was seen")[0].X, 1e-9)
	start := rod()
	start.Alloy = "SN999"
	none := piece(start).by(kw, to(7)).story().Hardness()
	require.Contains(t, none.Panels[0].Empty, "No hardness over cold work is published")
	require.Contains(t, none.Desc, "No hardness over cold work is published")
}

func TestHeatOfAProbe(t *testing.T) {
	s := piece(rod()).by(kw, to(6)).by(kw, schedule.Begun{}, measuredHeat(t, 650), schedule.Quenched{}, schedule.Soft{}).story()
	f := s.Heat()
	line := f.Panels[0].Series[0]
	require.Equal(t, "heat 1, proved soft", line.Name)
	require.InDelta(t, 650, line.Points[len(line.Points)-1].Y, 1)
	require.InDelta(t, 4, line.Points[len(line.Points)-1].X, 0.01, "240 s")
	require.InDelta(t, float64(s.Heats[0].Ceiling.Temp), f.Panels[0].Rules[0].At, 0)
	require.Contains(t, f.Desc, "at most 650 °C, reached after 3 min")
	require.Contains(t, piece(rod()).fire(kw).story().Heat().Desc, "No heat of this piece was read by a thermocouple")
	require.Contains(t, piece(rod()).by(kw, schedule.Begun{}, schedule.Trace{Curve: "nonsense"}).story().Heat().Desc, "could not be read")
}

// Who anneals early is counted by the class page, which replays apart from this.
func TestClassIsThatOfTheClassPage(t *testing.T) {
	tellings := []*telling{
		piece(rod()).by(kw, to(7)).fire(kw).by(kw, schedule.Soft{}),      // 39 %
		piece(rod()).by(kw, to(6)).fire(mb).by(kw, schedule.Soft{}),      // 83 %
		piece(rod()).by(kw, to(5.5)).fire(mb).by(kw, schedule.Springy{}), // 109 %
		piece(rod()).fire(mb), // no work
	}
	shop, lesson := class.Shop{}, picture.Lesson{Called: func(id schedule.ID) string { return map[schedule.ID]string{kw: "kw", mb: "mb"}[id] }}
	for _, s := range tellings {
		shop.Pieces = append(shop.Pieces, s.entries)
		lesson.Stories = append(lesson.Stories, s.story())
	}
	early := shop.Lessons()[0].Total().Early
	f := picture.Class(lesson)
	n := 0
	for _, s := range f.Panels[0].Series {
		for _, q := range s.Points {
			if q.X < 50 {
				n++
			}
		}
	}
	require.Equal(t, 1, early)
	require.Equal(t, early, n)
	require.Contains(t, f.Desc, "3 heats of 2 hands began with 39 to 109 % of the limit spent; 1 before half of it, 1 at it or over.")
	require.Contains(t, f.Desc, "1 heat not shown")
	require.Equal(t, []picture.Tick{{At: 2, Text: "kw"}, {At: 1, Text: "mb"}}, f.Panels[0].Y.Ticks)
	lesson.Until = evening
	require.NotEmpty(t, picture.Class(lesson).Panels[0].Empty, "nothing was begun before the evening")
}
