package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var imperial = Style{Inches: true, Fahrenheit: true, Weight: TroyOunces}

// TestStyleText takes the factors from NIST SP 811 (2008), App. B: 1 in = 25.4 mm and
// 1 ozt = 31.1034768 g, 1 dwt = 1.55517384 g (exact), t/°F = 1.8 t/°C + 32 (exact). The
// worked figures were divided by hand.
//
// Outside check (standard): inches, troy weight and °F by the factors of NIST SP 811.
func TestStyleText(t *testing.T) {
	comma, dwt := Style{Comma: true}, Style{Weight: Pennyweights}
	for _, c := range []struct {
		name, why  string
		style      Style
		text, want string
	}{
		{"size", "7.3/25.4 = 0.28740, 7.4/25.4 = 0.29134; 0.001 in is 0.025 mm, finer than 0.1 mm", imperial, "whole 7.3x7.4 mm, next", "whole 0.287x0.291 in, next"},
		{"tenth", "0.1/25.4 = 0.00394", imperial, "±0.1 mm", "±0.004 in"},
		{"whole", "8/25.4 = 0.31496; 0.01 in is 0.25 mm", imperial, "8 mm square", "0.31 in square"},
		{"inch", "25.4 mm exactly", imperial, "25.4 mm", "1.000 in"},
		{"calliper", "0.05/25.4 = 0.00197", imperial, "calliper: 0.05 mm", "calliper: 0.0020 in"},
		{"finest of a size decides", "8/25.4 = 0.315, 6.5/25.4 = 0.2559", imperial, "8x6.5 mm", "0.315x0.256 in"},
		{"range of lengths", "5.6/25.4 = 0.2205, 6.2/25.4 = 0.2441", imperial, "5.6 to 6.2 mm", "0.220 to 0.244 in"},
		{"ring", "three numbers share a unit", imperial, "62x3x8 mm ring", "2.44x0.12x0.31 in ring"},
		{"area", "54/645.16 = 0.08370", imperial, "it has 54 mm² and", "it has 0.084 in² and"},
		{"volume", "6840/16387.064 = 0.417402", imperial, "6840 mm³", "0.41740 in³"},
		{"cm²", "65.2/6.4516 = 10.106", imperial, "over 65.2 cm² of skin", "over 10.11 in² of skin"},
		{"window", "593 C = 1099.4 F, 649 C = 1200.2 F", imperial, "593 to 649 °C", "1099 to 1200 °F"},
		{"window with a dash", "as on the page of a plan", imperial, "593-649 °C, the window", "1099-1200 °F, the window"},
		{"below zero", "-20 C = -4 F", imperial, "at -20 °C", "at -4 °F"},
		{"from below to above", "-10 C = 14 F, 5 C = 41 F", imperial, "-10 to 5 °C", "14 to 41 °F"},
		{"two below", "-40 is the same on both scales, -10 C = 14 F", imperial, "-40 to -10 °C", "-40 to 14 °F"},
		{"boiling", "100 C = 212 F exactly", imperial, "100 °C", "212 °F"},
		{"margin", "a difference: 5 K = 9 °F", imperial, "±5 °C", "±9 °F"},
		{"within", "a difference: 10 K = 18 °F", imperial, "within 10 °C", "within 18 °F"},
		{"to spare", "a difference: 12 K = 21.6 °F; the window is none", imperial, "593 to 639 °C, with 12 °C to spare under the ceiling", "1099 to 1182 °F, with 22 °F to spare under the ceiling"},
		{"negative margin", "a difference keeps its sign", imperial, "a margin of -20 °C", "a margin of -36 °F"},
		{"bare range behind", "the range is of the same unit: 650 C = 1202 F, 715 C = 1319 F", imperial, "at 680 °C (650 to 715)", "at 1256 °F (1202 to 1319)"},
		{"both given", "said once", imperial, "650 °C (1202 °F), clean copper", "1202 °F, clean copper"},
		{"both given in °C", "as it stands", comma, "650 °C (1202 °F)", "650 °C (1202 °F)"},
		{"troy", "74.9/31.1034768 = 2.40809", imperial, "74.9 g of 77 g", "2.408 ozt of 2.48 ozt"},
		{"pennyweight", "74.9/1.55517384 = 48.1618; 1.25/1.55517384 = 0.80377", dwt, "74.9 g, 1.25 g", "48.16 dwt, 0.804 dwt"},
		{"kilogram", "1.2 kg is 38.5809 ozt: 1 ozt is finer than 0.1 kg", imperial, "1.2 kg", "39 ozt"},
		{"density", "a unit over another stays", imperial, "10.36 g/cm³", "10.36 g/cm³"},
		{"rate", "a unit over another stays", imperial, "0.4 mm/s and 3 mm", "0.4 mm/s and 0.12 in"},
		{"kelvin and stress", "no other unit is for them", imperial, "1000 K, 220 MPa, 66 to 76 HV", "1000 K, 220 MPa, 66 to 76 HV"},
		{"broken line", "blanks stay as they are", imperial, "heat to 593 to\n  649 °C, hold", "heat to 1099 to\n  1200 °F, hold"},
		{"broken before the unit", "blanks stay as they are", imperial, "to 7.3x7.4\n      mm by", "to 0.287x0.291\n      in by"},
		{"bare size", "a size with no unit is in mm", imperial, "STOP AT 7.5x7.5 (step 4 of 17): 1.6 mm to go", "STOP AT 0.295x0.295 in (step 4 of 17): 0.063 in to go"},
		{"bare round", "so is one before its shape", imperial, "[13 DRAW 3.9 round]", "[13 DRAW 0.154 in round]"},
		{"bare ring", "so is the ring of a step", imperial, "STOP AT ring 62, then", "STOP AT ring 2.44 in, then"},
		{"decimal", "0.17 has no unit", comma, "strain 0.17, 1.5 %, (0.2) and =0.3", "strain 0,17, 1,5 %, (0,2) and =0,3"},
		{"comma in figures", "the unit stays", comma, "7.3x7.4 mm, 5.6 to 6.2 mm, 10.36 g/cm³", "7,3x7,4 mm, 5,6 to 6,2 mm, 10,36 g/cm³"},
		{"comma in formulas", "all numbers of a sum alike", comma, "ln(4.9/5.8) = -0.1686", "ln(4,9/5,8) = -0,1686"},
		{"both", "one pass", Style{Comma: true, Inches: true}, "7.3x7.4 mm, strain 0.17", "0,287x0,291 in, strain 0,17"},
		{"end of a sentence", "a full stop is no decimal sign", Style{Comma: true, Inches: true}, "It is 8 mm. It was 0.5.", "It is 0,31 in. It was 0,5."},
		{"dots", "of Germany", Style{Dates: DayDots}, "2026-03-31 19:45 mb", "31.03.2026 19:45 mb"},
		{"slashes", "of Britain", Style{Dates: DaySlashes}, "on 2026-03-31.", "on 31/03/2026."},
		{"month first", "of the United States", Style{Dates: MonthSlashes}, "(2026-03-31)", "(03/31/2026)"},
		{"columns", "blanks make up for the new width", imperial, "a  8x8 mm   b\na  8 mm   b\n", "a  0.31x0.31 in  b\na  0.31 in  b\n"},
		{"columns narrower", "two decimals less", Style{Weight: TroyOunces}, "1.25 kg  b", "40.2 ozt  b"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			require.Equal(t, c.want, c.style.Text(c.text), c.why)
			require.Equal(t, c.want, c.style.Text(c.want), "twice is once")
		})
	}
}

