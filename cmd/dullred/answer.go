package main

import (
	"fmt"
	"strings"
)

// answer prints what a command found: the struct with tags if it was asked for, else
// the text.
func (a *app) answer(tagged any, text string) error {
	if a.json {
		return a.printJSON(tagged)
	}
	a.printf("%s", text)
	return nil
}

// headed is the text of an answer whose lines have a head.
type headed struct{ strings.Builder }

func (h *headed) line(head, format string, args ...any) {
	h.WriteString(workedLine(head, fmt.Sprintf(format, args...)))
}
