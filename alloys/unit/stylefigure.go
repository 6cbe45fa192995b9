package unit

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// numeral is a number of a figure, and where it stands in the text.
type numeral struct{ from, to int }

// figure is what is turned as a whole: its numbers, and its unit with the blanks
// before it. A bare figure has no unit, and from is where its last number ends.
type figure struct {
	numbers []numeral
	unit    string
	from    int // where the unit begins
	to      int // where the figure ends
	bare    bool
}

// metricUnits are the units that prose puts behind a figure, longest first.
var metricUnits = []string{"°C", "mm²", "mm³", "mm", "cm²", "cm³", "cm", "µm", "kg", "mg", "g"}

// foreign are units that a figure has when it was turned.
var foreign = []string{"in²", "in³", "in", "°F", "ozt", "dwt"}

// digits looks at what begins with a digit, and gives where to go on.
func (r *restyle) digits(i int) int {
	if r.style.kept != nil {
		if n := r.style.kept.at(r.text[i:]); n > 0 && !r.within(i) {
			if f, ok := r.figureAt(i); !ok || f.to <= i+n {
				return i + n
			}
		}
	}
	if r.within(i) {
		return r.past(i)
	}
	if end, ok := r.date(i); ok {
		return end
	}
	n, ok := r.numeral(i)
	if !ok {
		return r.past(i)
	}
	if f, ok := r.figureAt(i); ok {
		return r.figure(f)
	}
	r.number(n)
	return n.to
}

// within reports whether the digit at i is no start of a number: it is part of a
// word, a clock time, a path or a number that was written with a comma.
func (r *restyle) within(i int) bool {
	before, size := utf8.DecodeLastRuneInString(r.text[:i])
	if size == 0 {
		return false
	}
	earlier, size := utf8.DecodeLastRuneInString(r.text[:i-size])
	switch before {
	case '.', ',', ':':
		return size > 0 && !unicode.IsSpace(earlier)
	case '-':
		return unicode.IsLetter(earlier)
	case '/':
		return size == 0 || !unicode.IsDigit(earlier)
	case '#', '@', '$', '\\', '~':
		return true
	case 'ø':
		return false
	}
	return inWord(before)
}

// past is the end of what a digit belongs to that is no number.
func (r *restyle) past(i int) int {
	for i < len(r.text) {
		c, n := utf8.DecodeRuneInString(r.text[i:])
		next, _ := utf8.DecodeRuneInString(r.text[i+n:])
		if !inWord(c) && !(strings.ContainsRune(".,:-/@", c) && inWord(next)) {
			break
		}
		i += n
	}
	return i
}

// numeral reads digits with at most one point among them. It is false where they
// are part of something else.
func (r *restyle) numeral(i int) (numeral, bool) {
	end := i + r.count(i)
	if end+1 < len(r.text) && r.text[end] == '.' && isDigit(r.text[end+1]) {
		end += 1 + r.count(end+1)
	}
	n := numeral{i, end}
	if end-i > 15 {
		return n, false // no figure is so long, and it would not come back from a float64
	}
	c, size := utf8.DecodeRuneInString(r.text[end:])
	next, _ := utf8.DecodeRuneInString(r.text[end+size:])
	switch {
	case size == 0:
		return n, true
	case c == 'x':
		return n, next >= '0' && next <= '9'
	case c == '.', c == ',', c == ':', c == '@':
		return n, !inWord(next)
	case c == '/':
		return n, !unicode.IsLetter(next)
	}
	return n, !inWord(c) && c != '°' && c != '"'
}

// count is how many digits stand at i.
func (r *restyle) count(i int) int { return blanks(r.text[i:], "0123456789") }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// figureAt reads a figure. It is false for a number that has no unit.
func (r *restyle) figureAt(i int) (figure, bool) {
	var f figure
	end, sides := r.measure(&f, i)
	if sides == 0 {
		return f, false
	}
	first := len(f.numbers)
	for {
		if unit, from, to := r.unitAt(end, metricUnits); unit != "" {
			f.unit, f.from, f.to = unit, from, to
			return f, true
		}
		if unit, from, to := r.unitAt(end, foreign); unit != "" {
			f.unit, f.from, f.to = unit, from, to
			return f, true // as it stands, but for the decimal sign
		}
		start := r.joint(end)
		if start == 0 {
			break
		}
		next, sides := r.measure(&f, start)
		if sides == 0 {
			break
		}
		end = next
	}
	f.numbers = f.numbers[:first]
	end = f.numbers[first-1].to
	f.bare, f.unit, f.from, f.to = true, "mm", end, end
	return f, r.bare(i, end, first)
}

// measure adds the numbers of a size to a figure, and gives where they end and how
// many there are.
func (r *restyle) measure(f *figure, i int) (end, sides int) {
	if i >= len(r.text) || !isDigit(r.text[i]) {
		return i, 0
	}
	for {
		n, ok := r.numeral(i)
		if !ok {
			return i, 0
		}
		f.numbers = append(f.numbers, n)
		sides++
		if n.to >= len(r.text) || r.text[n.to] != 'x' {
			return n.to, sides
		}
		i = n.to + 1
	}
}

// joint is where the next number of a range begins, behind a dash or the word to; 0
// for none.
func (r *restyle) joint(i int) int {
	rest := r.text[i:]
	for _, dash := range []string{"-", "–"} {
		if strings.HasPrefix(rest, dash) {
			return i + len(dash)
		}
	}
	w := blanks(rest, " \n")
	if w == 0 || !strings.HasPrefix(rest[w:], "to") {
		return 0
	}
	more := blanks(rest[w+2:], " \n")
	if more == 0 {
		return 0
	}
	start := i + w + 2 + more
	if strings.HasPrefix(r.text[start:], "-") {
		start++ // a minus, which convert takes
	}
	return start
}

// unitAt is the unit behind blanks, and where it begins and ends. A unit over or
// under another is none.
func (r *restyle) unitAt(i int, units []string) (unit string, from, to int) {
	from = i + blanks(r.text[i:], " \n")
	if from == i {
		return "", 0, 0
	}
	for _, u := range units {
		if !strings.HasPrefix(r.text[from:], u) {
			continue
		}
		to = from + len(u)
		c, size := utf8.DecodeRuneInString(r.text[to:])
		next, _ := utf8.DecodeRuneInString(r.text[to+size:])
		if size > 0 && (inWord(c) || c == '^' || c == '²' || c == '³' || c == '·' || c == '/' && unicode.IsLetter(next)) {
			continue
		}
		return u, from, to
	}
	return "", 0, 0
}

// bare reports whether a number or size with no unit is a length: a size, one before
// the name of a shape, or the ring of a step.
func (r *restyle) bare(i, end, sides int) bool {
	if !r.style.Inches || sides > 3 {
		return false
	}
	if sides > 1 {
		return true
	}
	for _, shape := range []string{" round", " square", " sheet"} {
		if after, ok := strings.CutPrefix(r.text[end:], shape); ok {
			next, size := utf8.DecodeRuneInString(after)
			return size == 0 || !inWord(next)
		}
	}
	return strings.HasSuffix(r.text[:i], "AT ring ") || strings.HasSuffix(r.text[:i], "now ring ")
}
