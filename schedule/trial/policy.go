package trial

import (
	"math"

	"dullred/alloys/unit"
	"dullred/schedule/split"
)

// Point is one way of setting a policy and what came of it. Of the settings only
// those of the policy are not 0. A heat counts whether or not the piece splits
// later; a piece that splits is lost and has no more.
type Point struct {
	Courses   int                     `json:"courses,omitempty"`   // anneal after so many
	Reduction unit.ThicknessReduction `json:"reduction,omitempty"` // anneal when so much was read
	Risk      float64                 `json:"risk,omitempty"`      // of splitting at the limit that is warned of
	Chance    float64                 `json:"chance,omitempty"`    // anneal when the next course crosses the limit with more
	Heats     float64                 `json:"heats_per_piece"`
	Split     float64                 `json:"pieces_split_per_thousand"`
}

// Policy is a way of deciding when to anneal, with its points in the order of
// rising daring.
type Policy struct {
	Name   string  `json:"name"`
	Points []Point `json:"points"`
}

// The names of the policies. What dullred learned tightens the published limit;
// it goes beyond it only where the name says so.
const (
	Counted      = "every n courses"
	Measured     = "a measured reduction"
	Stranger     = "a stock never seen"
	Unseen       = "never seen, but 100 others"
	Ten          = "10 intervals"
	Hundred      = "100 intervals"
	HundredTo45  = "100 intervals to 45 %"
	Three        = "3 test pieces"
	TenUnseen    = "10 intervals, 100 others"
	TenAndThree  = "10 intervals, 3 test pieces"
	HundredLoose = "100 intervals, loosened"
	To45Loose    = "100 to 45 %, loosened"
	ThreeLoose   = "10 and 3 tests, loosened"
	TrueLaw      = "knows the stock's law"
	Oracle       = "knows each split"
)

// loosened are the policies that go beyond the published limit, and what they know.
var loosened = map[string]string{HundredLoose: Hundred, To45Loose: HundredTo45, ThreeLoose: TenAndThree}

// advised is the chance of crossing the limit at which dullred says anneal soon.
const advised = 0.1

// job is one piece with all that the policies go by.
type job struct {
	smith  smith
	scale  float64
	shop   *Shop
	stocks map[string]known // by policy
}

// known is what was learned of a stock, with its limits at all risks.
type known struct {
	split.Knowledge
	limits []unit.Strain
}

func learned(k split.Knowledge) known { return known{k, k.Limits(risks)} }

// candidate is a policy before it is tried: its settings, and its rules, one for each.
type candidate struct {
	name   string
	points []Point
	rules  func(j *job, ps []Point) []rule
}

// risks are the settings of what dullred learned; the last is beyond all sense, so
// that the published limit alone counts.
var risks = []float64{0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.04, 0.08, 0.16}

// candidates are all policies of the trial.
func candidates() []candidate {
	all := []candidate{
		{Counted, counted(1, 3, 5, 6, 8), each(func(_ *job, p Point) rule { return rule{courses: p.Courses, stop: math.Inf(1)} })},
		{Measured, measured(0.25, 0.5, 10), each(func(_ *job, p Point) rule { return rule{stop: float64(p.Reduction.Strain())} })},
	}
	for _, name := range []string{Stranger, Unseen, Ten, TenUnseen, Hundred, HundredTo45, Three, TenAndThree, HundredLoose, To45Loose, ThreeLoose} {
		all = append(all, candidate{name, risky(advised), warned(name)})
	}
	return append(all, candidate{TrueLaw, risky(advised), each(knowing)}, candidate{Oracle, chances(0.01, 0.1, 0.5, 0.9), each(seeing)})
}

func counted(n ...int) (ps []Point) {
	for _, c := range n {
		ps = append(ps, Point{Courses: c})
	}
	return ps
}

func measured(from, to float64, steps int) (ps []Point) {
	for i := range steps + 1 {
		ps = append(ps, Point{Reduction: unit.ThicknessReduction(from + (to-from)*float64(i)/float64(steps))})
	}
	return ps
}

func risky(chance float64) (ps []Point) {
	for _, r := range risks {
		ps = append(ps, Point{Risk: r, Chance: chance})
	}
	return ps
}

func chances(all ...float64) (ps []Point) {
	for _, c := range all {
		ps = append(ps, Point{Chance: c})
	}
	return ps
}

// each makes the rules of a policy from its rule at one point.
func each(one func(*job, Point) rule) func(*job, []Point) []rule {
	return func(j *job, ps []Point) []rule {
		rules := make([]rule, len(ps))
		for i, p := range ps {
			rules[i] = one(j, p)
		}
		return rules
	}
}

// warned anneals when the next course is too likely to cross what split warns of.
func warned(name string) func(*job, []Point) []rule {
	knows, loosen := loosened[name]
	if !loosen {
		knows = name
	}
	return func(j *job, ps []Point) []rule {
		c := split.Caution{Published: j.shop.Published, Loosen: loosen}
		rules := make([]rule, len(ps))
		stock := j.stocks[knows]
		for i, limit := range stock.limits {
			rules[i] = rule{stop: short(float64(c.Bound(stock.Knowledge, limit)), j.smith.margin[ps[i].Chance])}
		}
		return rules
	}
}

// knowing does the same with the true law of the stock.
func knowing(j *job, p Point) rule {
	return rule{stop: short(j.scale*math.Pow(-math.Log1p(-p.Risk), 1/j.shop.Shape), j.smith.margin[p.Chance])}
}

// seeing does the same with the strain at which this very interval will split.
func seeing(j *job, p Point) rule { return rule{oracle: true, margin: j.smith.margin[p.Chance]} }
