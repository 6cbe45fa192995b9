package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"dullred/alloys/unit"
)

// The decimal signs are those of Unicode CLDR, in the copy of golang.org/x/text.
func TestDecimalSigns(t *testing.T) {
	names := append(strings.Fields(commas), strings.Fields(points)...)
	for _, name := range append(names, "en_US", "en_GB", "en_AU", "en_IN", "zh_CN", "ja_JP", "ko_KR", "he_IL", "th_TH") {
		tag := strings.ReplaceAll(name, "_", "-")
		if name == "no" {
			tag = "nb" // its older name, which that copy has no row for
		}
		said := message.NewPrinter(language.MustParse(tag)).Sprintf("%.1f", 1.5)
		require.Equal(t, said == "1,5", commaIn(name), "%s writes %s", name, said)
	}
}

// The order of asking is POSIX.1-2017, Base Definitions, 8.2.
func TestLocale(t *testing.T) {
	for _, c := range []struct {
		name, why string
		env       map[string]string
		want      unit.Style
	}{
		{"unset", "as it always was", nil, unit.Style{}},
		{"C", "the locale of programs", map[string]string{"LANG": "C"}, unit.Style{}},
		{"C in UTF-8", "the same", map[string]string{"LC_ALL": "C.UTF-8", "LANG": "de_DE.UTF-8"}, unit.Style{}},
		{"POSIX", "another name of it", map[string]string{"LANG": "POSIX"}, unit.Style{}},
		{"German", "comma and dots", map[string]string{"LANG": "de_DE.UTF-8"}, unit.Style{Comma: true, Dates: unit.DayDots}},
		{"Swiss German", "a point all the same", map[string]string{"LANG": "de_CH.UTF-8"}, unit.Style{Dates: unit.DayDots}},
		{"euro", "the modifier is of no matter", map[string]string{"LANG": "fr_FR@euro"}, unit.Style{Comma: true, Dates: unit.DaySlashes}},
		{"Quebec", "ISO dates", map[string]string{"LANG": "fr_CA.UTF-8"}, unit.Style{Comma: true}},
		{"British", "slashes", map[string]string{"LANG": "en_GB.UTF-8"}, unit.Style{Dates: unit.DaySlashes}},
		{"American", "the month first, but mm and °C: units follow the file alone", map[string]string{"LANG": "en_US.UTF-8"}, unit.Style{Dates: unit.MonthSlashes}},
		{"language alone", "no territory, no date", map[string]string{"LANG": "en"}, unit.Style{}},
		{"Swedish", "ISO dates", map[string]string{"LANG": "sv_SE.UTF-8"}, unit.Style{Comma: true}},
		{"categories", "each its own", map[string]string{"LANG": "en_US.UTF-8", "LC_NUMERIC": "de_DE.UTF-8", "LC_TIME": "C"}, unit.Style{Comma: true}},
		{"all", "it goes before the categories", map[string]string{"LC_ALL": "C", "LC_NUMERIC": "de_DE.UTF-8", "LC_TIME": "de_DE"}, unit.Style{}},
		{"unknown", "as it always was", map[string]string{"LANG": "xx_XX"}, unit.Style{}},
		{"nonsense", "as it always was", map[string]string{"LANG": " "}, unit.Style{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.why)
			require.Equal(t, c.want, usualConfig().style(func(name string) string { return c.env[name] }), c.why)
		})
	}
}

// What the file says goes before the locale.
func TestStyleSettings(t *testing.T) {
	german := func(name string) string { return map[string]string{"LANG": "de_DE.UTF-8"}[name] }
	c, err := parseConfig("config.toml", []byte("units = 'in'\ntemperature = 'F'\nweight = 'dwt'\ndecimal = 'point'\ndates = 'iso'"))
	require.NoError(t, err)
	require.Equal(t, unit.Style{Inches: true, Fahrenheit: true, Weight: unit.Pennyweights}, c.style(german))
	c, err = parseConfig("config.toml", []byte("weight = 'ozt'\ndecimal = 'comma'\ndates = 'month/day/year'"))
	require.NoError(t, err)
	require.Equal(t, unit.Style{Comma: true, Weight: unit.TroyOunces, Dates: unit.MonthSlashes}, c.style(nil))
	require.Equal(t, unit.Style{}, (config{}).style(nil), "the zero settings")
	for _, order := range dates[2:] {
		require.NotZero(t, datesNamed[order], order)
	}
	for _, weight := range weights[1:] {
		require.NotZero(t, weightNamed[weight], weight)
	}
}

func TestFolded(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("whole 7.3x7.4 mm ", 4)) + " end here"
	a := &app{conf: &config{units: "in"}}
	require.Equal(t, strings.TrimSpace(strings.Repeat("whole 0.287x0.291 in ", 3))+" whole\n    0.287x0.291 in end here next",
		a.say(long+"\n    next"), "the next line hangs there since it had no room above")
	require.Equal(t, strings.TrimSpace(strings.Repeat("whole 0.287x0.291 in ", 3))+" whole\n  0.287x0.291 in end here", a.say(long))
	word := strings.Repeat("a", 74) + " 8x8"
	head := "mind    " + strings.Repeat("b ", 31)
	require.Equal(t, "mind    "+strings.TrimSpace(strings.Repeat("b ", 31))+"\n        0.31x0.31 in cc d\n    0.31 in",
		a.say(head+"8x8 mm\n        cc d\n    8 mm"), "a paragraph is wrapped anew, what is less deep is another")
	require.Equal(t, "shown\n  0.31 in\n  0.31 in", a.say("shown\n  8 mm\n  8 mm"), "lines with room left are no paragraph")
	require.Equal(t, strings.Repeat("a", 74)+"\n  0.31x0.31 in", a.say(word), "no blank fits but that")
	over := strings.Repeat("b ", 60) + "8 mm"
	require.Equal(t, strings.Repeat("b ", 60)+"0.31 in", a.say(over), "what was too long is let alone")
	var out bytes.Buffer
	a.out = &out
	a.args = []string{"ring 2.5 mm"}
	a.tongue = tongue{}
	a.printf("%s: 2.5 mm\n", "ring 2.5 mm")
	require.Equal(t, "ring 2.5 mm: 0.098 in\n", out.String())
}