// everything is a style in which nothing stays as it is for want of a wish.
var everything = Style{Comma: true, Inches: true, Fahrenheit: true, Weight: Pennyweights, Dates: DayDots}

func TestStyleKeeps(t *testing.T) {
	names := everything.Keeping("ring 2.5 mm", "spoon 2", "8x8 spoon", "7.5", "plain", "Été 1.5 g")
	for _, c := range []struct{ name, why, text string }{
		{"command", "it is typed", `Next: dullred pass spoon 7.3x7.4 mm`},
		{"command in quotes", "it is typed", `run "dullred pass spoon 7.3x7.4 mm --at 2026-03-03"`},
		{"command with quotes", "the stop in the quotes does not end it", `dullred note spoon "at 1.5 mm. Again 2.5 mm" 0.5`},
		{"flag", "its value is typed", "with --calliper 0.05 it is"},
		{"flag with a sign", "its value is typed", "--calliper=0.05 counts"},
		{"quoted", "it was typed", `"7.3 mm": expected a length`},
		{"stuck", "a figure stuck to its unit is typed", "expected a length such as 8, 12.5mm, 0.5in, 1/2in or 20ga"},
		{"clock", "a time", "19:03:00 and 1:30.5 and 9:59"},
		{"shape", "it is typed", "the shape 0:6x3 95:18x3 190:6x3"},
		{"law", "a number of a section", "the floor in US law (29 CFR 1910.252)"},
		{"standard", "a number of a standard", "ASTM B258, ISO 9241.3 and ISO 9241-3, NUREG-0700 rev. 2.1"},
		{"version", "two points", "version 1.26 and 1.26.1 and v0.17"},
		{"file", "a name", "spoon-2.5.csv and 2.5.csv in /tmp/0.5/x"},
		{"address", "a name", "https://example.org/10.1016/2.5 and 10.1016/j.x.2003.08"},
		{"id", "letters and digits in one", "1e2.5 deadbee5 2b7c 12345678"},
		{"shown date", "it says how to type one", "write 14:05 for today, or 2006-01-02 14:05"},
		{"instant", "it is for a machine", "2026-03-03T19:45:00Z"},
		{"no date", "no calendar has it", "2026-13-03 and 2026-02-30"},
		{"longer than a date", "an id", "2026-03-03-7 and x2026-03-03"},
		{"typed comma", "it has its sign", "12,5 and 1,000 and 0,31x0,31 in"},
		{"count", "no unit", "step 4 of 17, 12 courses"},
		{"inch mark", "a foreign figure", `0.5" wide`},
		{"names", "people typed them", "ring 2.5 mm - spoon 2: (8x8 spoon)"},
		{"name in two lines", "it is broken at a blank", "ring\n   2.5 mm: go on"},
		{"name with other letters", "its first byte is no letter of ASCII", "Été 1.5 g"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			require.Equal(t, c.text, names.Text(c.text), c.why)
		})
	}
	require.Equal(t, "ring 2.5 mm, 0,098 in", names.Text("ring 2.5 mm, 2.5 mm"), "the figure beside a name is turned")
	require.Equal(t, "0,295 in", names.Text("7.5 mm"), "a name that is nothing but a number is none here")
	require.Equal(t, "ring 2,5 mmm 0,5", names.Text("ring 2.5 mmm 0.5"), "a longer word is no name, nor a unit")
	require.Equal(t, "dullred log NAME shows it; 0,098 in", everything.Text("dullred log NAME shows it; 2.5 mm"), "prose goes on behind a command")
	require.Equal(t, "0,31 in", names.Metric().Keeping("x 1.5").Text("0,31 in"))
	require.Equal(t, "2,5 mm, 650 °C", everything.Metric().Text("2.5 mm, 650 °C"), "a sum keeps its units")
}

