package say

import (
	"fmt"
	"strings"
)

// Exit is an exit code and what it means.
type Exit struct {
	Code  int
	Means string
	Of    string // the one program that ends with it; empty for both
}

// Exits are the exit codes of the programs, in order. The help, the manual and the README
// say the same.
var Exits = []Exit{
	{0, "done", ""},
	{1, "unexpected failure", ""},
	{2, "what was typed cannot be right", ""},
	{3, "no such piece, zone, entry or alloy", "dullred"},
	{4, "the record cannot be read or written", "dullred"},
	{4, "the record of this bench cannot be read or written", "dullred-share"},
	{5, "the shared record cannot be reached, or refuses", "dullred-share"},
}

// BySignal is what a code above 128 means.
const BySignal = "128 and the number of the signal that ended it: 130 for Ctrl-C outside the screen, 143 for SIGTERM"

// ExitsOf are those of one program.
func ExitsOf(program string) (all []Exit) {
	for _, e := range Exits {
		if e.Of == "" || e.Of == program {
			all = append(all, e)
		}
	}
	return all
}

// ExitSentence is what the help says: each code and its meaning.
func ExitSentence(program string) string {
	var parts []string
	for _, e := range ExitsOf(program) {
		parts = append(parts, fmt.Sprintf("%d %s", e.Code, e.Means))
	}
	return strings.Join(parts, "; ") + "."
}

// ExitRows are the codes of one program, with those of a signal, and what they mean.
func ExitRows(program string) (rows [][2]string) {
	for _, e := range ExitsOf(program) {
		rows = append(rows, [2]string{fmt.Sprint(e.Code), e.Means + "."})
	}
	return append(rows, [2]string{"above 128", BySignal + "."})
}

// ExitTable is the table of the README.
func ExitTable() string {
	var b strings.Builder
	b.WriteString("| code | means |\n|---|---|\n")
	for _, e := range Exits {
		of := ""
		if e.Of != "" {
			of = " (`" + e.Of + "`)"
		}
		fmt.Fprintf(&b, "| %d | %s%s |\n", e.Code, e.Means, of)
	}
	fmt.Fprintf(&b, "| above 128 | %s |\n", BySignal)
	return b.String()
}
