package picture

import (
	"strings"
	"unicode/utf8"

	"dullred/alloys/unit"
)

// Terminal is where a figure is shown as text.
type Terminal struct {
	Columns int  // at least 40 are taken
	Rows    int  // for all of it, where that can be; 0 takes what looks well
	Plain   bool // it shows no more than ASCII
	Bare    bool // without title and description
}

// Text is a figure for a terminal: its panels one under the other, lines in dots of
// braille or in plain letters, its key, and its description in words. No line is
// wider than the terminal.
func Text(f Figure, t Terminal) string {
	t.Columns = max(t.Columns, leastColumns)
	w := writer{Terminal: t, style: f.Style.Metric()}
	if !t.Bare {
		w.wrapped("", f.Title)
		w.line("")
	}
	rows := t.rowsFor(f)
	for _, p := range f.Panels {
		w.panel(p, rows)
	}
	w.key(f)
	if !t.Bare {
		if len(f.key()) > 0 {
			w.line("")
		}
		if len(f.Panels) != 1 || f.Panels[0].Empty != f.Desc {
			w.wrapped("", f.Desc)
		}
	}
	return w.String()
}

// The measures of a figure in cells.
const (
	leastColumns = 40
	leastRows    = 5
	usualRows    = 14 // of the plot of one panel
	manyRows     = 8  // of each of several
	frameRows    = 5  // of a plot: both names, the axis and its figures, and a blank line
	figureCells  = 12 // of the figures of the axis up, at most
)

// rowsFor is how many rows each plot has.
func (t Terminal) rowsFor(f Figure) int {
	n := max(1, len(f.Panels))
	if t.Rows > 0 {
		titles := 0
		for _, p := range f.Panels {
			titles = max(titles, min(1, len(p.Title)))
		}
		return max(leastRows, (t.Rows-t.keyRows(f))/n-frameRows-titles)
	}
	if n == 1 {
		return usualRows
	}
	return manyRows
}

// keyRows is how many lines the key takes.
func (t Terminal) keyRows(f Figure) int {
	w := writer{Terminal: t}
	w.key(f)
	return strings.Count(w.String(), "\n")
}

// writer is a figure on its way.
type writer struct {
	Terminal
	strings.Builder
	style unit.Style
}

// plainLetters stand in for what a terminal without UTF-8 does not show.
var plainLetters = strings.NewReplacer("²", "2", "³", "3", "° ", " ", "°", "", "×", "x", "π", "pi", "–", "-", "→", "->", "…", "...", "●", "*")

// said is a text as the terminal shows it.
func (w *writer) said(text string) string {
	text = w.style.Text(plain(text))
	if !w.Plain {
		return text
	}
	return strings.Map(func(r rune) rune {
		if r > '~' {
			return '?'
		}
		return r
	}, plainLetters.Replace(text))
}

func (w *writer) line(text string) {
	w.WriteString(strings.TrimRight(text, " ") + "\n")
}

// wrapped writes a text in lines that fit.
func (w *writer) wrapped(indent, text string) {
	line := indent
	for _, word := range strings.Fields(w.said(text)) {
		for {
			glue := " "
			if strings.TrimSpace(line) == "" {
				glue = ""
			}
			if room := w.Columns - utf8.RuneCountInString(line+glue); utf8.RuneCountInString(word) <= room {
				line += glue + word
				break
			} else if glue == "" {
				line += string([]rune(word)[:room])
				word = string([]rune(word)[room:])
			}
			w.line(line)
			line = indent
		}
	}
	if strings.TrimSpace(line) != "" {
		w.line(line)
	}
}

// shortened is a text of so many columns at most.
func shortened(text string, columns int) string {
	r := []rune(text)
	if len(r) <= columns {
		return text
	}
	return string(r[:max(0, columns-3)]) + "..."[:min(3, columns)]
}

