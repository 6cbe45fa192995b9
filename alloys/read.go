package alloys

import (
	"slices"
	"strings"
)

// Texts are the five tables of a set. Solders may be left zero: then there are
// none.
type Texts struct {
	Alloys, Figures, Rules, Solders, Sources Text
}

// The columns of the tables, as their header rows give them.
var (
	alloyColumns  = []string{"id", "name", "uns", "fineness", "names", "family", "composition", "self_softening"}
	figureColumns = []string{"alloy", "property", "form", "condition", "school", "at", "at_kind", "low", "high", "bound", "unit", "use", "source", "confidence", "note"}
	solderColumns = []string{"id", "name", "names", "composition", "hazard"}
	ruleColumns   = []string{"alloy", "kind", "text", "use", "source", "confidence"}
	sourceColumns = []string{"key", "author", "title", "year", "locator"}
)

// Read reads and checks a set of tables. Every figure must be finite, in the
// unit and range of its property, of a known alloy and source, and the only one
// like it; a scalar has one default for each condition; a curve has one kind of
// reduction, no two figures at one place, and goes one way; a figure never to
// be used says why; what would melt or split a piece is refused (see check.go).
// The error is a *TableError for the first thing wrong, and
// then there is no Book.
func Read(in Texts) (*Book, error) {
	if in.Solders.From == nil {
		in.Solders.From = strings.NewReader(strings.Join(solderColumns, ","))
	}
	r := newReader(nil)
	for _, t := range []struct {
		text    Text
		columns []string
		take    func(*row)
	}{
		{in.Sources, sourceColumns, r.source},
		{in.Alloys, alloyColumns, r.alloy},
		{in.Solders, solderColumns, r.solder},
		{in.Figures, figureColumns, r.figure},
		{in.Rules, ruleColumns, r.rule},
	} {
		if err := readTable(t.text, t.columns, t.take); err != nil {
			return nil, err
		}
	}
	return r.finish()
}

// reader gathers rows into a book.
type reader struct {
	book    *Book
	base    *Book      // whose sources may be cited and whose names are taken; nil for none
	ids     map[ID]int // to index of the book's alloys
	solders map[ID]int // to index of the book's solders
	heats   []placed   // the figures that are held against others once all are read
}

func newReader(base *Book) *reader {
	return &reader{
		book:    &Book{names: register{}, solderNames: register{}, keys: map[string]int{}},
		base:    base,
		ids:     map[ID]int{},
		solders: map[ID]int{},
	}
}

// finish holds the figures against each other, once every figure is known.
func (d *reader) finish() (*Book, error) {
	for _, p := range d.heats {
		if err := p.fits(d.book.alloys[d.ids[p.figure.Alloy]]); err != nil {
			return nil, p.wrong(err)
		}
	}
	return d.book, nil
}

func (d *reader) source(r *row) {
	s := Source{Key: r.word("key")}
	if _, known := d.book.keys[s.Key]; known {
		r.fail("source %.60q stands twice", s.Key)
	}
	if _, taken := d.base.SourceOf(s.Key); taken {
		r.fail("source %.60q is one of the embedded ones", s.Key)
	}
	s.Author, s.Title, s.Year, s.Locator = r.word("author"), r.word("title"), r.word("year"), r.word("locator")
	d.book.keys[s.Key] = len(d.book.sources)
	d.book.sources = append(d.book.sources, s)
}

func (d *reader) alloy(r *row) {
	a := Alloy{ID: d.id(r, "alloy"), Own: d.base != nil, held: &held{figures: make([]Figure, 0, 32), rules: make([]Rule, 0, 12)}}
	a.Name, a.UNS, a.Fineness = r.word("name"), r.text(), r.text()
	a.Names = splitNames(r.text())
	d.free(r, a.called())
	d.book.names.enter(r, entry{a.ID, len(d.book.alloys)}, a.called())
	a.Family, a.Composition = r.word("family"), r.word("composition")
	a.SelfSoftening = oneOf(r, "self_softening", "yes", "no") == "yes"
	d.ids[a.ID] = len(d.book.alloys)
	d.book.alloys = append(d.book.alloys, a)
}

func (d *reader) solder(r *row) {
	s := Solder{ID: d.id(r, "solder"), Own: d.base != nil, held: &held{}}
	s.Name = r.word("name")
	s.Names = splitNames(r.text())
	d.free(r, s.called())
	d.book.solderNames.enter(r, entry{s.ID, len(d.book.solders)}, s.called())
	s.Composition = r.word("composition")
	s.Hazard = oneOf(r, "hazard", NoHazard, Cadmium)
	d.solders[s.ID] = len(d.book.solders)
	d.book.solders = append(d.book.solders, s)
}

// id reads the id of an alloy or a solder, which no other metal of the set has.
func (d *reader) id(r *row, what string) ID {
	id := ID(r.word("id"))
	_, alloy := d.ids[id]
	if _, solder := d.solders[id]; alloy || solder {
		r.fail("%s %.60q stands twice", what, id)
	}
	return id
}

// free refuses a name that an embedded metal has.
func (d *reader) free(r *row, called []string) {
	if d.base == nil {
		return
	}
	for _, name := range called {
		if a, err := d.base.Find(name); err == nil {
			r.failWhole("%.60q is a name of the embedded %s (%s)", name, a.Name, a.ID)
		}
		if s, err := d.base.FindSolder(name); err == nil {
			r.failWhole("%.60q is a name of the embedded %s (%s)", name, s.Name, s.ID)
		}
	}
}

func splitNames(list string) []string {
	var names []string
	for name := range strings.SplitSeq(list, "|") {
		if name = strings.TrimSpace(name); name != "" {
			names = append(names, name)
		}
	}
	return names
}

func (d *reader) rule(r *row) {
	i := d.known(r)
	rule := Rule{
		Kind:       oneOf(r, "kind", RuleKinds()...),
		Text:       r.word("text"),
		Use:        use(r),
		Source:     d.cited(r),
		Confidence: confidence(r),
	}
	if rule.Kind == RuleCooling && !slices.Contains(Coolings(), Cooling(rule.Text)) {
		r.fail("cooling %.60q is not one of %s", rule.Text, quoted(Coolings()))
	}
	if r.err == nil {
		a := &d.book.alloys[i]
		rule.Alloy = a.ID
		a.held.rules = append(a.held.rules, rule)
	}
}

// known reads the id of an alloy of the set and returns its index.
func (d *reader) known(r *row) int {
	id := ID(r.word("alloy"))
	i, ok := d.ids[id]
	if !ok {
		r.fail("alloy %.60q is not in the table of alloys", id)
	}
	return i
}

// cited reads the key of a source of the set, or of the one it stands beside.
func (d *reader) cited(r *row) string {
	key := r.word("source")
	_, ok := d.book.SourceOf(key)
	if _, beside := d.base.SourceOf(key); !ok && !beside {
		r.fail("source %.60q is not in the table of sources", key)
	}
	return key
}

func use(r *row) Use { return oneOf(r, "use", UseDefault, UseAlso, UseNever) }

func confidence(r *row) Confidence {
	return oneOf(r, "confidence", ConfidenceRead, ConfidenceComputed, ConfidenceMemory,
		ConfidenceJudgement, ConfidencePractice)
}
