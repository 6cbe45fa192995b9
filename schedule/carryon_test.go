package schedule_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// Carry on is the one verdict that can split a piece, so it is never said
// without a limit and a section, with a crack open, with a heat under way, over
// the limit, or of a piece whose log holds what cannot be read.
func TestCarryOnIsNeverSaidBlindly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history.Draw(t, "history")
		s, a := h.state(), h.advice()
		if len(s.Silenced) > 0 {
			require.Equal(t, schedule.VerdictUnknown, a.Verdict)
			require.Empty(t, a.Zones)
		}
		for _, za := range append(a.Zones, a.ZoneAdvice) {
			if za.Verdict != schedule.VerdictCarryOn {
				continue
			}
			z, ok := s.Zone(za.Zone)
			require.True(t, ok && za.Limit.Known() && z.Tally.Section().Known(), "%+v", za)
			require.NotEqual(t, schedule.CrackOpen, z.Crack)
			require.Equal(t, schedule.Cold, z.Heat.Phase)
			require.Less(t, za.Done.Strain, za.Limit.Strain)
			if za.Done.Strain > 0 { // soft metal gains nothing from an anneal
				require.GreaterOrEqual(t, za.Courses.Low, 1, "9 chances in 10 for one more course at least")
			}
		}
	})
}

// The piece is never better off than one of its zones.
func TestTheWorstZoneDecides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := history.Draw(t, "history").advice()
		if a.Verdict == schedule.VerdictCarryOn {
			require.False(t, slices.ContainsFunc(a.Zones, func(z schedule.ZoneAdvice) bool {
				return z.Verdict != schedule.VerdictCarryOn || z.Spent > a.Spent
			}))
		}
	})
}

func TestNothingKnownIsUnknown(t *testing.T) {
	section := func(r schedule.Reading) coldwork.Tally {
		return coldwork.Tally{}.Reset(coldwork.Section(r.Size))
	}
	silver, err := alloys.Find("AG925")
	require.NoError(t, err)
	for _, c := range []struct {
		name, reason string
		state        schedule.State
		why          string
	}{
		{"nothing", "the zero state knows nothing", schedule.State{}, "the piece was never started"},
		{"no limit", "a metal without a published limit and none of the smith's",
			schedule.State{Started: true, Zones: []schedule.Zone{{Name: "whole", Tally: section(bar(8, 8))}}}, "none is published"},
		{"no section", "no strain can be reckoned without one",
			schedule.State{Started: true, Alloy: silver, Zones: []schedule.Zone{{Name: "whole", Condition: alloys.Wrought, Tally: section(schedule.Reading{})}}}, "worked: strain 0.000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			a := c.state.Advise(evening, nil)
			require.Equal(t, schedule.VerdictUnknown, a.Verdict)
			require.Contains(t, saying(a), c.why)
		})
	}
}

func TestSilence(t *testing.T) {
	h := start(wrought("AG925", "bowl", "handle")).then(course("lengthen", bar(7, 7.4)), "bowl")
	require.Equal(t, schedule.VerdictCarryOn, h.advice().Verdict, "before the entry that silences")
	early := entryAt(9, unread("lengthen", 1))
	early.At = evening.Add(-1)
	unfound := start(wrought("unobtainium"))
	for _, c := range []struct {
		name, reason string
		story        story
		why          string
	}{
		{"zone of another piece", "the work went somewhere, and nobody knows where", h.then(unread("lengthen", 1), "spout"),
			`a pass is logged for zone "spout", which the piece does not have`},
		{"one known zone beside it", "half an entry is no better", h.then(unread("lengthen", 1), "bowl", "spout"), `zone "spout"`},
		{"started twice", "two sections, two metals: which?", h.then(wrought("C11000")), "the piece is started twice"},
		{"unknown alloy", "no limit can be found", unfound, `no alloy is called "unobtainium"`},
		{"unknown alloy, worked on", "and none turns up later", unfound.then(unread("roll", 1)), `no alloy is called "unobtainium"`},
		{"work before the start", "clocks went wrong", append(h, early), "a pass is logged before the piece was started"},
		{"ring of a bar", "a bar has no ring, so the reading is lost", h.then(schedule.Measured{Reading: ring(40)}, "bowl"), "zone bowl: a ring diameter says nothing"},
		{"trimmed to the ring of a bar", "the same", h.then(schedule.Filed{Reading: ring(40)}), "zone bowl: a ring diameter says nothing"},
		{"start that makes no section", "nothing to reckon from", start(schedule.Started{Alloy: "AG925", Calliper: 0.1, Reading: ring(40)}), "the piece cannot be started"},
		{"nothing at all", "no entry, no advice", nil, "the piece was never started"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			requireSilent(t, c.story, c.why)
		})
	}
}
