package share

import (
	"strings"
	"unicode"
)

// Fold maps all spellings of a text that strings.EqualFold calls equal to one, as the
// record of a bench does. Two labels of one class never have the same folded text.
func Fold(text string) string { return strings.Map(least, text) }

// least is the smallest of the letters that differ from one in case alone.
func least(r rune) rune {
	small := r
	for other := unicode.SimpleFold(r); other != r; other = unicode.SimpleFold(other) {
		small = min(small, other)
	}
	return small
}
