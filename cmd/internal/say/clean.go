// Package say is how the programs talk: one clean sentence at a time.
package say

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clean makes text that somebody typed safe to print: one line, no control characters
// and none that turn the direction of the line.
func Clean(s string) string {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\uFFFD")
	}
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' || unicode.In(r, unicode.Zl, unicode.Zp) {
			return ' '
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, s)
}
