package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// explained is the sum of a story, told with its entries.
func (h story) explained(zone string) schedule.Explanation {
	s := h.state()
	return s.ExplainFrom(h, zone, nil)
}

// lines are the texts under a head.
func lines(e schedule.Explanation, head string) (out []string) {
	for _, l := range e.Lines {
		if l.Head == head {
			out = append(out, l.Text)
		}
	}
	return out
}

// The sums below were done by hand, from the formulas that stand beside them.
func TestExplanations(t *testing.T) {
	drawn := start(wrought("AG925")).then(course(coldwork.Lengthen, bar(7.2, 7.8)))
	for _, c := range []struct {
		name, reason string
		story        story
		head         string
		says         []string
	}{
		{"bar", "ln(7.2/8) = -0.10536, ln(7.8/8) = -0.02532", drawn, "step",
			[]string{"8x8 mm to 7.2x7.8 mm: thickness ln(7.2/8) = -0.1054, width ln(7.8/8) = -0.0253, length is what is left, +0.1307; strain sqrt(2/3 x (0.1054² + 0.0253² + 0.1307²)) = 0.139"}},
		{"two courses", "both stand in the total", drawn.then(course(coldwork.Lengthen, bar(6.4, 7.2))), "total", []string{" + ", " = 0."}},
		{"sheet", "the width is not followed: 2/√3 ln(1.2/1)", start(schedule.Started{Alloy: "C11000", Reading: sheet(1.2), Calliper: 0.05}).then(course(coldwork.Roll, sheet(1))), "step",
			[]string{"thickness ln(1/1.2) = -0.18232, the width is taken not to change; strain (2/sqrt 3) x 0.18232 = 0.2105"}},
		{"vessel", "the wall stays: 2/√3 ln(150/141) = 0.0715 (Sheet with a ring)", start(schedule.Started{Alloy: "C11000", Reading: vessel(1.2, 150), Calliper: 0.1}).then(course(coldwork.Raise, ring(141))), "step",
			[]string{"wall ln(1.2/1.2) = 0.000", "ring ln(141/150) = -0.0619", "the way up the wall is what is left"}},
		{"wire", "2 ln(3/2.5) = 0.3646", start(schedule.Started{Alloy: "C26000", Reading: wire(3), Calliper: 0.02}).then(course(coldwork.Draw, wire(2.5))), "step",
			[]string{"diameter ln(2.5/3) = -0.182", "the same in both directions across", "+0.364"}},
		{"round to square", "side √π/2 6 = 5.317", start(schedule.Started{Alloy: "C26000", Reading: wire(6), Calliper: 0.02}).then(course(coldwork.Flatten, bar(5, 5))), "step",
			[]string{"6 round counts as the square of the same area, side sqrt(pi)/2 x 6 = 5.317"}},
		{"bend", "2/√3 ln(1 + 7.2/67.2) = 0.11753, twice 0.23506", drawn.then(schedule.Pass{Process: coldwork.Bending, Count: 2, Radius: 30}), "bend",
			[]string{"2 bends of 7.2 mm to an inside radius of 30 mm: 2 x (2/sqrt 3) x ln(1 + 7.2/(2 x 30 + 7.2)) = 0.235"}},
		{"twist", "half the diagonal of 8x8 is 5.657", start(wrought("AG925")).then(schedule.Pass{Process: coldwork.Twisting, Count: 1, Turns: 0.5, Over: 60}), "twist",
			[]string{"half the diagonal, sqrt(8² + 8²)/2", "2 pi x 0.5 x 5.656", "/(60 x sqrt 3) = 0.17"}},
		{"not read", "three courses of the assumed mean, 0.11 e^(0.25²/2) = 0.11349, on metal that stiffens", start(wrought("AG925")).then(unread(coldwork.Lengthen, 3)), "unread",
			[]string{"3 courses (lengthen) since the last reading, assumed, a judgement: none of this hand is measured: 3 x 0.11349 = 0.3405 on soft metal, which stiffens on the way: 2 x (sqrt(1 + 0.3405) - 1) = 0.316"}},
		{"a tie", "1 - 0.5/1.6 = 0.6875, which rounds up as well as down", start(schedule.Started{Alloy: "C11000", Reading: sheet(1.6), Calliper: 0.05}).then(course(coldwork.Roll, sheet(0.5))), "rolled",
			[]string{" = 68.75 %"}},
		{"filed", "metal taken off is no work", drawn.then(schedule.Filed{Reading: bar(7, 7.6)}), "trim", []string{"7.2x7.8 mm to 7x7.6 mm: no strain"}},
		{"filed unread", "no later reading can show them", start(wrought("AG925")).then(unread(coldwork.Lengthen, 2)).then(schedule.Filed{Reading: bar(7, 7.6)}), "hidden",
			[]string{"courses (lengthen) never read before the section was set to 7x7.6 mm: 2 x 0.11349 = 0.2270 on soft metal", "2 x (sqrt(1 + 0.2270) - 1) = 0.215"}},
		{"both ways", "lengthen and widen undo each other's change", start(wrought("AG925")).then(unread(coldwork.Lengthen, 2)).then(courses(2, course(coldwork.Widen, bar(7.9, 8)))), "hidden",
			[]string{"courses in different directions (lengthen, widen) undo each other's change from 8x8 mm to 7.9x8 mm: 2 x 0.113492 + 2 x 0.113492 = 0.45397 on soft metal", "is assumed of them"}},
		{"across the anneal", "two of three courses came after the heat", start(wrought("AG925")).then(unread(coldwork.Lengthen, 1)).annealed().then(courses(2, course(coldwork.Lengthen, bar(7, 7.2)))), "hidden",
			[]string{"part of it from before the anneal: 2 of 3 courses came after it, 2/3 x 0."}},
		{"slight", "the calliper cannot see 0.05 mm", start(wrought("AG925")).then(course(coldwork.Lengthen, bar(7.95, 8))), "step", []string{"within the error of the calliper"}},
		{"limit of thickness", "2/√3 ln(1/0.55) = 0.690", drawn, "limit", []string{"45 % of thickness between anneals (compress-45, read in LEWTON): (2/sqrt 3) x ln(1/(1 - 0.45)) = 0.690"}},
		{"limit of area", "ln(1/0.8) = 0.223", start(cast("AG925")).then(course(coldwork.Lengthen, bar(7.6, 7.8))), "limit", []string{"20 % of area between anneals (first-20, common practice", "ln(1/(1 - 0.2)) = 0.223"}},
		{"limit of length", "ln 1.3 = 0.262", start(limited(wrought("AG925"), "third-longer")), "limit", []string{"30 % longer between anneals", "ln(1 + 0.3) = 0.262"}},
		{"own limit", "whose it is", start(limited(wrought("AG925"), "33.3% area")), "limit", []string{"your own, tighter than the table's 45 % of thickness", "ln(1/(1 - 0.333)) = 0.405"}},
		{"a judgement", "and so it is called", start(wrought("C11000")), "limit", []string{"a judgement: no hand-working figure is published"}},
		{"a metal that softens by itself", "no limit, no share", start(schedule.Started{Alloy: "PEWTER", Reading: bar(8, 8), Calliper: 0.1}).then(course(coldwork.Lengthen, bar(6, 7))), "verdict",
			[]string{"no anneal: this metal softens by itself"}},
		{"carry on", "the limit is far", drawn, "verdict", []string{"carry on: the limit is not reached, and the chance that the next course crosses it is under 1 %, less than 10 %"}},
		{"anneal now", "past the limit", drawn.then(course(coldwork.Lengthen, bar(4.9, 6.7))), "verdict", []string{"anneal now: the total ", "has reached the limit 0.690"}},
		{"anneal soon", "the next course may cross", drawn.then(course(coldwork.Lengthen, bar(5.6, 7))), "verdict", []string{"anneal soon: the limit is not reached, but the chance", "at least 10 %"}},
		{"crack", "it comes before the sum", drawn.then(schedule.CrackSeen{}), "verdict", []string{"file crack: a crack is open"}},
		{"hot", "so does a heat", drawn.then(schedule.Begun{}), "verdict", []string{"heating: the zone is hot"}},
		{"nothing measured", "the assumption is called one", start(wrought("AG925")), "course", []string{"0.1135 is assumed of a course (lengthen): none of this hand is measured yet (a judgement)"}},
		{"measured", "0.1386 + 0.1386²/4 = 0.1434: their plain mean is told beside the mean that counts", drawn, "course", []string{"1 course measured, 0.1434", " / 1 = 0.1434 each"}},
		{"silenced", "the reason and no sum", drawn.then(unread(coldwork.Lengthen, 1), "spout"), "unknown", []string{`zone "spout"`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			e := c.story.explained("")
			text := strings.Join(lines(e, c.head), "\n")
			for _, s := range c.says {
				require.Contains(t, text, s)
			}
			if len(lines(e, "total")) > 0 {
				requireAgrees(t, e, c.story.advice().ZoneAdvice)
				_, decimals, _ := strings.Cut(lines(e, "total")[0], ".")
				require.Less(t, len(strings.Fields(decimals + " ")[0]), 7, "a plain story needs few digits")
			}
		})
	}
}

