package picture

// pen is what a figure is drawn with on paper.
type pen interface {
	path(points []spot, s style)  // an open line
	area(points []spot, grey int) // a closed one, filled
	text(t lettering)
}

// styled is a pen that writes figures as the reader does; what it writes gets no wider.
type styled struct {
	pen
	said func(string) string
}

func (s styled) text(t lettering) {
	t.text = s.said(t.text)
	s.pen.text(t)
}

// style is how a line looks.
type style struct {
	wide float64   // mm
	dash []float64 // mm on and off, in turn; none is solid
	grey int       // 0 is black, 255 white
}

// lettering is a text in its place: the left end, middle or right end of its foot.
type lettering struct {
	at     spot
	text   string
	size   float64 // mm
	side   side
	turned bool // it reads upwards
	bold   bool
}

type side uint8

const (
	fromLeft side = iota
	inMiddle
	toRight
)

// The greys.
const (
	black = 0
	mid   = 110
	pale  = 220
	white = 255
)

// dashes are the strokes on paper.
var dashes = [...][]float64{Dashed: {2, 1.2}, Dotted: {0.5, 1}, DashDot: {2.6, 0.9, 0.5, 0.9}, LongDash: {4.5, 1.4}}

// styleOf is a stroke of a width.
func styleOf(s Stroke, wide float64) style {
	out := style{wide: wide}
	if int(s) < len(dashes) {
		out.dash = dashes[s]
	}
	return out
}
