package benchcard_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/benchcard"
	"dullred/schedule/internal/pdfread"
)

// printed is a card read back from its page: one page, in large letters, within the
// margins, each line below the one before.
func printed(t require.TestingT, c benchcard.Card, name string) pdfread.Page {
	out, err := c.PDF()
	require.NoError(t, err, name)
	f, err := pdfread.Read(out)
	require.NoError(t, err, name)
	require.Len(t, f.Pages, 1, name)
	p := f.Pages[0]
	for _, text := range p.Texts {
		require.GreaterOrEqual(t, text.Size, 14.0, name)
		require.True(t, text.X >= 42.5 && text.Y >= 841.89-774 && text.Y+text.Size <= 841.89-43, "%s: %q is in the margin", name, text.Text)
	}
	require.Contains(t, strings.Join(p.Words(), " "), "Local rules for flames and gas come first", name)
	return p
}

// large are the words in letters of 28 points or more.
func large(p pdfread.Page) string {
	var parts []string
	for _, text := range p.Texts {
		if text.Size >= 28 {
			parts = append(parts, text.Text)
		}
	}
	return strings.Join(parts, " ")
}

func metals() (all []benchcard.Metal) {
	for _, a := range alloys.All() {
		for _, cast := range []bool{false, true} {
			for _, thick := range []unit.Millimetre{1, 30} {
				all = append(all, benchcard.Metal{Start: schedule.Started{Alloy: string(a.ID), Cast: cast,
					Reading: schedule.Reading{Size: unit.Size{Shape: unit.Rectangular, Thick: thick, Width: 30}}}})
			}
		}
	}
	return all
}

func TestEveryMetalHasOnePage(t *testing.T) {
	for _, m := range metals() {
		c, err := benchcard.OfMetal(m)
		require.NoError(t, err, m.Start.Alloy)
		name := fmt.Sprintf("%s, %s", c.Title, c.Under)
		p := printed(t, c, name)
		require.GreaterOrEqual(t, p.Texts[0].Size, 40.0, name)
		words := strings.Join(p.Words(), " ")
		card, err := schedule.CardOf(nil, m.Start, m.Eye)
		require.NoError(t, err)
		if card.High > 0 {
			require.Contains(t, large(p), fmt.Sprintf("%.0f °C", float64(card.High)), name)
			for _, light := range []string{"dark", "dim", "bench lamp", "daylight"} {
				require.Contains(t, words, light, name)
			}
			if len(card.Words) > 0 {
				require.Contains(t, words, ", by ", name+": a word is named with its list")
			}
		}
		for _, never := range []string{"sunlight", "visible (in the daylight)"} {
			require.NotContains(t, words, never, name)
		}
		if card.Ceiling.Temp > 0 {
			require.Contains(t, large(p), fmt.Sprintf("%.0f °C or more", float64(card.Ceiling.Temp)), name)
		}
		for _, r := range card.Alloy.Rules(alloys.RuleHazard) {
			if r.Use == alloys.UseDefault {
				require.Contains(t, words, r.Text, name+": a caution is never cut")
			}
		}
	}
}
