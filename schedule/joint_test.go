package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
)

func joint(name, solder string, solidus unit.Celsius) schedule.Jointed {
	return schedule.Jointed{Joint: name, Solder: solder, Solidus: solidus}
}

func TestHeatStaysUnderTheJoints(t *testing.T) {
	cases := []struct {
		name, reason string
		joints       []schedule.Jointed
		low, high    unit.Celsius
		ok           bool
		why          string
	}{
		{"none", "sterling's printed range, far below its own solidus", nil, 593, 649, true, ""},
		{"a maker's hard solder", "745 less 50 is above the range", []schedule.Jointed{joint("handle", "hard", 745)}, 593, 649, true, ""},
		{"a maker's medium solder", "690 less 50 cuts the range, and says at what", []schedule.Jointed{joint("handle", "medium", 690)}, 593, 639, true, "handle"},
		{"two", "the lower of two counts", []schedule.Jointed{joint("handle", "hard", 745), joint("foot", "own", 660)}, 593, 609, true, "foot"},
		{"a table's solidus", "BAg-7 begins to melt at 618 °C (AWS A5.8): no room is left",
			[]schedule.Jointed{joint("rim", "BAg-7", 0)}, 0, 0, false, "nothing of 593 to 649"},
		{"soldered again", "the old solder is still in it", []schedule.Jointed{joint("rim", "medium", 690), joint("rim", "hard", 745)}, 593, 639, true, "rim"},
		{"corrected downwards", "the lower figure counts", []schedule.Jointed{joint("rim", "hard", 745), joint("rim", "hard", 690)}, 593, 639, true, "rim"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			h := start(wrought("AG925"))
			for _, j := range c.joints {
				h = h.then(j)
			}
			s := h.state()
			low, high, why, ok := s.Window(s.Zones[0])
			require.Equal(t, c.ok, ok, c.reason)
			require.Contains(t, why, c.why)
			if !ok {
				return
			}
			require.Equal(t, []unit.Celsius{c.low, c.high}, []unit.Celsius{low, high}, c.reason)
			ceiling, _ := s.Ceiling(alloys.Wrought)
			require.Less(t, high, ceiling.Temp, "no heat is advised at a ceiling or over it")
		})
	}
}

// The advice to anneal names the ceiling that the joints set.
func TestAdviceUnderJoints(t *testing.T) {
	worked := start(limited(wrought("AG925"), "5%")).then(course("lengthen", bar(7, 8)))
	require.Contains(t, worked.advice().Next, "593 to 649 °C")
	soldered := worked.then(joint("handle", "medium", 690))
	require.Contains(t, soldered.advice().Next, "593 to 639 °C and no more")
	none := worked.then(joint("handle", "BAg-7", 0))
	require.Contains(t, none.advice().Next, "nothing of 593 to 649 °C is left")
	require.Contains(t, none.advice().Next, "anneal before soldering")
}

// A solder that is sold by its flow point alone sets no ceiling, and that is said
// before each heat.
func TestJointOfUnknownSolidus(t *testing.T) {
	h := start(limited(wrought("AG925"), "5%")).then(course("lengthen", bar(7, 8))).then(joint("rim", "easy", 0))
	s := h.state()
	require.Empty(t, s.Joints)
	require.Len(t, s.Unsure, 1)
	require.Contains(t, h.advice().Cautions, "A joint of unknown solidus may let go: "+s.Unsure[0]+". Old or unknown solder may hold cadmium.")
	typed := h.then(joint("rim", "easy", 690))
	again := typed.state()
	require.Empty(t, again.Unsure, "the maker's figure settles it")
	require.Len(t, again.Joints, 1)
}

func TestMarginIsTheSmithsOwn(t *testing.T) {
	j := joint("handle", "medium", 690)
	j.Margin = new(unit.Celsius(20))
	s := start(wrought("AG925")).then(j).state()
	_, high, _, ok := s.Window(s.Zones[0])
	require.True(t, ok)
	require.Equal(t, unit.Celsius(649), high, "670 is the ceiling, over the range")
}

func TestJointsThatCannotBe(t *testing.T) {
	for name, j := range map[string]schedule.Jointed{
		"no name": {Solder: "hard"}, "no solder": {Joint: "rim"}, "cold": {Joint: "rim", Solidus: 20}, "hot": {Joint: "rim", Solidus: 3000},
		"flow below solidus": {Joint: "rim", Solidus: 700, Flow: 650}, "margin": {Joint: "rim", Solidus: 700, Margin: new(unit.Celsius(-1))},
	} {
		h := start(wrought("AG925"))
		require.Error(t, schedule.Accept(h, entryAt(1, j), h.now()), name)
	}
}