func TestStyleZero(t *testing.T) {
	text := "whole 7.3x7.4 mm, 593 to 649 °C, 2026-03-03, strain 0.17"
	zero := Style{}.Keeping("spoon 2")
	require.True(t, zero.Plain())
	require.Equal(t, text, zero.Text(text))
	require.Zero(t, testing.AllocsPerRun(100, func() { _ = zero.Text(text) }))
}

// TestStyleReadBack holds the rule of precision: what is read back from the new unit
// rounds to the source again.
func TestStyleReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.IntRange(0, 3).Draw(t, "decimals")
		n := rapid.IntRange(1, 999_999).Draw(t, "figure")
		step := math.Pow10(-d)
		source := float64(n) * step
		text := strconv.FormatFloat(source, 'f', d, 64)
		s := Style{Comma: rapid.Bool().Draw(t, "comma"), Inches: true, Fahrenheit: true,
			Weight: rapid.SampledFrom([]Weight{TroyOunces, Pennyweights}).Draw(t, "weight")}
		if source >= float64(MinLength) && source <= float64(MaxLength)/2 {
			l, err := ParseLength(s.Text(text + " mm"))
			require.NoError(t, err)
			require.InDelta(t, source, float64(l), step/2+1e-9)
		}
		if source >= 0.01 {
			g, err := ParseMass(s.Text(text + " g"))
			require.NoError(t, err)
			require.InDelta(t, source, float64(g), step/2+1e-6)
		}
		if source < 3999 {
			c, err := ParseTemperature(s.Text(text + " °C"))
			require.NoError(t, err)
			require.InDelta(t, source, float64(c), step/2+1e-6)
		}
	})
}

func TestStyleSizeReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string) Millimetre { return Millimetre(rapid.IntRange(1, 3000).Draw(t, name)) / 10 }
		z := Size{Shape: Rectangular, Thick: side("thick"), Width: side("width")}
		s := Style{Inches: true, Comma: rapid.Bool().Draw(t, "comma")}
		for _, text := range []string{z.String(), strings.TrimSuffix(z.String(), " mm")} {
			got, err := ParseSize(s.Text(text), Unshaped)
			require.NoError(t, err)
			require.InDelta(t, float64(z.Thick), float64(got.Thick), 0.5)
			require.InDelta(t, float64(z.Width), float64(got.Width), 0.5)
		}
	})
}

