package main

import "strings"

// asWord is a name as it is typed after a command: between quotes where a shell would
// take it apart. What is shown to be typed can then be typed.
func asWord(name string) string {
	if name != "" && !strings.ContainsFunc(name, parts) {
		return name
	}
	if name != "" && !strings.ContainsAny(name, "\"`$\\!") {
		return `"` + name + `"` // which the shells of Windows know too
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}

// parts reports whether a shell may take more in a sign than the sign.
func parts(r rune) bool {
	return r <= ' ' || strings.ContainsRune("\"'`$&|;<>()[]{}*?!~#\\", r)
}
