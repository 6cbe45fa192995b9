package main

import (
	"cmp"
	"strings"

	"dullred/alloys/unit"
)

// asLocale is the value of a setting that is left to the locale.
const asLocale = "locale"

// The values of the settings that say how figures are written. The first is the
// default.
var (
	lengths      = []string{"mm", "in"}
	temperatures = []string{"C", "F"}
	weights      = []string{"g", "ozt", "dwt"}
	decimals     = []string{asLocale, "point", "comma"}
	dates        = []string{asLocale, "iso", "day.month.year", "day/month/year", "month/day/year"}
)

var weightNamed = map[string]unit.Weight{"ozt": unit.TroyOunces, "dwt": unit.Pennyweights}

var datesNamed = map[string]unit.DateOrder{"day.month.year": unit.DayDots, "day/month/year": unit.DaySlashes, "month/day/year": unit.MonthSlashes}

// style is how figures are written for the smith. The units follow the settings
// alone: a locale says where a machine was set up, and en_US is the commonest of all
// also among those who measure in mm.
func (c config) style(getenv func(string) string) unit.Style {
	s := unit.Style{Inches: c.units == "in", Fahrenheit: c.temperature == "F", Weight: weightNamed[c.weight],
		Comma: c.decimal == "comma", Dates: datesNamed[c.dates]}
	if getenv == nil {
		return s
	}
	if cmp.Or(c.decimal, asLocale) == asLocale {
		s.Comma = commaIn(localeOf(getenv, "LC_NUMERIC"))
	}
	if cmp.Or(c.dates, asLocale) == asLocale {
		s.Dates = datesIn(localeOf(getenv, "LC_TIME"))
	}
	return s
}

// localeOf is language and territory, such as de_AT, of a category of the locale: of
// the first of LC_ALL, the category and LANG that is set (POSIX.1-2017, Base
// Definitions, 8.2). It is empty for C and POSIX.
func localeOf(getenv func(string) string, category string) string {
	name := cmp.Or(getenv("LC_ALL"), getenv(category), getenv("LANG"))
	name, _, _ = strings.Cut(name, "@")
	name, _, _ = strings.Cut(name, ".")
	if name == "C" || name == "POSIX" {
		return ""
	}
	return strings.ReplaceAll(name, "-", "_")
}

// commas are the languages with a decimal comma, and those of their territories that
// have a point all the same (Unicode CLDR; locale_test.go compares with the copy of it in golang.org/x/text).
const (
	commas = " az be bg bs ca cs da de el es et eu fi fo fr gl hr hu hy id is it ka kk ky lb lt lv mk nb nn no nl pl pt ro ru sk sl sq sr sv tr uk uz vi "
	points = " de_CH de_LI it_CH es_MX es_US es_GT es_HN es_NI es_PA es_PE es_SV es_DO es_PR "
)

func commaIn(locale string) bool {
	language, _, _ := strings.Cut(locale, "_")
	return holds(commas, language) && !holds(points, locale)
}

// datesBy are the numeric dates of a territory, else of a language, as far as they are
// in one of our orders; all others stay ISO. The order and the sign between are those
// of Unicode CLDR, from memory, and were held against the locale files of the GNU C
// Library: these differ for de_AT (ISO) and have month names for nb, sl and fr_CH.
var datesBy = []struct {
	order   unit.DateOrder
	locales string
}{
	{unit.ISODates, " fr_CA "},
	{unit.DayDots, " de_AT de_CH fr_CH it_CH "},
	{unit.MonthSlashes, " en_US "},
	{unit.DaySlashes, " en_GB en_IE en_AU en_NZ en_IN "},
	{unit.DayDots, " az be bg cs de et fi hr kk mk nb nn no pl ro ru sk sl sr uk "},
	{unit.DaySlashes, " ca el es fr gl id it pt vi "},
}

func datesIn(locale string) unit.DateOrder {
	language, _, _ := strings.Cut(locale, "_")
	for _, d := range datesBy {
		if holds(d.locales, locale) || holds(d.locales, language) {
			return d.order
		}
	}
	return unit.ISODates
}

// holds reports whether a list of names with blanks around holds one.
func holds(list, name string) bool { return name != "" && strings.Contains(list, " "+name+" ") }
