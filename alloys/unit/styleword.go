package unit

import (
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// differences are the words before a temperature that make it a difference.
var differences = []string{"within", "margin of", "spread of", "error of", "step of", "steps of", "off by", "out by",
	"differ by", "differs by", "rise of", "fall of", "drop of", "difference of", "±", "+-", "+"}

// differing are the words behind it that do. A reading in °C never stands before them.
var differing = []string{"to spare", "apart", "wide", "hotter", "colder", "cooler", "warmer", "higher", "lower", "of error", "either way",
	"too hot", "too cold", "a minute", "a second", "per ", "below the", "under the", "above the", "over the", "short of"}

// difference reports whether a temperature is one, by the words around it.
func (r *restyle) difference(f figure) bool {
	before := strings.TrimRight(r.text[:f.numbers[0].from], " \n-")
	before = strings.TrimSuffix(before, " about")
	for _, word := range differences {
		if rest, ok := strings.CutSuffix(before, word); ok {
			c, size := utf8.DecodeLastRuneInString(rest)
			return size == 0 || !unicode.IsLetter(c)
		}
	}
	after := r.text[f.to:]
	if w := blanks(after, " \n"); w > 0 {
		for _, word := range differing {
			if strings.HasPrefix(after[w:], word) {
				return true
			}
		}
	}
	return false
}

// citing are the words before the number of a standard, a law, a page or a version.
var citing = []string{"CFR", "ASTM", "ISO", "DIN", "EN", "BS", "JIS", "NIST", "SP", "UNS", "NUREG", "DOI", "section", "sections", "sec.", "chapter", "ch.",
	"App.", "appendix", "table", "fig.", "figure", "eq.", "p.", "pp.", "vol.", "no.", "rev.", "version", "release", "go", "§", "§§", "clause"}

// cited reports whether the number at i is one of those.
func (r *restyle) cited(i int) bool {
	word := strings.TrimRight(r.text[:i], " \n(")
	if len(word) == i {
		return false
	}
	word = strings.TrimLeft(word[strings.LastIndexAny(word, " \n")+1:], "([,;")
	for _, c := range citing {
		if strings.EqualFold(word, c) {
			return true
		}
	}
	return false
}

// placed reports whether a number stands in a path or an address.
func (r *restyle) placed(n numeral) bool {
	start := strings.LastIndexAny(r.text[:n.from], " \n\t") + 1
	word := strings.TrimLeft(r.text[start:n.to+wordEnd(r.text[n.to:])], "([")
	return strings.Contains(word, "://") || strings.HasPrefix(word, "/") || strings.HasPrefix(word, "./") || strings.HasPrefix(word, "~/")
}

// shown is the date that shows how to type one.
const shown = "2006-01-02"

// layouts are the orders of a date.
var layouts = [...]string{ISODates: shown, DayDots: "02.01.2006", DaySlashes: "02/01/2006", MonthSlashes: "01/02/2006"}

// date takes a whole ISO date at i, and gives where it ends. It is false where there is none.
func (r *restyle) date(i int) (end int, ok bool) {
	end = i + len(shown)
	if end > len(r.text) || r.text[i+4] != '-' || r.text[i+7] != '-' {
		return i, false
	}
	next, size := utf8.DecodeRuneInString(r.text[end:])
	after, _ := utf8.DecodeRuneInString(r.text[end+size:])
	if size > 0 && (inWord(next) || next == '-' || next == '/' || (next == '.' || next == ':') && inWord(after)) {
		return i, false
	}
	day, err := time.Parse(shown, r.text[i:end])
	if err != nil {
		return i, false
	}
	if text := r.text[i:end]; text != shown && int(r.style.Dates) < len(layouts) && !r.placed(numeral{i, end}) {
		r.put(i, end, day.Format(layouts[r.style.Dates]))
	}
	return end, true
}
