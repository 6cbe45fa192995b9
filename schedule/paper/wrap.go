package paper

import "strings"

// fit is a space that text goes into.
type fit struct {
	face        *face
	size, width float64
}

// lines breaks a shaped text at blanks and seams into lines that are no wider than the
// space, and within a word where that alone is wider. No text has no lines.
func (f fit) lines(text string) (all []string) {
	line, used := "", 0.0
	blank := f.face.width(" ", f.size)
	for _, word := range strings.Fields(text) {
		gap := blank
		for _, part := range strings.FieldsFunc(word, func(r rune) bool { return r == seam }) {
			w := f.face.width(part, f.size)
			switch {
			case line != "" && used+gap+w <= f.width:
				line, used = line+strings.Repeat(" ", int(gap/blank))+part, used+gap+w
			case line == "" && w <= f.width:
				line, used = part, w
			default:
				if line != "" {
					all = append(all, line)
				}
				whole, rest := f.broken(part)
				all = append(all, whole...)
				line, used = rest, f.face.width(rest, f.size)
			}
			gap = 0
		}
	}
	if line != "" {
		all = append(all, line)
	}
	return all
}

// broken cuts a word into lines that are full and the rest that is not. A line has a
// letter at the least.
func (f fit) broken(word string) (full []string, rest string) {
	from, used := 0, 0.0
	for i, r := range word {
		one, _ := f.face.letter(r)
		if used+one*f.size > f.width && i > from {
			full = append(full, word[from:i])
			from, used = i, 0
		}
		used += one * f.size
	}
	return full, word[from:]
}

// longest is the width of the widest word of a shaped text.
func (f fit) longest(text string) (widest float64) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == seam }) {
		widest = max(widest, f.face.width(word, f.size))
	}
	return widest
}

// cut is as much of a shaped text as goes into the space on one line, with an ellipsis
// where some is left out.
func (f fit) cut(text string) string {
	text = strings.ReplaceAll(text, string(seam), "")
	if f.face.width(text, f.size) <= f.width {
		return text
	}
	return f.ended(text)
}

// ended is as much of a text as goes on one line with an ellipsis behind it.
func (f fit) ended(text string) string {
	f.width -= f.face.width("…", f.size)
	if full, _ := f.broken(text); len(full) > 0 {
		text = full[0]
	}
	return strings.TrimRight(text, " ") + "…"
}
