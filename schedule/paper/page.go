package paper

import (
	"bytes"
	"fmt"
	"time"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"
)

// The page is A4, 595 by 842 points. What is printed ends above 774 from its top, so
// that Letter, which is 792 high, has all of it with the quarter inch that printers
// leave white; and begins below 43, for a print that is centred on Letter.
const (
	left   = 42.5 // 15 mm
	right  = 595.28 - left
	top    = 48.0
	bottom = 752.0 // of what parts hold
	foot   = 770.0 // baseline of the line with the page number
)

// Sizes of letters, in points.
const (
	headingSize = 16.0
	captionSize = 11.0
	footSize    = 8.0
	leading     = 1.25 // of a line, in sizes
)

// Head is what the file as a whole says of itself.
type Head struct {
	Title string
	Made  time.Time // the date in the file; 1970 where it is zero or has no four digits for its year
}

// Doc is a document on the way. Its zero value is of no use: see New.
type Doc struct {
	pdf   *fpdf.Fpdf
	faces [2]*face
	used  [2]bool // which of them stand in the file
	y     float64 // top of what comes next
	parts []part
	err   error
}

// part is a run of pages under one name.
type part struct {
	name  string
	first int // page
}

// New is an empty document.
func New(h Head) *Doc {
	d := &Doc{pdf: fpdf.New("P", "pt", "A4", "")}
	for i := range d.faces {
		if d.faces[i], d.err = newFace(style(i)); d.err != nil {
			return d
		}
	}
	if y := h.Made.Year(); h.Made.IsZero() || y < 1 || y > 9999 {
		h.Made = time.Unix(0, 0).UTC()
	}
	d.pdf.SetTitle(wide(h.Title), false)
	d.pdf.SetProducer("", false)
	d.pdf.SetLang("en")
	d.pdf.SetCreationDate(h.Made)
	d.pdf.SetModificationDate(h.Made)
	d.pdf.SetCatalogSort(true)
	d.pdf.SetAutoPageBreak(false, 0)
	d.pdf.SetMargins(left, top, left)
	d.pdf.SetLineWidth(0.4)
	return d
}

// wide is a text in UTF-16 with its mark, as the fields of a PDF have it (PDF 32000-1
// 7.9.2.2).
func wide(text string) string {
	out := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(text)) {
		out = append(out, byte(u>>8), byte(u))
	}
	return string(out)
}

// Part begins a part on a new page. Its name stands at the foot of its pages.
func (d *Doc) Part(name string) {
	if d.err != nil {
		return
	}
	d.newPage()
	d.parts = append(d.parts, part{name, d.pdf.PageNo()})
}

// Heading is a line in large letters.
func (d *Doc) Heading(text string) {
	if d.err == nil {
		d.flow(bold, headingSize, text)
	}
}

// Text is a paragraph in the letters of the tables.
func (d *Doc) Text(text string) {
	if d.err == nil {
		d.flow(regular, bodySize, text)
	}
}

// flow prints lines of the width of the page, over as many pages as it takes.
func (d *Doc) flow(s style, size float64, text string) {
	space := fit{d.faces[s], size, right - left}
	for _, line := range space.lines(space.face.shape(text)) {
		d.room(size * leading)
		d.set(s, size)
		d.pdf.Text(left, d.y+size, line)
		d.y += size * leading
	}
}

// room goes on to a new page where that much does not go on this one.
func (d *Doc) room(height float64) {
	if d.y+height > bottom {
		d.newPage()
	}
}

func (d *Doc) newPage() {
	d.pdf.AddPage()
	d.y = top
}

// set takes up letters, which come into the file when they are first used.
func (d *Doc) set(s style, size float64) {
	if !d.used[s] {
		d.pdf.AddUTF8FontFromBytes(family, styles[s].name, styles[s].file())
		d.used[s] = true
	}
	d.pdf.SetFont(family, styles[s].name, size)
}

// Bytes numbers the pages and gives the file. The document is done then.
func (d *Doc) Bytes() ([]byte, error) {
	if d.err != nil {
		return nil, d.err
	}
	d.number()
	var out bytes.Buffer
	if err := d.pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("the pages cannot be written: %w", err)
	}
	return out.Bytes(), nil
}

// number prints the foot of every page: its part, and where in the part it is.
func (d *Doc) number() {
	last := d.pdf.PageNo()
	space := fit{face: d.faces[regular], size: footSize}
	for i, p := range d.parts {
		end := last
		if i+1 < len(d.parts) {
			end = d.parts[i+1].first - 1
		}
		name := space.face.shape(p.name)
		for page := p.first; page <= end; page++ {
			where := fmt.Sprintf(", page %d of %d", page-p.first+1, end-p.first+1)
			space.width = right - left - space.face.width(where, footSize)
			d.pdf.SetPage(page)
			d.set(regular, footSize)
			d.pdf.Text(left, foot, space.cut(name)+where)
		}
	}
	d.pdf.SetPage(last)
}
