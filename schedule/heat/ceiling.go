package heat

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// DefaultMargin is kept below what melts. Common practice; a smith may choose 0 to
// MaxMargin.
const (
	DefaultMargin unit.Celsius = 50
	MaxMargin     unit.Celsius = 200
)

// CheckMargin refuses a margin that cannot be.
func CheckMargin(margin unit.Celsius) error {
	if margin >= 0 && margin <= MaxMargin {
		return nil
	}
	return fmt.Errorf("a margin of %v cannot be: it is 0 to %v", margin, MaxMargin)
}

// Joint is a soldered joint of a piece.
type Joint struct {
	Name    string // of the joint, such as "handle"; may be empty
	Solder  string
	Solidus unit.Celsius // where it lets go
}

// String names the joint and its solder.
func (j Joint) String() string {
	if j.Name == "" {
		return j.Solder
	}
	return j.Name + ", " + j.Solder
}

// known is whether a joint has a solidus to go by.
func (j Joint) known() bool { return j.Solidus > 0 && j.Solidus <= unit.MaxTemperature }

// ownSolder is the name of a solder that has none.
const ownSolder = "own solder"

// JointOf is a joint made with a solder of the book, or with one of the smith's own
// by its solidus. An own solidus goes before a published one; 0 is not given, as is
// a flow point of 0. A flow point never stands in for a solidus, and a solder with
// cadmium is refused.
func JointOf(book *alloys.Book, solder string, solidus, flow unit.Celsius) (Joint, error) {
	solder = strings.TrimSpace(solder)
	if strings.Contains(strings.ToLower(solder), "cadmium") || slices.Contains(cadmiumGrades, grade(solder)) {
		return Joint{}, errCadmium(solder)
	}
	s, err := book.FindSolder(solder)
	switch {
	case err == nil && s.Hazard == alloys.Cadmium:
		return Joint{}, errCadmium(s.Name)
	case solidus != 0:
		j, err := ownJoint(cmp.Or(s.Name, solder, ownSolder), solidus, flow)
		if err == nil {
			err = tooHigh(s, solidus)
		}
		return j, err
	case solder == "":
		return Joint{}, errors.New("a joint needs its solder, or the solidus that the maker prints")
	case err != nil:
		return Joint{}, err
	}
	f, ok := s.Default(alloys.Solidus)
	if !ok {
		return Joint{}, noSolidus(s, flow)
	}
	return Joint{Solder: s.Name, Solidus: unit.Celsius(f.Low)}, nil
}

// cadmiumGrades are AWS A5.8 grades that hold cadmium, from memory beside the two
// of the table.
var cadmiumGrades = []string{"bag1", "bag1a", "bag2", "bag2a", "bag3"}

func grade(name string) string {
	return strings.NewReplacer(" ", "", "-", "", "_", "", "aws", "").Replace(strings.ToLower(name))
}

func errCadmium(solder string) error {
	return fmt.Errorf("%.60q holds cadmium, whose fume poisons: do not heat it and do not solder with it", solder)
}

// tooHigh refuses an own solidus at or above the published liquidus or flow point of
// that solder: it is one of those, or of another solder.
func tooHigh(s alloys.Solder, solidus unit.Celsius) error {
	for _, p := range []alloys.Property{alloys.Liquidus, alloys.Flow} {
		if f, ok := s.Default(p); ok && float64(solidus) >= f.Low {
			return fmt.Errorf("%v is no solidus of %s, whose %s is published as %g °C: a joint lets go below that", solidus, s.Name, p, f.Low)
		}
	}
	return nil
}

func ownJoint(name string, solidus, flow unit.Celsius) (Joint, error) {
	if !(solidus >= 50 && solidus <= 2000) {
		return Joint{}, fmt.Errorf("a solidus of %v is not believable for a solder", solidus)
	}
	if flow != 0 && !(flow >= solidus) {
		return Joint{}, fmt.Errorf("a flow point of %v below the solidus of %v cannot be: one of them is something else", flow, solidus)
	}
	return Joint{Solder: name, Solidus: solidus}, nil
}

