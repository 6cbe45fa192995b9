package sheet

import (
	"math"
	"strings"
	"unicode"
)

// plain is a text that somebody typed, fit to be shown: line breaks are blanks, bytes
// that are no UTF-8 are marked, and what does not print is dropped (control characters,
// and format characters such as zero-width ones and those that turn the direction).
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r' || r == '\t' || unicode.In(r, unicode.Zl, unicode.Zp):
			return ' '
		case unicode.In(r, unicode.Cc, unicode.Cf):
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}

func plainAll(texts []string) []string {
	out := make([]string, 0, len(texts))
	for _, t := range texts {
		out = append(out, plain(t))
	}
	return out
}

// rounded is a figure to a number of places, without the noise of binary fractions;
// nil for what is no number.
func rounded(f float64, places int) *float64 {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil
	}
	scale := math.Pow10(places)
	if r := math.Round(f*scale) / scale; !math.IsInf(r, 0) {
		f = r + 0 // no minus before a zero
	}
	return &f
}

// given is a figure to two places; nil for 0, which is not given.
func given(f float64) *float64 {
	if f == 0 {
		return nil
	}
	return rounded(f, 2)
}
