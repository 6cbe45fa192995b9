package schedule

import (
	"fmt"
	"math"

	"dullred/alloys/unit"
)

// KindWeighed is the scales.
const KindWeighed Kind = "weighed"

// Part is what was put on the scales.
type Part string

// The piece itself is weighed as it is at the time: first as the metal that went in,
// last as what came out. Scrap is what was cut or filed off it and kept.
const (
	PartPiece Part = ""
	PartScrap Part = "scrap"
)

// Weighed is a weight of a piece, or of the scrap that was kept of it.
type Weighed struct {
	Mass unit.Gram `json:"grams"`
	What Part      `json:"what,omitempty"`
}

// Kind is KindWeighed.
func (Weighed) Kind() Kind { return KindWeighed }

func (w Weighed) check() error {
	if !(w.Mass >= unit.MinMass && w.Mass <= unit.MaxMass) {
		return fmt.Errorf("%v is not believable", w.Mass)
	}
	if w.What != PartPiece && w.What != PartScrap {
		return fmt.Errorf("%.60q is not something that is weighed", string(w.What))
	}
	return nil
}

func (w Weighed) detail() string {
	if w.What == PartScrap {
		return w.Mass.String() + " of scrap"
	}
	return w.Mass.String()
}

// Weights are what the scales have said of one piece.
type Weights struct {
	In    unit.Gram // the first weight of the piece; 0 when it was never weighed
	Out   unit.Gram // the last; 0 when it was weighed less than twice
	Scrap unit.Gram // all that was kept

	weighed int
}

// Lost is what went in and is neither in the piece nor among its scrap, in grams and as
// a share of what went in; false while the piece was weighed less than twice. Below 0
// the scales or the log are wrong, or solder was added.
func (w Weights) Lost() (lost unit.Gram, share float64, ok bool) {
	if w.weighed < 2 {
		return 0, 0, false
	}
	lost = unit.Gram(math.Round(1000*float64(w.In-w.Out-w.Scrap)) / 1000) // no scales at a bench tell more
	return lost, float64(lost / w.In), true
}

// add takes one weight on.
func (w *Weights) add(b Weighed) {
	switch {
	case b.What == PartScrap:
		w.Scrap += b.Mass
		return
	case w.weighed == 0:
		w.In = b.Mass
	default:
		w.Out = b.Mass
	}
	w.weighed++
}

// Latest is the weight that the piece had last; 0 when it was never weighed.
func (w Weights) Latest() unit.Gram {
	if w.weighed > 1 {
		return w.Out
	}
	return w.In
}
