package tui

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/tui/view"
)

// turnable is a figure that is not in the units of the smith.
var turnable = regexp.MustCompile(`[0-9] (mm|°C|g)\b`)

// Every page of a bench is in the units of the smith, but for what people typed and
// the sum, which is worked in mm.
func TestBenchInStyle(t *testing.T) {
	s := class(t, newStage(t))
	s.marked(t, "ring 2.5 mm", "1.5 g").worked(t, "7.2x7.8").keys("k")
	s.style = unit.Style{Inches: true, Fahrenheit: true, Weight: unit.TroyOunces}
	typed := strings.NewReplacer("ring 2.5 mm", "", "1.5 g", "")
	for page := view.Distance; page < view.Why; page++ {
		s.page = page
		text := view.Draw(s.Scene(), 120, 60).String()
		require.Empty(t, turnable.FindString(typed.Replace(text)), "page %d\n%s", page, text)
		if page != view.Keys && page != view.Cautions {
			require.Contains(t, text, "ring 2.5 mm")
		}
	}
	s.page = view.Why
	require.Contains(t, view.Draw(s.Scene(), 120, 60).String(), "8x8 mm to 7.2x7.8 mm")
}

func BenchmarkSceneInStyle(b *testing.B) {
	for _, style := range []struct {
		name string
		unit.Style
	}{{"none", unit.Style{}}, {"all", unit.Style{Comma: true, Inches: true, Fahrenheit: true}}} {
		b.Run(style.name, func(b *testing.B) {
			s := class(b, newStage(b))
			s.style = style.Style
			b.ReportAllocs()
			for b.Loop() {
				view.Draw(s.Scene(), 120, 40)
			}
		})
	}
}
