package alloys

import (
	"strings"
	"sync"
)

// held is what the tables hold of one metal. Every copy of the metal shares it. Of an
// embedded one it is read when it is first asked for: who works in sterling does not
// wait for the figures of thirty other metals. The methods of nil find nothing.
type held struct {
	late    func() *held // reads figures and rules; nil where they are there already
	reading sync.Once
	figures []Figure
	rules   []Rule

	fitting sync.Once
	fitted  []Curve
}

// all is what is held, read.
func (h *held) all() *held {
	if h == nil {
		return &held{}
	}
	h.reading.Do(func() {
		if h.late != nil {
			read := h.late()
			h.figures, h.rules = read.figures, read.rules
		}
	})
	return h
}

// curves are fitted when one is first asked for.
func (h *held) curves() []Curve {
	if h == nil {
		return nil
	}
	h.fitting.Do(func() { h.fitted = curvesOf(h.all().figures) })
	return h.fitted
}

// readAlloy reads what the embedded tables hold of an alloy, and checks it as Read does.
func (b *Book) readAlloy(a Alloy) *held {
	d := b.lateReader()
	a.held = &held{}
	d.book.alloys, d.ids[a.ID] = []Alloy{a}, 0
	return d.embedded(a.ID, a.held)
}

// readSolder does so of a solder.
func (b *Book) readSolder(s Solder) *held {
	d := b.lateReader()
	s.held = &held{}
	d.book.solders, d.solders[s.ID] = []Solder{s}, 0
	return d.embedded(s.ID, s.held)
}

// lateReader reads into a book of its own, which has the sources of b.
func (b *Book) lateReader() *reader {
	d := newReader(nil)
	d.book.sources, d.book.keys = b.sources, b.keys
	return d
}

// embedded reads the rows of the one metal that the reader knows into what is held of it.
func (d *reader) embedded(id ID, into *held) *held {
	err := readTable(Text{"figures.csv", strings.NewReader(rowsFor(figuresCSV, id))}, figureColumns, d.figure)
	if err == nil {
		err = readTable(Text{"rules.csv", strings.NewReader(rowsFor(rulesCSV, id))}, ruleColumns, d.rule)
	}
	if err == nil {
		_, err = d.finish()
	}
	if err != nil {
		panic("alloys: embedded table: " + err.Error())
	}
	return into
}

// head is an embedded table without its rows: its notes and the names of its columns.
func head(table string) string {
	for at := 0; ; {
		end := at + strings.IndexByte(table[at:], '\n') + 1
		if table[at] != '#' {
			return table[:end]
		}
		at = end
	}
}

// rowsFor is an embedded table with the rows of one metal alone. They stand together, each
// in a line of its own.
func rowsFor(table string, id ID) string {
	row := string(id) + ","
	from := strings.Index(table, "\n"+row) + 1
	if from == 0 {
		return head(table)
	}
	end := from
	for strings.HasPrefix(table[end:], row) {
		end += strings.IndexByte(table[end:], '\n') + 1
	}
	return head(table) + table[from:end]
}
