package alloys

import "slices"

// Solder is one silver solder with the three heats that are told of it: the
// solidus, where a joint made with it lets go, the liquidus, and the flow point
// of a supplier's table. The three are kept apart: a solder of which only the
// flow point is published has no solidus, and no margin can be reckoned from it.
// What its methods return must not be changed.
type Solder struct {
	ID          ID
	Name        string
	Names       []string // trade names by which it is found
	Composition string
	Hazard      SolderHazard
	Own         bool // read by ReadOwn

	held *held
}

// SolderHazard is what a solder gives off that the others do not.
type SolderHazard string

// The hazards of a solder. One with cadmium is listed so that it is recognised
// and kept off the bench; it is never advised.
const (
	NoHazard SolderHazard = ""
	Cadmium  SolderHazard = "cadmium"
)

// Figures returns every figure of a property, the defaults first.
func (s Solder) Figures(p Property) []Figure { return figuresOf(s.held.all().figures, p) }

// Default returns the figure that is computed with: of two published figures
// that contradict each other the lower. It is false if none is published, and a
// flow point never stands in for a solidus or a liquidus.
func (s Solder) Default(p Property) (Figure, bool) { return defaultOf(s.held.all().figures, p, "") }

// called lists all that a solder answers to.
func (s Solder) called() []string {
	return slices.Concat([]string{s.Name}, s.Names, []string{string(s.ID)})
}

// Solders returns the solders in the order of their table.
func (b *Book) Solders() []Solder { return slices.Clone(b.solders) }

// FindSolder looks a solder up by its id or a trade name, as Find does an alloy.
// If there is none the error is an *UnknownError.
func (b *Book) FindSolder(name string) (Solder, error) {
	if e, ok := b.solderNames[plain(name)]; ok {
		return b.solders[e.index], nil
	}
	return Solder{}, &UnknownError{What: "solder", Name: name, Nearest: nearest(name, b.solders)}
}

// Solders returns the embedded solders in the order of their table.
func Solders() []Solder { return embedded().Solders() }

// FindSolder looks up an embedded solder; see Book.FindSolder.
func FindSolder(name string) (Solder, error) { return embedded().FindSolder(name) }
