package board

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/rivo/uniseg"
)

// sheet is a picture as text of so many columns.
type sheet struct {
	*Picture
	now     time.Time
	columns int
}

// text is a line of a terminal, set off by what it is about.
type text struct{ words, level string }

// Ways to set off a line, by ECMA-48.
var styles = map[string]string{"danger": "\x1b[1;7m", "stop": "\x1b[7m", "hot": "\x1b[1m", "head": "\x1b[1m"}

// styled is the line for a terminal.
func (t text) styled() string {
	if styles[t.level] == "" {
		return t.words
	}
	return styles[t.level] + t.words + "\x1b[m"
}

func plain(all []text) string {
	var b strings.Builder
	for _, t := range all {
		b.WriteString(strings.TrimRight(t.words, " ") + "\n")
	}
	return b.String()
}

// Widths in cells: below the least there is no room for the names.
const (
	leastColumns = 50
	signColumn   = 14 // DANGER HOT !!!
	noteColumn   = 18 // not glowing 18:12
	cardColumns  = 39 // of a row that stands beside others
	cardSign     = 10 // DANGER HOT
)

// head is what stands above the rows.
func (s sheet) head() (all []text) {
	var counts []string
	for _, c := range tally(s.Picture) {
		counts = append(counts, c.Text)
	}
	all = append(all, text{left(strings.Join(counts, "  ")+"  "+head(s.Picture), s.columns-6) + " " + clock(s.now, s.now.Location()), "head"})
	if since := s.alone(s.now.Location()); since != "" {
		for _, words := range wrap(since+". "+s.why(s.now.Location()), s.columns) {
			all = append(all, text{left(words, s.columns), "stop"})
		}
	}
	return append(all, text{})
}

// whole is all of it: each row with its alerts below.
func (s sheet) whole() []text {
	all := append(s.head(), s.names())
	if len(s.Rows) > 0 {
		return append(all, s.rows(math.MaxInt)...)
	}
	for _, words := range wrap(nothing(s.Picture), s.columns) {
		all = append(all, text{words, ""})
	}
	return all
}

// fitted is as much of it as so many lines hold. What presses is never below the edge as
// long as it has room anywhere: first the sentences of the alerts go, those of what presses
// least before the others, then the rows stand side by side; what is left out is counted.
func (s sheet) fitted(height int) []text {
	if all := s.whole(); len(all) <= height {
		return all
	}
	top, press := append(s.head(), s.names()), s.press()
	room := max(1, height-len(top)-1)
	rows := s.rows(height - len(top) - len(s.Rows))
	shown := min(len(s.Rows), room)
	if press > room {
		top = s.head()
		rows = s.cards(max(1, height-len(top)-1), press)
		shown = min(press, len(rows)*max(1, s.columns/cardColumns))
	} else if shown < len(s.Rows) {
		rows = rows[:shown]
	}
	all := append(top, rows...)
	if shown < len(s.Rows) {
		all = append(all, text{clip("("+s.beyond(shown)+")", s.columns), ""})
	}
	return all[:min(len(all), max(1, height))]
}

// press is how many rows press; they come first.
func (s sheet) press() (n int) {
	for _, r := range s.Rows {
		if lineOf(r, s.now).Press {
			n++
		}
	}
	return n
}

// beyond counts what is left out after so many rows.
func (s sheet) beyond(from int) string {
	rest := &Picture{Rows: s.Rows[from:], Read: s.Read}
	words := fmt.Sprint(len(rest.Rows), " more below")
	if !slices.ContainsFunc(tally(rest), func(c count) bool { return c.Level != "calm" }) {
		return words + ", which can wait"
	}
	for i, c := range tally(rest) {
		words += [...]string{": ", ", "}[min(i, 1)] + c.Text
	}
	return words
}

// names are the heads of the columns.
func (s sheet) names() text { return text{s.row("STATE", "BENCH", "PIECE", "LIMIT, COURSES"), ""} }

func (s sheet) row(sign, bench, piece, note string) string {
	names := s.columns - signColumn - noteColumn - 3
	return left(sign, signColumn) + " " + left(bench, names*2/5) + " " + left(piece, names-names*2/5) + " " + left(note, noteColumn)
}

// rows are all rows, with the sentences of their alerts below each, of which there is room
// for so many.
func (s sheet) rows(sentences int) (all []text) {
	for _, r := range s.Rows {
		l := lineOf(r, s.now)
		all = append(all, text{s.row(l.sign()+" "+l.Marks, l.Bench, l.Title, l.note()), l.Level})
		for _, a := range l.Alerts[:min(len(l.Alerts), max(0, sentences))] {
			all = append(all, text{clip(strings.Repeat(" ", signColumn+1)+a, s.columns), ""})
			sentences--
		}
	}
	return all
}

// cards are what presses, side by side in so many lines, one below the other first.
func (s sheet) cards(height, press int) (all []text) {
	wide := max(1, s.columns/cardColumns)
	height = min(height, (press+wide-1)/wide)
	for y := range height {
		var b strings.Builder
		for x := range wide {
			if i := x*height + y; i < press {
				b.WriteString(s.card(i))
			}
		}
		all = append(all, text{b.String(), ""})
	}
	return all
}

// card is a row as one of several on a line.
func (s sheet) card(i int) string {
	l := lineOf(s.Rows[i], s.now)
	const names = cardColumns - cardSign - 3
	return text{left(l.sign(), cardSign) + " " + left(l.Bench, names/2) + " " + left(l.Title, names-names/2), l.Level}.styled() + " "
}

// sign is the word that is read from afar, and whether it is hot.
func (l line) sign() string {
	if l.Heat {
		return l.Sign + " HOT"
	}
	return l.Sign
}

// note is the figure that belongs to the word.
func (l line) note() string {
	switch {
	case l.Dark:
		return "not glowing " + l.Hot
	case l.Hot != "":
		return "in flame " + l.Hot
	case l.Left != "":
		return l.Share + ", " + l.Left + " left"
	}
	return l.Share
}

// clip is text of at most so many cells.
func clip(s string, cells int) string {
	if uniseg.StringWidth(s) <= cells {
		return s
	}
	var b strings.Builder
	state, used := -1, 1
	for rest := s; rest != ""; {
		var part string
		var width int
		part, rest, width, state = uniseg.FirstGraphemeClusterInString(rest, state)
		if used += width; used > cells {
			break
		}
		b.WriteString(part)
	}
	return b.String() + "~"
}

func left(s string, cells int) string {
	s = clip(s, cells)
	return s + strings.Repeat(" ", cells-uniseg.StringWidth(s))
}

// wrap breaks text between words into lines of at most so many cells.
func wrap(s string, cells int) (all []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && uniseg.StringWidth(line)+1+uniseg.StringWidth(word) > cells {
			all, line = append(all, line), ""
		}
		line = clip(strings.TrimSpace(line+" "+word), cells)
	}
	return append(all, line)
}