var proseParts = []string{"7.3x7.4 mm", "0.9 mm", "8x8", "593 to 649 °C", "±5 °C", "10.36 g/cm³", "74.9 g", "54 mm²", "6840 mm³", "3.9 round", "strain 0.17",
	"2026-03-03", "19:03:00", "12 courses", "29 CFR 1910.252", "dullred pass spoon 7.3x7.4.", `"7.3 mm"`, "spoon 2.5", "ln(4.9/5.8)", "650 °C (1202 °F)", "a, b;", "\n", "-", "to", "(", "  "}

func anyStyle(t *rapid.T) Style {
	return Style{Comma: rapid.Bool().Draw(t, "comma"), Inches: rapid.Bool().Draw(t, "inches"), Fahrenheit: rapid.Bool().Draw(t, "fahrenheit"),
		Weight: Weight(rapid.IntRange(0, 2).Draw(t, "weight")), Dates: DateOrder(rapid.IntRange(0, 3).Draw(t, "dates"))}
}

// TestStyleTwice: what was written in a style is written so.
func TestStyleTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStyle(t).Keeping("spoon 2.5")
		text := strings.Join(rapid.SliceOf(rapid.SampledFrom(proseParts)).Draw(t, "parts"), " ")
		once := s.Text(text)
		require.Equal(t, once, s.Text(once))
		require.True(t, utf8.ValidString(once))
	})
}

// TestStyleNeverMixes: figures in a text are all in the one system, and what is no
// figure is as it was.
func TestStyleNeverMixes(t *testing.T) {
	figures := []string{"%s mm", "%sx%s mm", "%s to %s mm", "%s mm²", "%s mm³", "%s g", "%s °C", "%s to %s °C", "%sx%s", "%s round"}
	rapid.Check(t, func(t *rapid.T) {
		var parts, words []string
		for range rapid.IntRange(1, 6).Draw(t, "figures") {
			form := rapid.SampledFrom(figures).Draw(t, "form")
			args := make([]any, strings.Count(form, "%s"))
			for i := range args {
				d := rapid.IntRange(0, 2).Draw(t, "decimals")
				args[i] = strconv.FormatFloat(float64(rapid.IntRange(1, 9999).Draw(t, "n"))/math.Pow10(d), 'f', d, 64)
			}
			word := rapid.SampledFrom([]string{"strain 17,", "step 4 of 17;", "19:03:00,", "mark II,", "12 HV,"}).Draw(t, "word")
			parts, words = append(parts, fmt.Sprintf(form, args...)+",", word), append(words, word)
		}
		got := imperial.Text(strings.Join(parts, " "))
		for _, unit := range []string{"mm", "°C", " g,"} {
			require.NotContains(t, got, unit)
		}
		for _, w := range words {
			require.Contains(t, got, w)
			got = strings.Replace(got, w, "", 1)
		}
	})
}

func FuzzStyleText(f *testing.F) {
	for _, part := range proseParts {
		f.Add(part+" "+part, "ring 2.5 mm")
	}
	f.Add("-40 to -10 °C (1 to 2)", "é 5")
	f.Add("\"0.5\" 1.5 (", "0.5 x")
	styles := []Style{{Comma: true}, everything, imperial, {Dates: MonthSlashes}}
	f.Fuzz(func(t *testing.T, text, name string) {
		for _, s := range styles {
			got := s.Keeping(name).Text(text)
			require.Equal(t, utf8.ValidString(text), utf8.ValidString(got))
			require.Equal(t, strings.Count(text, "\n"), strings.Count(got, "\n"))
		}
	})
}

func BenchmarkStyleText(b *testing.B) {
	text := strings.Repeat("Stop and anneal: heat to 593 to 649 °C, hold until even; now 7.3x7.4 mm, strain 0.17, 0.9 mm to go. ", 20)
	b.Run("zero", func(b *testing.B) {
		for b.Loop() {
			_ = Style{}.Text(text)
		}
	})
	b.Run("comma", func(b *testing.B) {
		for b.Loop() {
			_ = Style{Comma: true}.Text(text)
		}
	})
	b.Run("all", func(b *testing.B) {
		s := everything.Keeping("ring 2.5 mm", "spoon 2", "spoon 3")
		for b.Loop() {
			_ = s.Text(text)
		}
	})
}
