package schedule

import (
	"errors"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/schedule/stock"
)

// PlanJob is what is to be made, of which bar.
type PlanJob struct {
	Alloy  string          // by name, number or fineness; a made plan holds its id
	Cast   bool            // the bar is as cast: its first interval is under the first limit
	Bar    unit.Size       // section of the bar: rectangular, square or round
	Length unit.Millimetre // of the bar; 0 when not known, and then no mass is checked
	Shape  stock.Shape     // finished, before it is bent
	Bowl   stock.Bowl      // in place of the shape: made of a disc, whose wall and diameter are the bar
	Sunk   bool            // the bowl is sunk from inside and not raised from outside
	Turns  float64         // it is twisted so often, once it is forged
	Over   unit.Millimetre // over this length
	Stamp  bool            // stamped flat, before it is bent
	Bend   unit.Millimetre // inside radius it is bent to; 0 is not bent
	Joints []heat.Joint    // soldered once it is bent; the order does not matter
	Temper PlanTemper      // how hard it leaves the bench
	Limit  string          // the smith's own limit or school; empty takes the table's
}

// PlanTemper is how hard a piece is to be when it is done. The empty one leaves it
// as the work leaves it.
type PlanTemper string

// The tempers that a plan is made for.
const (
	AnyTemper     PlanTemper = ""
	SoftTemper    PlanTemper = "soft"         // the last act is a heat
	SpringyTemper PlanTemper = "springy"      // a quarter to a half of the limit is spent after the last heat
	HardTemper    PlanTemper = "hard"         // 70 % of the limit or more is spent after the last heat
	AgeHardened   PlanTemper = "age-hardened" // soft, then aged by the rule of the alloy
)

// PlanTempers are the tempers by name.
func PlanTempers() []PlanTemper {
	return []PlanTemper{SoftTemper, SpringyTemper, HardTemper, AgeHardened}
}

// PlanKnown is what is known of the smith and the torch: without it a plan goes by
// the priors.
type PlanKnown struct {
	Hand   ID
	Others *Observed
}

// PlanAct is what a step of a plan is.
type PlanAct string

// The acts of a plan.
const (
	DoPass    PlanAct = "pass"
	DoAnneal  PlanAct = "anneal"
	DoStamp   PlanAct = "stamp"
	DoBend    PlanAct = "bend"
	DoSolder  PlanAct = "solder"
	DoInspect PlanAct = "inspect" // look for cracks, and file the skin of the casting
)

// PlanStep is one line of a plan. Worked, LimitSpent and the hardness are what the
// metal has when the step is done, of the zone that has most; after a heat they
// are those of soft metal.
type PlanStep struct {
	Act        PlanAct
	Zone       string           // in words: "whole", "tip A and tip B"
	Zones      []string         // the same by name
	Process    coldwork.Process // of a pass; empty otherwise
	StopAt     unit.Size        // set the calliper to this; unshaped where nothing is measured
	Worked     unit.ThicknessReduction
	LimitSpent float64 // 0 to 1
	Hardness   coldwork.Band
	Courses    int          // expected of this hand; 0 where nothing is hammered
	Minutes    float64      // expected; 0 where nothing is known
	Flame      float64      // of these, with the torch lit: to its heat and held there
	Low, High  unit.Celsius // of an anneal; 0 where none is published
	Solidus    unit.Celsius // of the solder of a joint
	Turns      float64      // of a twist
	Text       string       // what else to mind; may be empty
}

// Plan is every pass and heat from a bar to a finished shape. It is what it was
// reckoned to be when it was made: later tables do not change it.
type Plan struct {
	Job     PlanJob
	Anneals int // heats for softness alone; a solder step is another heat
	Steps   []PlanStep
	Zones   []PlanZone
	Limit   coldwork.Limit // between two anneals
	First   coldwork.Limit // of metal as cast; the zero Limit for a wrought bar
	Minutes float64        // of all steps that are timed
	Mass    PlanMass
	Coarse  bool     // some anneal meets 3 to 12 % of work, there being no other way
	Notes   []string // what the smith must know before he follows it
}

// PlanMass is what the bar weighs against the finished piece; all 0 where the
// length of the bar or the density is not known.
type PlanMass struct{ Bar, Finished, Spare unit.Gram }

// ErrNoPlan is wrapped by every error of a job for which there is no plan.
var ErrNoPlan = errors.New("no plan")

// noPlan says why there is none, in one sentence without the sentinel's words.
type noPlan string

func (e noPlan) Error() string   { return string(e) }
func (noPlan) Is(err error) bool { return err == ErrNoPlan }

// PlanIn plans a job with the alloys of a book; nil is the embedded one.
//
// The bar is drawn as a whole, its two sides alike, to the largest area that any
// zone needs; each zone is drawn on by itself and then spread at about constant
// area. Between two anneals every zone goes from one size to another of a grid of
// sizes that a calliper reads, and what that costs is [coldwork.Between] of the
// two, as the log of these readings would have it.
//
// Of all such plans it takes one with, in this order,
//
//  1. no zone above its limit, and none annealed with 3 to 12 % of work in it
//     ([heat.Spare]); the latter is given up, and said, where nothing else is left;
//  2. the fewest anneals;
//  3. the temper wanted at the end, as near as passes reach it;
//  4. the smallest of the largest shares of the limit;
//  5. the smallest sum of squared shares: even steps, none at the last moment.
//
// The search is exact over the grid. An error is ErrNoPlan and says why there is
// none, or is that of an unknown alloy.
func PlanIn(book *alloys.Book, job PlanJob, known PlanKnown) (Plan, error) {
	p, err := newPlanner(book, job, known)
	if err != nil {
		return Plan{}, err
	}
	p.fresh = true
	bar := planStart{section: coldwork.Section(job.Bar), cast: job.Cast}
	for i := range p.zones {
		p.zones[i].start = bar
	}
	return p.plan()
}

// inWords joins names: "a, b and c".
func inWords(names []string) string {
	n := len(names)
	if n < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
}
