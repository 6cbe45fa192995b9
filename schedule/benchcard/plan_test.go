package benchcard_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/benchcard"
	"dullred/schedule/coldwork"
)

// plan is a plan of so many steps, a heat after every third.
func plan(steps int) schedule.Plan {
	p := schedule.Plan{Job: schedule.PlanJob{Alloy: "AG925"}, Notes: []string{"It is held by the thick end."}}
	for i := range steps {
		s := schedule.PlanStep{Act: schedule.DoPass, Zone: "whole", Process: coldwork.Lengthen, Text: "a quarter turn after each course",
			StopAt: unit.Size{Shape: unit.Rectangular, Thick: unit.Millimetre(100 - i), Width: unit.Millimetre(100 - i)}}
		if i%3 == 2 {
			s = schedule.PlanStep{Act: schedule.DoAnneal, Zone: "whole", Low: 600, High: 650}
		}
		p.Steps = append(p.Steps, s)
	}
	return p
}

func planned(name string, steps, at int) benchcard.Planned {
	return benchcard.Planned{Piece: name, On: schedule.Following{Plan: plan(steps), At: at}, Metal: benchcard.Metal{Start: schedule.Started{Alloy: "AG925"}}}
}

func TestPlanOnOnePage(t *testing.T) {
	cases := []struct {
		name, reason string
		steps, at    int
		near         int  // steps in large letters, at the least
		all          bool // the last step is named
	}{
		{"short", "all of it is large", 3, 0, 3, true},
		{"begun", "from the next step on", 6, 4, 2, true},
		{"long", "the later steps are in small letters", 17, 0, 4, true},
		{"done", "no step is left", 3, 3, 0, false},
		{"as long as no page", "it says that there are more", 90, 0, 4, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			made, err := benchcard.OfPlan(planned("band", c.steps, c.at))
			require.NoError(t, err)
			p := printed(t, made, c.name)
			words, big := strings.Join(p.Words(), " "), large(p)
			for i := c.at; i < c.at+c.near; i++ {
				if i%3 == 2 {
					require.Contains(t, big, "whole, 600 to 650 °C", c.reason)
					continue
				}
				require.Contains(t, big, fmt.Sprintf("to %dx%d", 100-i, 100-i), c.reason)
			}
			last := fmt.Sprintf("%d lengthen whole to", c.steps)
			if (c.steps-1)%3 == 2 {
				last = fmt.Sprintf("%d anneal whole", c.steps)
			}
			require.Equal(t, c.all, strings.Contains(words, last), c.reason)
			require.Equal(t, c.steps == 90, strings.Contains(words, "There are more steps"), c.reason)
			require.Contains(t, words, "bench lamp", "the colour in the light of the bench")
			require.Contains(t, words, "Never quench in pickle", "a caution stays")
		})
	}
}

// Whatever a piece is called and whatever a plan says, its card is one page of text.
func TestCardsOfAnything(t *testing.T) {
	texts := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"<script>alert(1)</script>", "\u202egnp", "勺", strings.Repeat("long", 2500), "\xff", "\x1b[2J",
		strings.Repeat("many words ", 900), "{{.Foot}}"}))
	rapid.Check(t, func(t *rapid.T) {
		made := planned(texts.Draw(t, "name"), rapid.IntRange(0, 20).Draw(t, "steps"), 0)
		made.On.Changed, made.On.Lost = texts.Draw(t, "changed"), texts.Draw(t, "lost")
		for i := range made.On.Plan.Steps {
			made.On.Plan.Steps[i].Zone = texts.Draw(t, "zone")
		}
		made.On.Plan.Notes = rapid.SliceOfN(texts, 0, 9).Draw(t, "notes")
		c, err := benchcard.OfPlan(made)
		require.NoError(t, err)
		printed(t, c, "")
		page, err := c.HTML()
		require.NoError(t, err)
		require.NotContains(t, string(page), "<script")
		for _, text := range []string{string(page), c.Text()} {
			require.NotContains(t, text, "\x1b")
			require.NotContains(t, text, "\u202e")
		}
	})
}

// A metal with more cautions than a page holds says so.
func TestMoreCautionsThanAPage(t *testing.T) {
	c, err := benchcard.OfMetal(benchcard.Metal{Start: schedule.Started{Alloy: "AG925"}})
	require.NoError(t, err)
	most := alloys.All()[0].Rules(alloys.RuleHazard)[0].Text
	for range 40 {
		last := c.Rows[len(c.Rows)-1]
		last.Text = most
		c.Rows = append(c.Rows, last)
	}
	p := printed(t, c, "long")
	require.Contains(t, strings.Join(p.Words(), " "), "There are more cautions than go on this page: read them before the first heat.")
}

func TestSameCardSameBytes(t *testing.T) {
	c, err := benchcard.OfPlan(planned("band", 9, 2))
	require.NoError(t, err)
	one, err := c.PDF()
	require.NoError(t, err)
	other, err := c.PDF()
	require.NoError(t, err)
	require.Equal(t, string(one), string(other))
}

func TestTextOfACard(t *testing.T) {
	c, err := benchcard.OfPlan(planned("band", 17, 0))
	require.NoError(t, err)
	text := c.Text()
	require.Contains(t, text, "1 lengthen  whole to 100x100\n")
	require.Contains(t, text, "17 lengthen whole to 84x84\n")
	for line := range strings.Lines(text) {
		require.LessOrEqual(t, len([]rune(strings.TrimSuffix(line, "\n"))), 78, line)
	}
}
