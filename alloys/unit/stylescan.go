package unit

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// restyle is one text on its way through Style.Text.
type restyle struct {
	style Style
	text  string
	out   []byte
	done  int // text before it is in out
	debt  int // columns that the line has grown by since the last gap; negative for shrunk
}

// all walks over the text once. Every step moves on.
func (r *restyle) all() string {
	for i := 0; i < len(r.text); {
		c := r.text[i]
		switch {
		case c >= '0' && c <= '9':
			i = r.digits(i)
		case c == '\n':
			r.debt = 0
			i++
		case c == ' ':
			i = r.gap(i)
		case c == '"', c == 'd', c == '-', r.style.kept != nil && len(r.style.kept[c]) > 0:
			i += max(1, r.keptAt(i))
		default:
			i++
		}
	}
	if r.out == nil {
		return r.text
	}
	return string(append(r.out, r.text[r.done:]...))
}

// put writes with in place of the text from one index to another.
func (r *restyle) put(from, to int, with string) {
	if r.text[from:to] == with {
		return
	}
	r.out = append(append(r.out, r.text[r.done:from]...), with...)
	r.done = to
	r.debt += utf8.RuneCountInString(with) - utf8.RuneCountInString(r.text[from:to])
}

// gap pays the debt of a line out of two blanks or more, and leaves two at least.
func (r *restyle) gap(i int) int {
	end := i + blanks(r.text[i:], " ")
	width := end - i
	if r.debt == 0 || width < 2 {
		return end
	}
	paid := max(2, width-r.debt)
	debt := r.debt - (width - paid)
	r.put(i, end, strings.Repeat(" ", paid))
	r.debt = debt
	return end
}

// blanks is how many bytes of the set a text starts with.
func blanks(text, set string) int { return len(text) - len(strings.TrimLeft(text, set)) }

// keptAt is the length of what starts at i and stays as it was typed; 0 for nothing.
func (r *restyle) keptAt(i int) int {
	before, _ := utf8.DecodeLastRuneInString(r.text[:i])
	if i > 0 && inWord(before) {
		return 0
	}
	rest := r.text[i:]
	switch {
	case rest[0] == '"':
		if closing := strings.IndexByte(rest[1:], '"'); closing >= 0 {
			return closing + 2
		}
	case strings.HasPrefix(rest, "dullred "):
		return command(rest)
	case strings.HasPrefix(rest, "--") && len(rest) > 2 && inWord(rune(rest[2])):
		return flagged(rest)
	}
	if r.style.kept == nil {
		return 0
	}
	return r.style.kept.at(rest)
}

func inWord(r rune) bool { return r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) }

// endings are what a command ends before, when it stands in prose.
var endings = []string{". ", "; ", ": ", ", ", " (", "  ", ") ", "\n", ".\n"}

// command is the length of a command in prose, with the quotes in it.
func command(text string) int {
	end := 0
	for end < len(text) {
		rest := text[end:]
		for _, stop := range endings {
			if strings.HasPrefix(rest, stop) {
				return end
			}
		}
		if closing := strings.IndexByte(rest[1:], rest[0]); (rest[0] == '"' || rest[0] == '\'') && closing >= 0 {
			end += closing + 1
		}
		end++
	}
	return end
}

// flagged is the length of a flag and the word behind it.
func flagged(text string) int {
	end := wordEnd(text)
	if end == len(text) || text[end] != ' ' || strings.ContainsAny(text[:end], "=,;:.)") {
		return end
	}
	return end + 1 + wordEnd(text[end+1:])
}

func wordEnd(text string) int {
	if end := strings.IndexAny(text, " \n\t"); end >= 0 {
		return end
	}
	return len(text)
}

// at is the length of the longest name that a text starts with; 0 for none.
func (k *kept) at(text string) (longest int) {
	for _, name := range k[text[0]] {
		n := match(text, name)
		if next, _ := utf8.DecodeRuneInString(text[n:]); n > longest && !(n < len(text) && inWord(next)) {
			longest = n
		}
	}
	return longest
}

// match is the length of a name at the start of a text, where a blank of the name
// may be any blanks of the text; 0 where it is not there.
func match(text, name string) int {
	n := 0
	for j := 0; j < len(name); j++ {
		if n >= len(text) {
			return 0
		}
		if name[j] == ' ' {
			w := blanks(text[n:], " \n\t")
			if w == 0 {
				return 0
			}
			n += w
			continue
		}
		if text[n] != name[j] {
			return 0
		}
		n++
	}
	return n
}