func (w *writer) panel(p Panel, rows int) {
	if p.Title != "" {
		w.line(shortened(w.said(p.Title), w.Columns))
	}
	if p.Empty != "" {
		w.wrapped("  ", p.Empty)
		w.line("")
		return
	}
	margin := w.margin(p)
	c := w.plot(p, w.Columns-margin-1, rows)
	w.framed(p, c, margin)
	w.line("")
}

// margin is how many columns the figures of the axis up take, however many there are.
func (w *writer) margin(p Panel) (widest int) {
	for about := 2; about <= tickSlots; about++ {
		for _, t := range p.Y.ticks(about) {
			widest = max(widest, utf8.RuneCountInString(w.said(t.Text)))
		}
	}
	return min(widest, figureCells) + 1
}

// framed writes a plot with its figures on the left and below.
func (w *writer) framed(p Panel, c *canvas, margin int) {
	w.line(shortened(w.said(p.Y.Label), w.Columns))
	figures := make([]string, c.h)
	for _, t := range p.Y.ticks(min(tickSlots, max(2, c.h/2))) {
		if at, ok := p.Y.share(t.At); ok && p.Y.holds(t.At) {
			figures[c.h-1-c.cell(at, c.h)] = shortened(w.said(t.Text), figureCells)
		}
	}
	upright, corner, across := "│", "└", "─"
	if w.Plain {
		upright, corner, across = "|", "+", "-"
	}
	for y := range c.h {
		pad := strings.Repeat(" ", max(0, margin-1-utf8.RuneCountInString(figures[y])))
		w.line(pad + figures[y] + " " + upright + c.row(y))
	}
	w.line(strings.Repeat(" ", margin) + corner + strings.Repeat(across, c.w))
	w.foot(p, c, margin+1)
}

// foot has the figures of the axis across, as far as they do not touch, and its name.
func (w *writer) foot(p Panel, c *canvas, margin int) {
	row, free := []rune(strings.Repeat(" ", w.Columns)), 0
	for _, t := range p.X.ticks(max(2, min(10, c.w/8))) {
		at, ok := p.X.share(t.At)
		if !ok || !p.X.holds(t.At) {
			continue
		}
		text := []rune(w.said(t.Text))
		from := min(max(free, margin+c.cell(at, c.w)-len(text)/2), w.Columns-len(text))
		if from < free || from < 0 {
			continue
		}
		copy(row[from:], text)
		free = from + len(text) + 1
	}
	if free > 0 {
		w.line(string(row))
	}
	label := shortened(w.said(p.X.Label), w.Columns-margin)
	w.line(strings.Repeat(" ", margin+max(0, (c.w-utf8.RuneCountInString(label))/2)) + label)
}

// key writes what each line and marker is.
func (w *writer) key(f Figure) {
	line := ""
	for _, e := range f.key() {
		text := w.sample(e.look) + " " + shortened(w.said(e.name), w.Columns-sampleCells-1)
		switch {
		case line == "":
			line = text
		case utf8.RuneCountInString(line)+3+utf8.RuneCountInString(text) > w.Columns:
			w.line(line)
			line = text
		default:
			line += "   " + text
		}
	}
	if line != "" {
		w.line(line)
	}
}

// sampleCells is how wide a line of the key is: enough for the longest dash.
const sampleCells = 5

// sample is a line or marker of the key.
func (w *writer) sample(l look) string {
	if l.stroke == NoStroke && !l.fill {
		return string(newCanvas(1, 1, w.Plain).sign(l.marker))
	}
	c := newCanvas(sampleCells, 1, w.Plain)
	stroke := l.stroke
	if l.fill && stroke == NoStroke {
		stroke = Dotted
	}
	if l.rule {
		c.line(spot{0.5, 0}, spot{0.5, 1}, stroke, 0)
	} else {
		c.line(spot{0, 0.5}, spot{1, 0.5}, stroke, 0)
	}
	if sign := c.sign(l.marker); sign != 0 {
		c.put(sampleCells/2, 0, sign)
	}
	return strings.TrimSpace(c.row(0))
}
