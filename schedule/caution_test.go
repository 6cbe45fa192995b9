package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/schedule"
)

// What can hurt is said when it can hurt, the most pressing first.
func TestCautions(t *testing.T) {
	worn := start(wrought("AG925")).then(drawnBy(0.7))
	const pickle = "If it is quenched: a slow plunge in water, never in pickle; a hollow piece needs a vent or steam bursts it."
	const edges = "Look at the edges and ends: they go first, and this sum does not see them."
	const melts = "Stay below 779 °C: a cast bar can start to melt inside at that heat."
	const short = "Never hammer it red. Above about 550 °C it is hot short and cracks."
	for _, c := range []struct {
		name, reason string
		story        story
		first        string
		also, never  []string
	}{
		{"carry on", "the sum does not see an edge", start(wrought("AG925")), edges, nil, []string{melts, short}},
		{"no anneal", "nor in pewter; and it may hold lead", start(wrought("SN92")), edges,
			[]string{"Old pewter may hold lead. Check before you work it, never use it for food, and share no tools or pickle with it."}, nil},
		{"anneal now", "before the torch is lit", worn, "Local rules for flames and gas come first; see the safety page before lighting up.", []string{melts}, []string{edges, short}},
		{"heating", "a torch is lit", worn.then(schedule.Begun{}), "Torch lit: eyes covered, nothing that burns near, water or extinguisher at hand.", []string{melts, short}, []string{edges}},
		{"at heat", "it still is", worn.then(schedule.Reached{}), "Torch lit: eyes covered, nothing that burns near, water or extinguisher at hand.", []string{melts, short}, nil},
		{"out", "black metal burns", worn.then(schedule.Out{}), "HOT, not glowing: it burns you and what it touches long after the red has gone.", []string{pickle, short}, []string{melts}},
		{"quenched", "perhaps not everywhere", worn.quenched(), "Take it as hot until you know it is cool.", nil, []string{melts, short}},
		{"cracked", "it flies", worn.then(schedule.CrackSeen{}), "Split metal is sharp and can fly: eyes covered.", []string{"Heating does not heal a crack."}, []string{melts, edges}},
		{"brass heated", "zinc fume", start(wrought("C26000")).then(drawnBy(0.7)), "Local rules for flames and gas come first; see the safety page before lighting up.",
			[]string{"Overheated brass gives off zinc fume, which brings fever within hours. Zinc boils at 907 °C; fume starts lower. Ventilate."}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got := c.story.advice().Cautions
			require.Equal(t, c.first, got[0], c.reason)
			for _, s := range c.also {
				require.Contains(t, got, s)
			}
			for _, s := range c.never {
				require.NotContains(t, got, s)
			}
		})
	}
}

// Every metal of the table, in every state, is told what to do next and what can
// hurt; one that softens by itself is never told to heat.
func TestEveryMetalIsAdvised(t *testing.T) {
	for _, alloy := range alloys.All() {
		for _, h := range []story{start(wrought(string(alloy.ID))), start(cast(string(alloy.ID)))} {
			for _, h := range []story{h, h.then(drawnBy(0.3)), h.then(drawnBy(0.8)), h.then(schedule.Begun{}), h.then(schedule.Reached{}),
				h.then(schedule.Out{}), h.quenched(), h.then(schedule.CrackSeen{})} {
				a := h.advice()
				require.NotEmpty(t, a.Next, "%s %v", alloy.ID, a.Verdict)
				require.NotEmpty(t, a.Reasons, "%s %v", alloy.ID, a.Verdict)
				require.NotEmpty(t, a.Cautions, "%s %v", alloy.ID, a.Verdict)
				for _, s := range append([]string{a.Next}, a.Reasons...) {
					require.NotRegexp(t, `%!|\.[.;]| \.|[ :]$`, s, "%s: a badly made sentence", alloy.ID)
				}
				if alloy.SelfSoftening {
					require.NotRegexp(t, "heat to|heat evenly|then anneal|stop and anneal|hold until", a.Next, alloy.ID)
				}
			}
		}
	}
}
