package view

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/heat"
)

// drillSizes are the screens that the pages of a lesson are laid out for.
var drillSizes = []struct{ w, h int }{{LeastWidth, LeastHeight}, {80, 24}, {120, 40}}

// drillSigns are the signs of a lesson on a screen, whatever happens in it.
func drillSigns(w, h int, theme Theme) (f *Frame, l plan, all []sign) {
	f = New(w, h)
	f.thin = theme == Hearth
	l = planFor(f)
	add := func(d Drill) { all = append(all, drillSign(f, l, d)) }
	for said := range 10 {
		for truth := range 13 {
			add(Drill{Stage: Told, Said: said, Truth: truth})
		}
	}
	for stage := Striking; stage <= Scored; stage++ {
		for _, off := range []float64{-9.94, -0.04, 0, 1.2, 9} {
			for _, soft := range []bool{true, false} {
				add(Drill{Stage: stage, Struck: 12, Bar: 3, Of: 3, Soft: soft, Melted: !soft && off < 0, Asked: 3, Error: off, Faults: 2})
			}
		}
	}
	for glow := schedule.GlowNone; glow <= schedule.GlowOrange; glow++ {
		for _, sight := range []heat.Sight{heat.NotSeen, heat.PerhapsSeen, heat.Seen} {
			add(Drill{Stage: InFlame, Glow: Glowing{Glow: glow, Sight: sight}})
			add(Drill{Stage: OutOfFlame, Glow: Glowing{Glow: glow, Sight: sight, Runs: glow == schedule.GlowOrange}})
		}
	}
	return f, l, all
}

// Nothing in block letters is cut off: SAID 1 without the rest would be another answer.
func TestWordsOfALessonFit(t *testing.T) {
	for _, size := range drillSizes {
		for _, theme := range []Theme{Dark, Hearth} {
			f, l, all := drillSigns(size.w, size.h, theme)
			for _, sig := range all {
				room := f.w - l.margin
				require.LessOrEqual(t, Width(sig.figure, l.number), room, "%q at %dx%d", sig.figure, size.w, size.h)
				if grounded(sig.role) {
					room -= 2 * plateColumns
				}
				require.LessOrEqual(t, Width(sig.word, l.word), room, "%q at %dx%d", sig.word, size.w, size.h)
				require.NotEmpty(t, sig.caption, sig.word)
			}
		}
	}
}

func TestToldWords(t *testing.T) {
	cases := []struct {
		said, truth  int
		want, reason string
	}{
		{4, 2, "YOU SAID 4, IT WAS 2: LATE BY 2", "metal that splits first"},
		{2, 4, "YOU SAID 2, IT WAS 4: EARLY BY 2", "a heat too many"},
		{3, 3, "YOU SAID 3, IT WAS 3: RIGHT", ""},
		{0, 0, "YOU SAID 0, IT WAS 0: RIGHT", "none is an answer"},
	}
	for _, c := range cases {
		require.Equal(t, c.want, toldWords(Drill{Said: c.said, Truth: c.truth}), c.reason)
	}
}

// What is seen is in words, with its light, and never as a temperature.
func TestSeenWords(t *testing.T) {
	cases := []struct {
		glow Glowing
		want string
	}{
		{Glowing{Glow: schedule.GlowDull, Sight: heat.NotSeen, Light: heat.LightDay}, "no red is seen (light: daylight)"},
		{Glowing{Glow: schedule.GlowDull, Sight: heat.PerhapsSeen, Light: heat.LightDim}, "perhaps a first trace of red (light: dim)"},
		{Glowing{Glow: schedule.GlowDull, Sight: heat.Seen, Light: heat.LightDark}, "dull red (light: dark)"},
		{Glowing{Glow: schedule.GlowNone, Sight: heat.Seen, Light: heat.LightDark}, "faint red (light: dark)"},
		{Glowing{Glow: schedule.GlowBright, Sight: heat.Seen, Light: heat.LightDark, Runs: true}, "it sags and runs (light: dark)"},
	}
	for _, c := range cases {
		require.Equal(t, c.want, seenWords(c.glow), fmt.Sprint(c.glow))
	}
}

// An average that is shown as nothing is called right, and no sign is lost.
func TestScoreSign(t *testing.T) {
	f := New(80, 24)
	l := planFor(f)
	cases := []struct {
		d               Drill
		figure, caption string
	}{
		{Drill{Stage: Scored}, "-", "nothing was asked"},
		{Drill{Stage: Scored, Asked: 4, Error: 1.25}, "1.2 LATE", "courses late on average"},
		{Drill{Stage: Scored, Asked: 4, Error: -0.5}, "0.5 EARLY", "courses early on average"},
		{Drill{Stage: Scored, Asked: 4, Error: -0.04}, "RIGHT", "on average"},
	}
	for _, c := range cases {
		sig := drillSign(f, l, c.d)
		require.Equal(t, c.figure, sig.figure)
		require.Equal(t, c.caption, sig.caption)
	}
}
