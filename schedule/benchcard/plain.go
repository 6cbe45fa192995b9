package benchcard

import (
	"strings"
	"unicode"
)

// plain is a text that neither ends a line nor turns its direction: blanks for what is
// blank, and a mark for what does not print.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(text, string(unicode.ReplacementChar)))
}
