package schedule

import (
	"fmt"
	"slices"
	"strings"
)

// BathState is how the pickle of a bench is. The zero BathState was never said.
type BathState string

// The states of a bath.
const (
	BathUnknown BathState = ""
	BathFresh   BathState = "fresh"
	BathWorking BathState = "working"
	BathSpent   BathState = "spent" // blue with copper, slow
)

// BathStates are those that can be told apart.
func BathStates() []BathState { return []BathState{BathFresh, BathWorking, BathSpent} }

// ParseBath reads the state of a bath.
func ParseBath(text string) (BathState, error) {
	var names []string
	for _, s := range BathStates() {
		if strings.EqualFold(text, string(s)) {
			return s, nil
		}
		names = append(names, string(s))
	}
	return "", fmt.Errorf("%.60q is not a state of a bath: expected one of %s", text, strings.Join(names, ", "))
}

// Bath is the pickle of a bench, whatever piece lies in it. Iron in it plates
// copper onto all that comes after, until the bath is made fresh.
type Bath struct {
	State BathState `json:"state"`
	Iron  bool      `json:"iron,omitempty"` // something of iron or steel is in it, or was
}

// Kind is KindBath.
func (Bath) Kind() Kind { return KindBath }

func (b Bath) check() error {
	if !slices.Contains(BathStates(), b.State) {
		return fmt.Errorf("%.60q is not a state of a bath", b.State)
	}
	return nil
}

func (b Bath) detail() string {
	if b.Iron {
		return string(b.State) + ", iron in it"
	}
	return string(b.State)
}

// with is the bath after another thing was said of it: iron stays in it until it
// is fresh.
func (b Bath) with(said Bath) Bath {
	said.Iron = said.Iron || b.Iron && said.State != BathFresh
	return said
}

// Caution is what to mind before a piece goes in; empty when there is nothing.
// That iron plates copper onto the work is common practice on every bench that
// was asked.
func (b Bath) Caution() string {
	switch {
	case b.Iron:
		return "Iron is or was in this pickle: silver comes out coated with copper. Make it fresh, and use no steel tweezers."
	case b.State == BathSpent:
		return "This pickle is spent: it is slow and leaves the work dull. Make it fresh; acid into water."
	}
	return ""
}
