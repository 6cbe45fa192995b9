package schedule_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// drawnBy is an 8 mm square drawn out alike on both sides by a share of its area.
func drawnBy(share float64) schedule.Pass {
	side := unit.Millimetre(8 * math.Sqrt(1-share))
	return course("lengthen", bar(side, side))
}

// taper is a bar worked hard at both ends and hardly in the middle.
func taper() story {
	h := start(limited(wrought("AG925", "tip", "shoulder", "middle", "waist", "butt"), "40% area"))
	for _, z := range []struct {
		name  string
		n     int
		share float64
	}{{"tip", 5, 0.45}, {"shoulder", 2, 0.20}, {"middle", 1, 0.06}, {"waist", 2, 0.21}, {"butt", 5, 0.44}} {
		h = h.then(courses(z.n, drawnBy(z.share)), z.name)
	}
	return h
}

func TestBothEndsNowTheMiddleMayWait(t *testing.T) {
	h := taper()
	a := h.advice()
	require.Equal(t, schedule.VerdictAnnealNow, a.Verdict)
	require.Equal(t, "tip", a.Zone, "the end that is worked most")
	// Spent are ln(1/(1-r)) of the zone over ln(1/0.6).
	require.Equal(t, "zones: anneal now: tip (117 % spent), butt (114 % spent); "+
		"carry on: shoulder (44 % spent), middle (12 % spent), waist (46 % spent)", a.Reasons[0])

	ends := h.annealed("tip", "butt").advice()
	require.Equal(t, schedule.VerdictCarryOn, ends.Verdict, "the heat of the ends was theirs alone")
	for i, want := range []float64{0, -math.Log(0.80), -math.Log(0.94), -math.Log(0.79), 0} {
		require.InDelta(t, want, float64(ends.Zones[i].Done.Strain), 1e-6, ends.Zones[i].Zone)
	}
}

func TestZonesOfAnEntry(t *testing.T) {
	h := start(wrought("AG925", "bowl", "neck", "handle"))
	for _, c := range []struct {
		name, reason string
		story        story
		want         []bool // worked: bowl, neck, handle
	}{
		{"none named", "a pass over the whole piece works every zone", h.then(course("lengthen", bar(7, 7))), []bool{true, true, true}},
		{"one named", "the others were not touched", h.then(course("lengthen", bar(7, 7)), "neck"), []bool{false, true, false}},
		{"two named", "blows across a border", h.then(unread("lengthen", 1), "bowl", "neck"), []bool{true, true, false}},
		{"heat of the whole", "one fire, one bend check", h.then(unread("lengthen", 1)).annealed(), []bool{false, false, false}},
		{"heat of one", "the others stay hard", h.then(unread("lengthen", 1)).annealed("bowl"), []bool{false, true, true}},
		{"proof of the whole, heat of one", "only what was heated is proved", h.then(unread("lengthen", 1)).quenched("bowl").then(schedule.Soft{}), []bool{false, true, true}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			for i, z := range c.story.advice().Zones {
				require.Equal(t, c.want[i], z.Done.Strain > 0, "%s: %s", z.Zone, c.reason)
			}
		})
	}
}

func TestPieceWithoutZonesIsOne(t *testing.T) {
	a := start(wrought("AG925")).advice()
	require.Equal(t, schedule.Whole, a.Zone)
	require.Len(t, a.Zones, 1)
	require.NotContains(t, a.Reasons[0], "zones:", "one zone is not worth a list")
}

// What burns or splits decides before what is merely worked.
func TestUrgencyOfZones(t *testing.T) {
	h := start(wrought("AG925", "a", "b"))
	worn := h.then(drawnBy(0.6), "a")
	unread := wrought("AG925", "a", "b")
	unread.Reading = schedule.Reading{}
	half := start(unread).then(schedule.Measured{Reading: bar(8, 8)}, "a") // nobody measured b
	for _, c := range []struct {
		name, reason string
		story        story
		zone         string
		want         schedule.Verdict
	}{
		{"worn out", "the zone over its limit", worn, "a", schedule.VerdictAnnealNow},
		{"a bend check waits", "the heat is wasted if it is forgotten", worn.quenched("b"), "b", schedule.VerdictProve},
		{"a crack", "every blow drives it on", worn.then(schedule.CrackSeen{}, "b"), "b", schedule.VerdictFileCrack},
		{"a crack beside a bend check", "bending a cracked bar drives it on", h.quenched("a").then(schedule.CrackSeen{}, "b"), "b", schedule.VerdictFileCrack},
		{"hot beside a crack", "nobody files a bar that burns the hand", h.then(schedule.CrackSeen{}, "a").then(schedule.Out{}, "b"), "b", schedule.VerdictWait},
		{"in the flame beside hot", "the torch cannot be left", h.then(schedule.Out{}, "a").then(schedule.Begun{}, "b"), "b", schedule.VerdictHeating},
		{"at heat beside in the flame", "it must come out first", h.then(schedule.Begun{}, "a").then(schedule.Reached{}, "b"), "b", schedule.VerdictSoak},
		{"worn out beside unknown", "what is known to be spent", half.then(drawnBy(0.6), "a"), "a", schedule.VerdictAnnealNow},
		{"unknown beside fresh", "the piece is no better known than that", half, "b", schedule.VerdictUnknown},
		{"two alike", "the one that is worked more", h.then(drawnBy(0.1), "a").then(drawnBy(0.2), "b"), "b", schedule.VerdictCarryOn},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			a := c.story.advice()
			require.Equal(t, c.want, a.Verdict)
			require.Equal(t, c.zone, a.Zone, c.reason)
		})
	}
}

// A zone that is looked at gives the figures, though another decides.
func TestAdviceOnAZone(t *testing.T) {
	h := start(wrought("AG925", "tip", "butt")).then(course("lengthen", bar(6.4, 7.2)), "tip")
	s := h.state()
	now := h.after(0)
	require.Equal(t, "tip", s.Advise(now, nil).Zone)
	butt := s.AdviseOn("butt", now, nil)
	require.Equal(t, "butt", butt.Zone)
	require.Zero(t, butt.Spent)
	require.Equal(t, s.Advise(now, nil).Zones, butt.Zones)
	require.Equal(t, "tip", s.AdviseOn("rim", now, nil).Zone, "no such zone: the one that decides")
}
