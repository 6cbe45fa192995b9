package view

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
)

var inInches = unit.Style{Inches: true, Fahrenheit: true, Comma: true, Weight: unit.TroyOunces}

func TestSignInStyle(t *testing.T) {
	for _, c := range []struct {
		name, why          string
		sign               sign
		style              unit.Style
		figure, says, unit string
	}{
		{"size", "the size to stop at", sign{figure: "7.5x7.5", caption: "mm: stop there"}, unit.Style{Inches: true}, "0.295x0.295", "in: stop there", "in"},
		{"diameter", "its sign stays", sign{figure: "⌀3.9", caption: "mm round: stop there"}, unit.Style{Inches: true}, "⌀0.154", "in round: stop there", "in"},
		{"radius", "its letter stays", sign{figure: "R31", caption: "mm inside radius, round a former"}, unit.Style{Inches: true}, "R1.22", "in inside radius, round a former", "in"},
		{"window", "593 C = 1099 F, 649 C = 1200 F", sign{figure: "593-649", caption: "°C, the window to anneal in"}, unit.Style{Fahrenheit: true}, "1099-1200", "°F, the window to anneal in", "°F,"},
		{"probe", "740 C = 1364 F; what melts is turned too", sign{figure: "740", caption: "°C: TAKE IT OUT. it melts from 779 °C"}, unit.Style{Fahrenheit: true}, "1364", "°F: TAKE IT OUT. it melts from 1434 °F", "°F"},
		{"comma", "in block numerals too", sign{figure: "7.5x7.5", caption: "mm: stop there"}, unit.Style{Comma: true}, "7,5x7,5", "mm: stop there", "mm"},
		{"count-down", "a time is none of its figures", sign{figure: "1:05", caption: "left of 2:00"}, inInches, "1:05", "left of 2:00", "left"},
		{"courses", "nor is a count", sign{figure: "5", caption: "courses left (3 to 7)"}, inInches, "5", "courses left (3 to 7)", "courses"},
		{"as it is", "no style", sign{figure: "7.5x7.5", caption: "mm: stop there"}, unit.Style{}, "7.5x7.5", "mm: stop there", "mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			got := c.sign.in(c.style)
			require.Equal(t, []string{c.figure, c.says, c.unit}, []string{got.figure, got.caption, got.unit()}, c.why)
		})
	}
}

// metric is a figure that was not turned.
var metric = regexp.MustCompile(`\d (mm|°C|g)\b`)

func styledScene(page Page) Scene {
	p := &Piece{Name: "ring 2.5 mm", Metal: "sterling silver", Section: "7.2x7.8 mm", Zone: "whole", Work: "lengthen",
		Advice: schedule.Advice{ZoneAdvice: schedule.ZoneAdvice{Verdict: schedule.VerdictCarryOn, Zone: "whole"}, Next: "heat to 593 to 649 °C, work to 7.3x7.4 mm",
			Reasons: []string{"strain 0.17 at 0.9 mm"}, Cautions: []string{"above 550 °C it cracks"}},
		Log: []string{"18:05:00 pass: lengthen to 7.2x7.8 mm"}}
	return Scene{Page: page, Piece: p, Toast: "logged 7.1x7.7 mm", Caution: "below 10 mm it is soon hot", Style: inInches.Keeping(p.Name)}
}

func TestDrawInStyle(t *testing.T) {
	for _, page := range []Page{Distance, Near, Cautions} {
		for _, w := range []int{60, 80, 132} {
			s := styledScene(page)
			text := Draw(s, w, 30).String()
			require.Contains(t, text, "ring 2.5 mm", "as it was typed")
			require.Empty(t, metric.FindString(strings.ReplaceAll(text, "ring 2.5 mm", "")), "page %d, %d columns\n%s", page, w, text)
			if page != Cautions {
				require.Contains(t, strings.Join(strings.Fields(text), " "), "1099 to 1200 °F")
			}
			s.Style = unit.Style{}
			require.Contains(t, Draw(s, w, 30).String(), "7.2x7.8 mm")
		}
	}
}

// What is being typed is no figure of ours.
func TestFormInStyle(t *testing.T) {
	s := styledScene(Distance)
	s.Form = &Form{Title: "size, now 7.2x7.8 mm", Fields: []FormField{{Label: "size", Text: "7.5 mm"}, {Label: "tool", Empty: "8x8"}}, Hint: "strain 0.17"}
	text := Draw(s, 80, 24).String()
	for _, want := range []string{"now 0,283x0,307 in", " 7.5 mm_", "(8x8)", "strain 0,17"} {
		require.Contains(t, text, want)
	}
}

// The sum behind the advice is worked in mm, whatever the style.
func TestWhyInStyle(t *testing.T) {
	s := styledScene(Why)
	s.Why = &schedule.Explanation{Lines: []schedule.Why{{Head: "step", Text: "8x8 mm to 7.2x7.8 mm: thickness ln(7.2/8) = -0.1054"}}}
	require.Contains(t, Draw(s, 100, 30).String(), "8x8 mm to 7,2x7,8 mm: thickness ln(7,2/8) = -0,1054")
}

func BenchmarkDrawInStyle(b *testing.B) {
	for _, style := range []struct {
		name string
		unit.Style
	}{{"none", unit.Style{}}, {"comma", unit.Style{Comma: true}}, {"inches", inInches.Keeping("ring 2.5 mm")}} {
		b.Run(style.name, func(b *testing.B) {
			s := styledScene(Distance)
			s.Style = style.Style
			b.ReportAllocs()
			for b.Loop() {
				Draw(s, 120, 40)
			}
		})
	}
}