// The sums of a plain story are all found and done again: two courses have three each.
func TestEverySumIsFound(t *testing.T) {
	e := start(wrought("AG925")).then(course(coldwork.Lengthen, bar(7.2, 7.8))).then(course(coldwork.Lengthen, bar(6.4, 7.2))).explained("")
	found := map[string]int{}
	for _, l := range e.Lines {
		found[l.Head] += requireRedone(t, l)
	}
	for head, n := range map[string]int{"step": 6, "total": 1, "rolled": 1, "limit": 1, "share": 1, "course": 1, "left": 1} {
		require.Equal(t, n, found[head], head)
	}
}

// A Piece that stays open tells the same as its entries.
func TestExplainOfAPiece(t *testing.T) {
	h := start(wrought("AG925")).then(schedule.Pass{Process: coldwork.Bending, Count: 1, Radius: 30})
	p := schedule.NewPiece(nil, h)
	require.Equal(t, h.explained(""), p.Explain("", nil))
	s := h.state()
	require.Len(t, lines(s.Explain("", nil), "apart"), 1, "a state alone knows their sum only")
	require.Equal(t, s.Explain("", nil), s.ExplainFrom(start(wrought("AG925")), "", nil), "entries of another piece tell nothing of this one")
}

// Other pieces of the same hand count as they count in the advice.
func TestExplainByOtherPieces(t *testing.T) {
	h := start(wrought("AG925")).then(course(coldwork.Lengthen, bar(7.2, 7.8)))
	others := &schedule.Observed{Courses: []coldwork.Course{{Hand: string(hand), Alloy: "AG925", Process: coldwork.Lengthen, Count: 6, Strain: 1.2}}}
	s := h.state()
	e := s.ExplainFrom(h, "", others)
	requireAgrees(t, e, s.Advise(h.now(), others).ZoneAdvice)
	// 1.2 + 1.2²/4 = 1.56, and 0.1434 of the course here
	require.Contains(t, lines(e, "course")[0], "7 courses measured, 1.7034")
}

// What was bent before an anneal is over with it.
func TestExplainAfterAnAnneal(t *testing.T) {
	bent := schedule.Pass{Process: coldwork.Bending, Count: 1, Radius: 30}
	h := start(wrought("AG925")).then(bent).then(bent).annealed().then(bent)
	require.Len(t, lines(h.explained(""), "bend"), 1)
	require.Empty(t, lines(h.explained(""), "apart"))
	require.Len(t, lines(h[:3].explained(""), "bend"), 2)
}

// A chance just under the threshold is not printed as the threshold.
func TestChanceNearItsThreshold(t *testing.T) {
	near := 0
	for side := unit.Millimetre(5); side < 6.6; side += 0.002 {
		h := start(wrought("AG925")).then(course(coldwork.Lengthen, bar(7.2, 7.8))).then(course(coldwork.Lengthen, bar(side, 7.2)))
		a := h.advice()
		if c := a.Courses.NextCrosses; c < 0.095 || c >= 0.105 {
			continue
		}
		near++
		requireAgrees(t, h.explained(""), a.ZoneAdvice)
	}
	require.Positive(t, near)
}
