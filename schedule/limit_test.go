package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

// saying joins the reasons, for what stands anywhere in them.
func saying(a schedule.Advice) string { return strings.Join(a.Reasons, "\n") }

func TestLimits(t *testing.T) {
	worked := func(s schedule.Started) story { return start(s).then(drawnBy(0.3)).annealed() }
	for _, c := range []struct {
		name, reason string
		story        story
		strain       float64
		text, school string
		says         string
	}{
		{"sterling as cast", "20 % of the area: ln(1/0.8)", start(cast("AG925")), 0.2231, "20 % of area", "first-20", "another school (half-first): at least this much before the first anneal"},
		{"sterling once wrought", "45 % of thickness (LEWTON): 2/√3 ln(1/0.55)", worked(cast("AG925")), 0.6903, "45 % of thickness", "compress-45", "limit: 45 % of thickness between anneals (strain 0.690)"},
		{"sterling sheet or wire", "wrought from the start", start(wrought("AG925")), 0.6903, "45 % of thickness", "compress-45", ""},
		{"copper", "no hand-working figure is published, and that is said", start(wrought("C11000")), 0.6903, "45 % of thickness", "cautious-45", "a judgement, no hand-working figure is published"},
		{"brass", "2/√3 ln(1/0.6)", start(wrought("C26000")), 0.5899, "40 % of thickness", "cautious-40", "a judgement"},
		{"bronze as cast", "half of silver's: ln(1/0.9)", start(cast("C52400")), 0.1054, "10 % of area", "first-10", "a judgement"},
		{"own, of the kind of the table", "50 % of thickness: 2/√3 ln 2", start(limited(wrought("AG925"), "50%")), 0.8004, "50 % of thickness", "own", "your own, looser than the table's 45 % of thickness"},
		{"own, as area", "ln(1/0.7)", start(limited(wrought("AG925"), "30% area")), 0.3567, "30 % of area", "own", "your own, tighter than the table's 45 % of thickness"},
		{"own, as the table", "nothing is looser", start(limited(wrought("AG925"), "45%")), 0.6903, "45 % of thickness", "own", "your own, the same as the table's"},
		{"own, as cast", "the first limit of the table is of area, so the smith's is: ln 2", start(limited(cast("AG925"), "50%")), 0.6931, "50 % of area", "own", "looser than the table's 20 % of area"},
		{"school of castings", "half first, so that the core is worked through: 2/√3 ln 2", start(limited(cast("AG925"), "half-first")), 0.8004, "50 % of thickness", "half-first", ""},
		{"school of castings, once wrought", "it speaks of castings only: then the table's", start(limited(cast("AG925"), "half-first")).then(drawnBy(0.5)).annealed(), 0.6903, "45 % of thickness", "compress-45", ""},
		{"school of the wrought state", "half the section off (ORCHID_53680): ln 2", start(limited(wrought("AG925"), "half-section")), 0.6931, "50 % of area", "half-section", ""},
		{"school of the wrought state, as cast", "the first limit holds first", start(limited(cast("AG925"), "half-section")), 0.2231, "20 % of area", "first-20", ""},
		{"and once wrought", "now it speaks", worked(limited(cast("AG925"), "half-section")), 0.6931, "50 % of area", "half-section", ""},
		{"30 % longer", "as drawing, since the volume stays: ln 1.3", start(limited(wrought("AG925"), "third-longer")), 0.2624, "30 % longer", "third-longer", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			a := c.story.advice()
			require.InDelta(t, c.strain, float64(a.Limit.Strain), 5e-5, c.reason)
			require.Equal(t, c.text, a.Limit.Text)
			require.Equal(t, c.school, a.Limit.School)
			require.Contains(t, saying(a), c.says)
		})
	}
}

func TestALimitThatWasReadIsNoJudgement(t *testing.T) {
	require.NotContains(t, saying(start(wrought("AG925")).advice()), "judgement, no hand-working")
	require.NotContains(t, saying(start(wrought("AG925")).advice()), "another school", "rival rules for castings are told of castings")
}

func TestVerdictAgainstTheLimit(t *testing.T) {
	for _, c := range []struct {
		name, reason string
		story        story
		want         schedule.Verdict
		next         string
	}{
		{"fresh bar", "two courses of 0.11 just fit, one is sure", start(cast("AG925")), schedule.VerdictCarryOn, "work on: 2 more courses (1 to 3), then measure"},
		{"half spent", "another such course would pass it", start(cast("AG925")).then(drawnBy(0.12)), schedule.VerdictAnnealSoon, "anneal before the next course: heat to 593 to 649 °C, hold until even; wait until the glow has gone, then quench in water; prove it by bending"},
		{"one course left", "likely, not surely", start(wrought("AG925")).then(courses(5, drawnBy(0.42))), schedule.VerdictAnnealSoon, "at most 1 more course, then anneal: heat to 593 to 649 °C"},
		{"just past it", "a spent limit is no matter of chance", start(limited(cast("AG925"), "19% area")).then(drawnBy(0.1901)), schedule.VerdictAnnealNow, "stop and anneal: heat to 593 to 649 °C"},
		{"overspent", "it is late already", start(cast("AG925")).then(drawnBy(0.3)), schedule.VerdictAnnealNow, "stop and anneal"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, c.story.advice().Verdict, c.reason)
			require.Contains(t, c.story.advice().Next, c.next)
		})
	}
}

// Pewter softens by itself, and a torch melts it: nothing the smith logs may
// turn into advice to heat it.
func TestPewterIsNeverHeated(t *testing.T) {
	hard := start(wrought("SN92")).then(drawnBy(0.8))
	for _, c := range []struct {
		name, reason string
		story        story
		want         schedule.Verdict
		next         string
	}{
		{"fresh", "there is no limit to count", start(wrought("SN92")), schedule.VerdictNoAnneal, "this metal needs no anneal"},
		{"worked very far", "it stays soft", hard, schedule.VerdictNoAnneal, "this metal needs no anneal"},
		{"as cast", "a casting of it as well", start(cast("SN92")).then(drawnBy(0.5)), schedule.VerdictNoAnneal, "this metal needs no anneal"},
		{"with the smith's own limit", "it would end in a heat", start(limited(wrought("SN92"), "30%")).then(drawnBy(0.8)), schedule.VerdictNoAnneal, "this metal needs no anneal"},
		{"in the flame", "before it runs", hard.then(schedule.Begun{}), schedule.VerdictHeating, "take it out of the flame: this metal needs no anneal, and a torch is more likely to melt it"},
		{"at heat", "before it runs", hard.then(schedule.Reached{}), schedule.VerdictSoak, "take it out of the flame"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			a := c.story.advice()
			require.Equal(t, c.want, a.Verdict)
			require.Contains(t, a.Next, c.next)
			require.NotContains(t, a.Next, "heat to")
			require.NotContains(t, a.Next, "heat evenly")
			require.Contains(t, saying(a), "limit: none is counted. No anneal. It softens by itself at room temperature")
			require.Contains(t, strings.Join(a.Sources, "\n"), "PEW_POST: ", "who says so")
		})
	}
}
