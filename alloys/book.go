package alloys

import (
	"crypto/sha256"
	_ "embed" // the tables
	"encoding/hex"
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
}

// embedded is read when it is first asked for.
var embedded = sync.OnceValue(func() *Book {
	b, err := Read(embeddedTexts())
	if err != nil {
		panic("alloys: embedded table: " + err.Error())
	}
	return b
})

func embeddedTexts() Texts {
	return Texts{
		Alloys:  Text{"alloys.csv", strings.NewReader(alloysCSV)},
		Figures: Text{"figures.csv", strings.NewReader(figuresCSV)},
		Solders: Text{"solders.csv", strings.NewReader(soldersCSV)},
		Rules:   Text{"rules.csv", strings.NewReader(rulesCSV)},
		Sources: Text{"sources.csv", strings.NewReader(sourcesCSV)},
	}
}

// All returns the alloys in the order of their table.
func (b *Book) All() []Alloy { return slices.Clone(b.alloys) }

// Sources returns the sources by key.
func (b *Book) Sources() []Source { return slices.Clone(b.sources) }

// SourceOf returns the source with a key.
func (b *Book) SourceOf(key string) (Source, bool) {
	i, ok := b.keys[key]
	if !ok {
		return Source{}, false
	}
	return b.sources[i], true
}

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
	h := sha256.Sum256([]byte(strings.Join([]string{alloysCSV, figuresCSV, rulesCSV, soldersCSV, sourcesCSV}, "\x00")))
	return hex.EncodeToString(h[:4])
})
