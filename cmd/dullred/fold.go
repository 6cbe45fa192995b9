package main

import (
	"strings"
	"unicode/utf8"
)

// wide is how many columns a printed line has at most, where words allow.
const wide = 78

// folded is a text as it is said in another style, with the paragraphs whose lines
// grew past the width wrapped anew. It has the lines of the text that was.
func folded(was, said string) string {
	if was == said {
		return said
	}
	before, lines := strings.Split(was, "\n"), strings.Split(said, "\n")
	var out []string
	for i := 0; i < len(lines); {
		end := i + 1
		for end < len(lines) && goesOn(before[i], before[end-1], before[end]) && indent(before[end]) == indent(before[i+1]) {
			end++
		}
		if grew(before[i:end], lines[i:end]) {
			out = append(out, rewrap(lines[i:end])...)
		} else {
			out = append(out, lines[i:end]...)
		}
		i = end
	}
	return strings.Join(out, "\n")
}

// goesOn reports whether a line is of the paragraph that first begins: it hangs under
// it, and its first word had no room in the line above.
func goesOn(first, above, line string) bool {
	word, _, _ := strings.Cut(strings.TrimLeft(line, " "), " ")
	return word != "" && indent(line) > indent(first) && across(above)+1+across(word) > wide
}

// grew reports whether a line that kept the width does not any more.
func grew(before, lines []string) bool {
	for i, line := range lines {
		if across(line) > wide && across(before[i]) <= wide {
			return true
		}
	}
	return false
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

// across is how many columns a line takes.
func across(line string) int { return utf8.RuneCountInString(line) }

// rewrap wraps the lines of a paragraph anew. What stands before the first two blanks
// that come behind a word stays as it is: a head, or the columns of a table.
func rewrap(lines []string) (out []string) {
	text := strings.TrimRight(lines[0], " ")
	head := len(text) - len(strings.TrimLeft(text, " "))
	if gap := strings.LastIndex(text, "  "); gap >= head {
		head = gap + 2
	}
	hang := min(across(text[:head]), wide/2)
	if hang == indent(text) {
		hang += 2
	}
	if len(lines) > 1 {
		hang = indent(lines[1])
	}
	line, empty := text[:head], true
	for _, word := range strings.Fields(strings.Join(append([]string{text[head:]}, lines[1:]...), " ")) {
		switch {
		case empty:
			line += word
		case across(line)+1+across(word) > wide:
			out = append(out, line)
			line = strings.Repeat(" ", hang) + word
		default:
			line += " " + word
		}
		empty = false
	}
	return append(out, line)
}
