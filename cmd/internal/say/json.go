package say

import (
	"bytes"
	"encoding/json"
	"fmt"
	"unicode"
	"unicode/utf16"
)

// JSON is a value as JSON and a line feed, with an indent or "" for one line. What a
// terminal may obey, turn around or not show stands in escapes, so that an answer can be
// looked at as well as read by a program; it is the same value to that.
func JSON(v any, indent string) ([]byte, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetIndent("", indent)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return visible(out.Bytes()), nil
}

// visible writes what is not seen as escapes. The encoder did so with control characters
// of seven bits but DEL, and outside of strings there is nothing else.
func visible(text []byte) []byte {
	if bytes.IndexFunc(text, hidden) < 0 {
		return text
	}
	var out bytes.Buffer
	for _, r := range string(text) {
		if !hidden(r) {
			out.WriteRune(r)
			continue
		}
		for _, unit := range utf16.AppendRune(nil, r) {
			fmt.Fprintf(&out, `\u%04x`, unit)
		}
	}
	return out.Bytes()
}

// hidden is a sign that JSON takes as it is and that is not seen.
func hidden(r rune) bool {
	return r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}
