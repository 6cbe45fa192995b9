package manual

import (
	"fmt"
	"strings"
)

// body is a text of several paragraphs. One that is set in stays as it is typed: it is a
// table or an example.
func body(text string) string {
	var b strings.Builder
	for i, paragraph := range strings.Split(strings.Trim(text, "\n"), "\n\n") {
		if i > 0 {
			b.WriteString(".PP\n")
		}
		lines := strings.Split(strings.Trim(paragraph, "\n"), "\n")
		if strings.Contains("\n"+paragraph, "\n ") {
			b.WriteString(asItStands(lines))
			continue
		}
		for _, l := range lines {
			b.WriteString(line(l) + "\n")
		}
	}
	return b.String()
}

func asItStands(lines []string) string {
	var b strings.Builder
	b.WriteString(".nf\n")
	for _, l := range lines {
		b.WriteString(line(l) + "\n")
	}
	return b.String() + ".fi\n"
}

// line is a line of text, none of which is a request: those begin with a dot or an
// apostrophe.
func line(s string) string {
	s = Escape(strings.ReplaceAll(s, "\n", " "))
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") || strings.HasPrefix(s, " ") {
		return `\&` + s
	}
	return s
}

// quoted is one argument of a request.
func quoted(s string) string { return `"` + strings.ReplaceAll(Escape(s), `"`, `\(dq`) + `"` }

// Escape is text as roff prints it: a backslash and a hyphen stay what they are, and
// what is not ASCII is named by its number. Control characters are left out.
func Escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\\':
			b.WriteString(`\e`)
		case r == '-':
			b.WriteString(`\-`)
		case r == '\'':
			b.WriteString(`\(aq`)
		case r == '`':
			b.WriteString("\\`")
		case r == '^':
			b.WriteString(`\(ha`)
		case r == '~':
			b.WriteString(`\(ti`)
		case r == '\t':
			b.WriteString("    ")
		case r < ' ' || r == 0x7f:
		case r < 0x80:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\[u%04X]`, r)
		}
	}
	return b.String()
}
