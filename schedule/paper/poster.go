package paper

// Poster is one page in large letters, to be read from some way off.
type Poster struct {
	Title string // in PosterTitle; what does not go on two lines is cut
	Under string // one line below it, cut likewise
	Rows  []PosterRow
	Foot  string // below the rows
}

// PosterRow is a text behind its head. A row without a head belongs to the one above.
type PosterRow struct {
	Head, Text string
	Size       float64 // of the text; PosterSmall or more
	Close      bool    // no line between it and the row above
}

// Sizes of letters on a poster, in points. Nothing is smaller than PosterSmall.
const (
	PosterTitle = 40.0
	PosterLarge = 28.0
	PosterSmall = 14.0
)

// Where things stand on a poster, in points.
const (
	headWidth     = 88.0  // of the heads of rows
	posterFoot    = 771.0 // of what it holds: it has no page number
	posterLeading = 1.15
	posterAir     = 2.0 // above and below a line between rows
	titleLines    = 2
)

// Fits reports whether a poster goes on one page.
func (d *Doc) Fits(p Poster) bool { return d.err == nil && d.poster(p, false) <= posterFoot }

// Poster prints a poster on a page of its own, which has no number. What does not go
// on the page is not printed: ask Fits before.
func (d *Doc) Poster(p Poster) {
	if d.err == nil {
		d.newPage()
		d.poster(p, true)
	}
}

// poster walks over a poster and prints it if it is to; it gives the foot of the last
// line, or of one that is below the page.
func (d *Doc) poster(p Poster, ink bool) (end float64) {
	w := walk{doc: d, y: top, ink: ink}
	w.capped(bold, PosterTitle, p.Title, titleLines)
	w.capped(regular, PosterSmall, p.Under, 1)
	for _, r := range p.Rows {
		if w.y > posterFoot {
			return w.y // it is known by now
		}
		w.row(r)
	}
	if p.Foot != "" {
		w.rule()
		w.lines(bold, PosterSmall, w.broken(bold, PosterSmall, left, p.Foot), left)
	}
	return w.y
}

// walk goes down a poster.
type walk struct {
	doc *Doc
	y   float64
	ink bool
}

func (w *walk) row(r PosterRow) {
	size, s := max(r.Size, PosterSmall), regular
	if size > PosterSmall {
		s = bold
	}
	if r.Head != "" && !r.Close {
		w.rule()
	}
	from, end := w.y, w.y
	if r.Head != "" {
		w.y += size - PosterSmall // on the baseline of the text
		w.lines(bold, PosterSmall, w.cells(r.Head), left)
		end = w.y
	}
	w.y = from
	w.lines(s, size, w.broken(s, size, left+headWidth, r.Text), left+headWidth)
	w.y = max(w.y, end)
}

// cells are the lines of a head.
func (w *walk) cells(head string) []string {
	space := fit{w.doc.faces[bold], PosterSmall, headWidth - side}
	return space.lines(space.face.shape(head))
}

func (w *walk) broken(s style, size, x float64, text string) []string {
	space := fit{w.doc.faces[s], size, right - x}
	return space.lines(space.face.shape(text))
}

// capped prints so many lines of a text at the most.
func (w *walk) capped(s style, size float64, text string, most int) {
	lines := w.broken(s, size, left, text)
	if len(lines) > most {
		space := fit{w.doc.faces[s], size, right - left}
		lines = lines[:most]
		lines[most-1] = space.ended(lines[most-1])
	}
	w.lines(s, size, lines, left)
}

func (w *walk) lines(s style, size float64, lines []string, x float64) {
	for _, line := range lines {
		if w.ink && w.y+size*posterLeading <= posterFoot {
			w.doc.set(s, size)
			w.doc.pdf.Text(x, w.y+size, line)
		}
		w.y += size * leading
	}
}

// rule is a line between rows, with air on both sides.
func (w *walk) rule() {
	w.y += posterAir
	if w.ink && w.y <= posterFoot {
		w.doc.pdf.Line(left, w.y, right, w.y)
	}
	w.y += posterAir
}
