package say

import (
	"fmt"
	"io"
	"strings"
)

// Fault is an error with what was kept and what to do about it, so that one sentence
// says all three.
type Fault struct {
	Err  error
	Code int    // exit code
	Kept string // "" says nothing of it
	Do   string // "" when nobody knows
}

// Error is what was wrong.
func (f *Fault) Error() string { return f.Err.Error() }

// Unwrap is what was wrong.
func (f *Fault) Unwrap() error { return f.Err }

// Report prints a fault as one sentence of a program and gives its exit code.
func (f *Fault) Report(w io.Writer, program string) int {
	parts := []string{unended(Clean(f.Err.Error()))}
	for _, part := range []string{f.Kept, f.Do} {
		if part != "" {
			parts = append(parts, Clean(part))
		}
	}
	fmt.Fprintf(w, "%s: %s.\n", program, strings.Join(parts, "; "))
	return f.Code
}

// unended is what was wrong without a full stop, with which Windows ends what it says.
func unended(text string) string {
	if strings.HasSuffix(text, "..") {
		return text
	}
	return strings.TrimSuffix(text, ".")
}
