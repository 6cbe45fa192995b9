package record

import (
	"fmt"
	"slices"
	"strings"
)

// layout is the text form of a UUID (RFC 9562, section 4): x is a hexadecimal digit.
const layout = "xxxxxxxx-xxxx-xxxx-xxxx-xxxxxxxxxxxx"

// shortest is the number of hexadecimal digits below which the tail of an id
// says too little to look for.
const shortest = 4

// isID reports whether s is a UUID in its lower-case text form.
func isID(s string) bool { return len(s) == len(layout) && fits(s) }

// fits reports whether s lies on the end of layout, digit on digit and dash on dash.
func fits(s string) bool {
	pattern := layout[len(layout)-len(s):]
	for i := range len(s) {
		if pattern[i] == '-' && s[i] != '-' || pattern[i] == 'x' && !isDigit(s[i]) {
			return false
		}
	}
	return true
}

// isDigit reports whether c is a hexadecimal digit in lower case.
func isDigit(c byte) bool { return '0' <= c && c <= '9' || 'a' <= c && c <= 'f' }

// tail puts the dashes of a handle where they stand in an id: "1B2C-3d4e" and
// "1b2c3d4e" become the same last nine characters. It refuses what can be the
// end of no id, or is shorter than four digits.
func tail(handle string) (string, error) {
	digits := strings.ReplaceAll(strings.ToLower(handle), "-", "")
	var text []byte
	i, left := len(layout), len(digits)
	for left > 0 && i > 0 {
		i--
		if layout[i] == '-' {
			text = append(text, '-')
			continue
		}
		left--
		text = append(text, digits[left])
	}
	slices.Reverse(text)
	if len(digits) < shortest || left > 0 || !fits(string(text)) {
		return "", fmt.Errorf("%.60q is neither an id nor the last %d or more digits of one", handle, shortest)
	}
	return string(text), nil
}
