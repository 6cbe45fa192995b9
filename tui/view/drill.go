package view

import (
	"time"

	"dullred/schedule"
	"dullred/schedule/heat"
)

// Stage is where a student is in a lesson. The zero Stage is at the hammer.
type Stage uint8

// The stages of a lesson.
const (
	Striking   Stage = iota
	Asking           // how many courses are left
	Told             // how many there were
	InFlame          // by the student's torch
	OutOfFlame       // and not in the water yet
	Bending          // the bend check is to be made
	Proved           // what it gave
	Split            // the bar is lost
	Worked           // the bar has its size
	Scored           // the lesson is over
)

// Drill is a lesson at a simulated bar, as far as the student may know it.
type Drill struct {
	Stage       Stage
	Title       string // of the level
	Bar, Of     int    // which bar of how many
	Struck      int    // courses since the bar was last soft
	Said, Truth int    // courses left, once told
	Since       time.Duration
	Glow        Glowing // of the stages InFlame and OutOfFlame, which began Since ago
	Soft        bool    // what the bend check gave
	Melted      bool    // the bar is lost
	Faults      int     // of the heat that was proved
	Asked       int     // how often the courses left were said, once scored
	Error       float64 // courses that were said too many, on average
	Lines       []string
}

// Glowing is hot metal as an eye in the room sees it. It has no temperature.
type Glowing struct {
	Glow  schedule.Glow // by the words of a dark hearth
	Sight heat.Sight    // whether anything of it is seen
	Light heat.Light    // of the room
	Runs  bool          // it melts
}

// drawDrill is a lesson for two metres: a word, a figure, and what there is to read.
func drawDrill(f *Frame, s Scene) {
	l := planFor(f)
	sig := drillSign(f, l, *s.Drill).in(s.Style)
	drawTitle(f, s)
	y := 1 + l.air
	y += drawWord(f, l, y, sig)
	f.Text(l.margin, y, f.clip(drillHead(*s.Drill), f.w-l.margin-1), Bold)
	y += 1 + l.air
	if f.thin {
		drawDim(f, s, y, l, sig)
	} else {
		drawFigure(f, s, l, y, sig)
	}
	y += l.number.Rows()
	drawCaption(f, s, y, sig, l.margin)
	text := drillText(s, f.w, f.h)
	if text.gauge {
		drawGauge(f, s.Piece, l, text.y-l.gauge)
	}
	text.draw(f, s)
	drawToast(f, s, f.h-2)
	drawHelp(f, s, f.h-1)
}

// drillBlock is what there is to read in a lesson, and where it stands.
type drillBlock struct {
	x, y, rows int
	lines      []line
	gauge      bool // above it
}

// drillText is the block of a lesson's words on a screen. The gauge gives its rows to
// words that need them.
func drillText(s Scene, w, h int) drillBlock {
	l := planFor(&Frame{w: w, h: h, thin: s.Theme == Hearth})
	b := drillBlock{x: l.margin, y: 1 + l.air + l.word.Rows() + 2*plateRows + 1 + l.air + l.number.Rows() + 1}
	b.rows = h - 1 - b.y
	if s.Toast != "" || s.Ask != "" {
		b.rows--
	}
	var lines []line
	for _, text := range s.Drill.Lines {
		lines = append(lines, line{text: text})
	}
	b.lines = wrapped(styled(lines, s.Style), w-2*l.margin)
	told := s.Drill.Stage == Told && s.Piece != nil && l.gauge > 1
	if told && len(b.lines) <= b.rows-l.gauge {
		b.gauge, b.y, b.rows = true, b.y+l.gauge, b.rows-l.gauge
	}
	return b
}

// end is the furthest that the words can be moved up.
func (b drillBlock) end() int {
	if len(b.lines) <= b.rows {
		return 0
	}
	return len(b.lines) - max(0, b.rows-1) // one row says that there are more
}

func (b drillBlock) draw(f *Frame, s Scene) {
	top, rows := min(s.Scroll, b.end()), b.rows
	if more := b.end() - top; more > 0 {
		rows--
		f.Text(b.x, b.y+rows, "(more: arrow down)", Dim)
	}
	for i := 0; i < rows && top+i < len(b.lines); i++ {
		f.Text(b.x, b.y+i, b.lines[top+i].text, Plain)
	}
}
