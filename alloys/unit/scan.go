package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// spellings brings the ways of writing one sign down to one, after the text
// has been put in lower case.
var spellings = strings.NewReplacer(
	"×", "x", "*", "x", "⌀", "ø",
	"″", `"`, "”", `"`,
	"° ", "°", "º ", "°", "º", "°", "℃", "°c", "℉", "°f",
	"b&s gauge", "ga", "b&s", "ga",
	"% of ", "% ",
)

// kind sorts the characters of typed text.
type kind uint8

const (
	sign   kind = iota // stands alone
	digit              // part of a number
	letter             // part of a word
	blank              // parts words and is dropped
)

// kindOf keeps x and ø apart from the letters, so that 8mmx6 falls into four
// words; no unit and no shape word has an x in it.
func kindOf(r rune) kind {
	switch {
	case r >= '0' && r <= '9', r == '.', r == ',', r == '/':
		return digit
	case r == 'x', r == 'ø':
		return sign
	case unicode.IsLetter(r), r == '°':
		return letter
	case unicode.IsSpace(r):
		return blank
	}
	return sign
}

// words cuts typed text into numbers, words and single signs, in lower case
// and without the blanks.
func words(s string) []string {
	var out []string
	text := spellings.Replace(strings.ToLower(s))
	for len(text) > 0 {
		n, k := run(text)
		if k != blank {
			out = append(out, text[:n])
		}
		text = text[n:]
	}
	return out
}

// run is the length in bytes of the word that text starts with, and its kind.
func run(text string) (int, kind) {
	r, n := utf8.DecodeRuneInString(text)
	k := kindOf(r)
	if k == sign {
		return n, k
	}
	if end := strings.IndexFunc(text, func(r rune) bool { return kindOf(r) != k }); end >= 0 {
		return end, k
	}
	return len(text), k
}

// reading is a number as typed and the unit word behind it, "" when there is none.
type reading struct{ number, unit string }

// next takes a reading off the front of words. Its number is "" when the words
// do not start with one.
func next(words []string) (r reading, rest []string) {
	if len(words) == 0 || firstKind(words[0]) != digit {
		return reading{}, words
	}
	r.number, words = words[0], words[1:]
	if len(words) > 0 && isUnit(words[0]) {
		r.unit, words = words[0], words[1:]
	}
	return r, words
}

// only takes words that must be one reading and nothing else.
func only(words []string) (reading, bool) {
	r, rest := next(words)
	return r, r.number != "" && len(rest) == 0
}

func firstKind(word string) kind {
	r, _ := utf8.DecodeRuneInString(word)
	return kindOf(r)
}

func isUnit(word string) bool {
	return word == "%" || word == `"` || firstKind(word) == letter
}

// affix takes a word of the table off the front or the back of words; the
// value is zero when there is none.
func affix[V any](words []string, table map[string]V) (V, []string) {
	if n := len(words); n > 0 {
		if v, ok := table[words[0]]; ok {
			return v, words[1:]
		}
		if v, ok := table[words[n-1]]; ok {
			return v, words[:n-1]
		}
	}
	return *new(V), words
}

// decimal reads digits with at most one decimal point or comma; exponent is ""
// or such as "e-2" to move the point without a second rounding.
func decimal(number, exponent string) (float64, bool) {
	if strings.HasSuffix(number, ".") || strings.HasSuffix(number, ",") {
		return 0, false
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(number, ",", ".")+exponent, 64)
	return v, err == nil
}

// in gives the reading in the base unit of a table of factors, in which the
// base unit and "" stand for 1. It fails on an unknown unit.
func (r reading) in(units map[string]float64) (float64, bool) {
	factor, known := units[r.unit]
	v, ok := decimal(r.number, "")
	return convert(v, factor), known && ok
}

// convert multiplies, and rounds a true conversion to nine decimals, so that
// 0.3 in is 7.62 mm and not 7.619999999999999 mm.
func convert(v, factor float64) float64 {
	if factor == 1 {
		return v
	}
	return round(v*factor, 9)
}

// round keeps the given number of decimals.
func round(v float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(v*p) / p
}

// parse hands the words of s to read and puts the text in front of its error.
func parse[T any](s string, read func(words []string) (T, error)) (T, error) {
	v, err := read(words(s))
	if err != nil {
		return *new(T), fmt.Errorf("%s: %w", quote(s), err)
	}
	return v, nil
}

// quoted is how many characters of the typed text an error shows.
const quoted = 40

// quote puts s in quotes with every control character escaped, and cuts what
// is too long to read.
func quote(s string) string {
	n := 0
	for i := range s {
		if n == quoted {
			return strconv.Quote(s[:i] + "…")
		}
		n++
	}
	return strconv.Quote(s)
}
