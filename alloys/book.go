package alloys

import (
	"crypto/sha256"
	_ "embed" // the tables
	"encoding/hex"
	"maps"
	"slices"
	"strings"
	"sync"
)

//go:embed alloys.csv
var alloysCSV string

//go:embed figures.csv
var figuresCSV string

//go:embed solders.csv
var soldersCSV string

//go:embed rules.csv
var rulesCSV string

//go:embed sources.csv
var sourcesCSV string

// Book is a whole set of tables, read and checked. It never changes.
type Book struct {
	alloys      []Alloy
	solders     []Solder
	sources     []Source
	names       register       // of alloys
	solderNames register       // of solders
	keys        map[string]int // key to index of sources
	version     func() string
}

// embedded is read when it is first asked for, and what it holds of a metal when that
// metal is.
var embedded = sync.OnceValue(readNames)

// readNames reads the embedded tables but for what they hold of each metal.
func readNames() *Book {
	names := embeddedTexts()
	names.Figures.From, names.Rules.From = strings.NewReader(head(figuresCSV)), strings.NewReader(head(rulesCSV))
	b, err := Read(names)
	if err != nil {
		panic("alloys: embedded table: " + err.Error())
	}
	b.version = Version
	for i, a := range b.alloys {
		b.alloys[i].held = &held{late: func() *held { return b.readAlloy(a) }}
	}
	for i, s := range b.solders {
		b.solders[i].held = &held{late: func() *held { return b.readSolder(s) }}
	}
	return b
}

func embeddedTexts() Texts {
	return Texts{
		Alloys:  Text{"alloys.csv", strings.NewReader(alloysCSV)},
		Figures: Text{"figures.csv", strings.NewReader(figuresCSV)},
		Solders: Text{"solders.csv", strings.NewReader(soldersCSV)},
		Rules:   Text{"rules.csv", strings.NewReader(rulesCSV)},
		Sources: Text{"sources.csv", strings.NewReader(sourcesCSV)},
	}
}

// With returns a book of both: the own alloys, solders and sources stand behind
// those of b. It is b itself if there are none. A name of both finds the one of b;
// ReadOwn refuses such a name.
func (b *Book) With(own *Book) *Book {
	if own == nil {
		return b
	}
	return &Book{
		alloys:      slices.Concat(b.alloys, own.alloys),
		solders:     slices.Concat(b.solders, own.solders),
		sources:     slices.Concat(b.sources, own.sources),
		names:       b.names.with(own.names, len(b.alloys)),
		solderNames: b.solderNames.with(own.solderNames, len(b.solders)),
		version:     func() string { return b.Version() + "+" + own.Version() },
		keys:        joined(b.keys, own.keys, func(i int) int { return i + len(b.sources) }),
	}
}

// joined is both maps, the values of the second moved; the first wins.
func joined[K comparable, V any](first, second map[K]V, move func(V) V) map[K]V {
	both := make(map[K]V, len(first)+len(second))
	for k, v := range second {
		both[k] = move(v)
	}
	maps.Copy(both, first)
	return both
}

// Figures counts the figures of the alloys and solders.
func (b *Book) Figures() int {
	n := 0
	for _, a := range b.alloys {
		n += len(a.held.all().figures)
	}
	for _, s := range b.solders {
		n += len(s.held.all().figures)
	}
	return n
}

// All returns the alloys in the order of their table.
func (b *Book) All() []Alloy { return slices.Clone(b.alloys) }

// Sources returns the sources by key.
func (b *Book) Sources() []Source { return slices.Clone(b.sources) }

// SourceOf returns the source with a key. A nil book has none.
func (b *Book) SourceOf(key string) (Source, bool) {
	if b == nil {
		return Source{}, false
	}
	i, ok := b.keys[key]
	if !ok {
		return Source{}, false
	}
	return b.sources[i], true
}

// Default returns the embedded book.
func Default() *Book { return embedded() }

// All returns the embedded alloys in the order of their table.
func All() []Alloy { return embedded().All() }

// Find looks up an embedded alloy; see Book.Find.
func Find(name string) (Alloy, error) { return embedded().Find(name) }

// Sources returns the embedded sources by key.
func Sources() []Source { return embedded().Sources() }

// SourceOf returns the embedded source with a key.
func SourceOf(key string) (Source, bool) { return embedded().SourceOf(key) }

// Version names the embedded tables, so that advice can be kept with the
// figures it was given on: the first eight hexadecimal digits of the SHA-256 of
// the five texts. It changes when any of them does.
func Version() string { return version() }

var version = sync.OnceValue(func() string {
	return digest(strings.Join([]string{alloysCSV, figuresCSV, rulesCSV, soldersCSV, sourcesCSV}, "\x00"))
})

func digest(text string) string {
	h := sha256.Sum256([]byte(text))
	return hex.EncodeToString(h[:4])
}

// Version names the tables of the book as the function Version does: those of an
// own file by its text, and both joined by a plus sign where they stand together. It is
// empty for tables that were read from anywhere else.
func (b *Book) Version() string {
	if b == nil || b.version == nil {
		return ""
	}
	return b.version()
}