func noSolidus(s alloys.Solder, flow unit.Celsius) error {
	if f, ok := s.Default(alloys.Flow); ok && flow == 0 {
		flow = unit.Celsius(f.Low)
	}
	words := "a flow point is not one"
	if flow != 0 {
		words = fmt.Sprintf("the flow point of %v is not one: the joint lets go below it", flow)
	}
	return fmt.Errorf("no solidus is published for %s: type the maker's (%s)", s.Name, words)
}

// Ceiling is the heat that a piece must stay below.
type Ceiling struct {
	Temp    unit.Celsius // no heat is advised at it or above
	Solidus unit.Celsius // of what melts first
	Margin  unit.Celsius // between the two
	Because string       // what melts first, in words
}

// Room is how far a heat is below the ceiling; 0 or less is too hot.
func (c Ceiling) Room(t unit.Celsius) unit.Celsius { return c.Temp - t }

// CeilingOf is the lowest solidus of the alloy in its condition and of every joint,
// less a margin, which is held between 0 and MaxMargin. It is false if no solidus is
// known of either.
func CeilingOf(a alloys.Alloy, c alloys.Condition, joints []Joint, margin unit.Celsius) (Ceiling, bool) {
	if math.IsNaN(float64(margin)) {
		margin = DefaultMargin
	}
	margin = min(max(margin, 0), MaxMargin)
	lowest, because, found := unit.Celsius(0), "", false
	if f, ok := a.Default(alloys.Solidus, c); ok {
		lowest, found = unit.Celsius(f.Low), true
		because = fmt.Sprintf("%s starts to melt at %g °C", a.Name, f.Low)
		if c == alloys.Cast {
			because = fmt.Sprintf("%s, as cast, starts to melt at %g °C", a.Name, f.Low)
		}
	}
	unknown := !found
	for _, j := range joints {
		if !j.known() {
			continue
		}
		if !found || j.Solidus < lowest {
			lowest, found = j.Solidus, true
			because = fmt.Sprintf("the joint (%v) lets go at %g °C", j, float64(j.Solidus))
		}
	}
	if unknown && found {
		because += fmt.Sprintf("; the solidus of %s itself is not known", a.Name)
	}
	return Ceiling{Temp: lowest - margin, Solidus: lowest, Margin: margin, Because: because}, found
}

// Window is the part of an annealing window that lies below the ceiling, and words
// for it. It is false if nothing is left; the words then say what to do.
func (c Ceiling) Window(low, high unit.Celsius) (lo, hi unit.Celsius, text string, ok bool) {
	hi = min(high, c.highest())
	switch {
	case believable(low, high, c.Temp) != nil:
		return 0, 0, "no window is known: prove it by bending", false
	case !(low <= hi):
		return 0, 0, fmt.Sprintf("nothing of %g to %g °C is left under %g °C, since %s: anneal before soldering, or hold it longer just under that and prove it by bending, or leave it hard",
			float64(low), float64(high), float64(c.Temp), c.Because), false
	case hi < high:
		return low, hi, fmt.Sprintf("%g to %g °C and no more, since %s", float64(low), float64(hi), c.Because), true
	}
	return low, hi, fmt.Sprintf("%g to %g °C, with %.0f °C to spare under the ceiling", float64(low), float64(hi), float64(c.Room(hi))), true
}

// highest is the highest whole degree below the ceiling.
func (c Ceiling) highest() unit.Celsius { return unit.Celsius(math.Ceil(float64(c.Temp)) - 1) }

// InOrder are the joints in the order in which they are made: the highest solidus
// first. Joints of one solidus keep their order.
func InOrder(joints []Joint) []Joint {
	return slices.SortedStableFunc(slices.Values(joints), func(j, k Joint) int { return cmp.Compare(k.Solidus, j.Solidus) })
}

// NextSolder is the heat below which the solder of the next joint must flow, so that
// the lowest joint holds meanwhile, and words for it. It is false without joints of which
// the solidus is known.
func NextSolder(joints []Joint, margin unit.Celsius) (below unit.Celsius, text string, ok bool) {
	c, ok := CeilingOf(alloys.Alloy{}, "", joints, margin)
	if !ok {
		return 0, "", false
	}
	joints = slices.DeleteFunc(InOrder(joints), func(j Joint) bool { return !j.known() })
	lowest := joints[len(joints)-1]
	return c.Temp, fmt.Sprintf("the next joint must flow below %g °C: %v lets go at %g °C", float64(c.Temp), lowest, float64(lowest.Solidus)), true
}
