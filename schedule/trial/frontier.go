package trial

import (
	"cmp"
	"math"
	"slices"
)

// rare stands for no split at all where a logarithm is needed: less than one in
// all pieces of a run, per thousand.
const rare = 0.01

// At is how many of a thousand pieces split when a policy is set so that it gives
// a number of heats per piece: between two of its points, along a straight line
// in the logarithm of the splits. It is false outside its points.
func (p Policy) At(heats float64) (split float64, ok bool) {
	points := slices.Clone(p.Points)
	slices.SortStableFunc(points, func(a, b Point) int { return cmp.Compare(a.Heats, b.Heats) })
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a.Heats > heats || b.Heats < heats || a.Heats == b.Heats {
			continue
		}
		f := (heats - a.Heats) / (b.Heats - a.Heats)
		return math.Exp((1-f)*math.Log(a.Split+rare) + f*math.Log(b.Split+rare)), true
	}
	return 0, false
}

// Ratio sets a policy against the measured reductions, and against one who knows
// the law of each stock, at an equal number of heats.
type Ratio struct {
	Heats float64 `json:"heats_per_piece"`
	Rule  float64 `json:"measured_rule_split_per_thousand"`
	Split float64 `json:"split_per_thousand"`
	Ratio float64 `json:"ratio"`
	Law   float64 `json:"ratio_to_known_law"` // 1 is as good as knowing the law of the stock
}

// Comparison is a policy against the measured reductions, all along the heats
// that the shop is compared at; Worst and Best are the ends of the ratios. A policy
// that gives only part of those heats is compared in that part.
type Comparison struct {
	Policy string  `json:"policy"`
	Ratios []Ratio `json:"ratios"`
	Worst  float64 `json:"worst_ratio"`
	Best   float64 `json:"best_ratio"`
}

// compared is how many steps there are from the first number of heats to the last.
const compared = 8

func (s Shop) compare(r Result) (all []Comparison) {
	rule, law := r.Policy(Measured), r.Policy(TrueLaw)
	for _, p := range r.Policies {
		c := Comparison{Policy: p.Name}
		for i := range compared + 1 {
			heats := s.From + (s.To-s.From)*float64(i)/compared
			base, known := rule.At(heats)
			best, knowable := law.At(heats)
			split, ok := p.At(heats)
			if !known || !knowable || !ok {
				continue
			}
			c.Ratios = append(c.Ratios, Ratio{Heats: heats, Rule: base, Split: split, Ratio: split / base, Law: split / best})
		}
		c.Worst, c.Best = ends(c.Ratios)
		all = append(all, c)
	}
	return all
}

// ends are the largest and the smallest ratio; 0 for none.
func ends(all []Ratio) (worst, best float64) {
	for i, r := range all {
		if i == 0 {
			worst, best = r.Ratio, r.Ratio
		}
		worst, best = max(worst, r.Ratio), min(best, r.Ratio)
	}
	return worst, best
}
