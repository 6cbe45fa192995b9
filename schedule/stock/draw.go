package stock

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"dullred/alloys/unit"
)

// Drawing is how a shape is drawn: at most so many columns wide, in half blocks
// or in plain letters.
type Drawing struct {
	Columns int // 0 for 76
	ASCII   bool
}

// pencil is what half a cell or a whole one is drawn with.
type pencil struct {
	halves            int // of a cell that are drawn by themselves
	upper, lower, all string
	wire              string
}

var (
	blocks  = pencil{2, "▀", "▄", "█", "─"}
	letters = pencil{1, "", "", "#", "-"}
)

// tall is the height of a cell in widths of a cell, as most terminals have it.
const tall = 2

// page is a shape laid out on columns.
type page struct {
	shape     Shape
	pencil    pencil
	columns   int
	before    unit.Millimetre // length of the tang at the start
	perColumn unit.Millimetre
	across    int // times larger across than along
}

// Lines is the piece from above and from the side, to scale, with its stations
// below. Thin pieces are drawn wider than they are, by a whole number that the
// first line states. A piece with no length has no lines.
func (d Drawing) Lines(s Shape) []string {
	if !(s.Length() > 0) {
		return nil
	}
	p := d.layOut(s)
	head := fmt.Sprintf("%v long; 1 column is %v", hundredthOf(s.Length()), hundredthOf(p.perColumn))
	if p.across > 1 {
		head += fmt.Sprintf("; drawn %d times larger across", p.across)
	}
	lines := []string{head, "from above (width)"}
	lines = append(lines, p.view(func(s Section) unit.Millimetre { return s.Width })...)
	lines = append(lines, "from the side (thickness)")
	lines = append(lines, p.view(func(s Section) unit.Millimetre { return s.Thick })...)
	return append(lines, p.labels()...)
}

func hundredthOf(l unit.Millimetre) unit.Millimetre {
	if r := roundTo(l); r > 0 {
		return r
	}
	return l
}

func (d Drawing) layOut(s Shape) page {
	p := page{shape: s, pencil: blocks, columns: d.Columns}
	if d.ASCII {
		p.pencil = letters
	}
	if p.columns <= 0 {
		p.columns = 76
	}
	total := s.Length()
	for _, t := range s.Tangs {
		total += t.Length
		if t.End == Start {
			p.before = t.Length
		}
	}
	p.perColumn = total / unit.Millimetre(p.columns)
	p.across = p.magnify()
	return p
}

// highest is the most rows of a view.
const highest = 12

// magnify is how many times larger the piece is drawn across, so that its widest
// view has some eight rows; a piece wider than the page allows is drawn smaller
// along, too.
func (p *page) magnify() int {
	var widest unit.Millimetre
	for _, st := range p.shape.Stations {
		widest = max(widest, st.Section.Width, st.Section.Thick)
	}
	rows := float64(widest / (tall * p.perColumn))
	if rows > highest {
		p.perColumn *= unit.Millimetre(rows / highest)
		return 1
	}
	return int(min(1000, max(1, math.Floor(8/rows))))
}

// view draws one side of the piece.
func (p page) view(side func(Section) unit.Millimetre) []string {
	var sizes []unit.Millimetre
	most := 1
	for place := range p.places() {
		size := side(p.shape.At(place))
		sizes, most = append(sizes, size), max(most, int(math.Round(p.exact(size))))
	}
	lead := strings.Repeat(" ", p.column(0)) // room for the tang
	var lines []string
	rows := (most + p.pencil.halves - 1) / p.pencil.halves
	for row := range rows {
		line := lead
		for _, size := range sizes {
			line += p.cell(row, centred(p.marks(size, 1+(most+1)%2), most))
		}
		if row == (rows-1)/2 {
			line = p.withWire(line)
		}
		lines = append(lines, strings.TrimRight(line, " "))
	}
	return lines
}

// places yields the middle of each column of the body.
func (p page) places() func(func(unit.Millimetre) bool) {
	return func(yield func(unit.Millimetre) bool) {
		n := max(1, p.column(p.shape.Length())-p.column(0))
		for i := range n {
			if !yield(p.shape.Length() * (unit.Millimetre(i) + 0.5) / unit.Millimetre(n)) {
				return
			}
		}
	}
}

// column is where a place of the body stands.
func (p page) column(place unit.Millimetre) int {
	return int(math.Round(float64((p.before + place) / p.perColumn)))
}

// marks is a size in halves of cells. It is the nearest of the numbers that go
// up from least by twos, so that all sizes of a view have one middle.
func (p page) marks(size unit.Millimetre, least int) int {
	return max(least, least+2*int(math.Round((p.exact(size)-float64(least))/2)))
}

// exact is a size in halves of cells before it is rounded.
func (p page) exact(size unit.Millimetre) float64 {
	return float64(size*unit.Millimetre(p.across)/p.perColumn) / tall * float64(p.pencil.halves)
}

// span is from one mark to before another.
type span struct{ from, to int }

// centred lays n marks in the middle of all.
func centred(n, all int) span {
	from := (all - n) / 2
	return span{from, from + n}
}

// cell is what stands in a row of a column.
func (p page) cell(row int, s span) string {
	if p.pencil.halves == 1 {
		return pick(row >= s.from && row < s.to, p.pencil.all, " ")
	}
	upper := 2*row >= s.from && 2*row < s.to
	lower := 2*row+1 >= s.from && 2*row+1 < s.to
	switch {
	case upper && lower:
		return p.pencil.all
	case upper:
		return p.pencil.upper
	}
	return pick(lower, p.pencil.lower, " ")
}

func pick(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}

// withWire draws the tangs to both sides of the middle row.
func (p page) withWire(line string) string {
	for _, t := range p.shape.Tangs {
		if t.End == Start {
			n := p.column(0)
			line = strings.Repeat(p.pencil.wire, n) + line[n:] // n blanks
			continue
		}
		n := p.column(p.shape.Length()+t.Length) - p.column(p.shape.Length())
		line += strings.Repeat(p.pencil.wire, max(0, min(n, p.columns-utf8.RuneCountInString(line))))
	}
	return line
}

// labels are the places of the stations and their sections below. One that would
// run into the one before is left out.
func (p page) labels() []string {
	var places, sections string
	for i, st := range p.shape.Stations {
		place, section := plain(tenth(st.At)), st.Section.Short()
		if i == len(p.shape.Stations)-1 {
			place += " mm"
		}
		at := min(p.column(st.At), max(0, p.columns-max(len(place), len(section))))
		if i > 0 && at <= max(len(places), len(sections)) {
			continue
		}
		places += strings.Repeat(" ", at-len(places)) + place
		sections += strings.Repeat(" ", at-len(sections)) + section
	}
	return []string{places, sections}
}
