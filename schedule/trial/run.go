package trial

import (
	"slices"

	"dullred/schedule/split"
)

// Result is what came of a trial.
type Result struct {
	Shop        Shop         `json:"shop"`
	Policies    []Policy     `json:"policies"`
	Compared    []Comparison `json:"compared_with_measured_rule"`
	Calibration Calibration  `json:"calibration"`
}

// Run plays every piece of the shop through every policy.
func Run(s Shop) Result {
	if !s.sound() {
		return Result{}
	}
	t := newTrial(&s)
	for i, scale := range t.scales {
		t.play(i, scale)
	}
	r := Result{Shop: s, Policies: t.policies(), Calibration: t.calibration()}
	r.Compared = s.compare(r)
	return r
}

// Policy finds a policy of the result by its name; the zero Policy where there is none.
func (r Result) Policy(name string) Policy {
	for _, p := range r.Policies {
		if p.Name == name {
			return p
		}
	}
	return Policy{}
}

// Comparison finds what a policy was found to be against the measured rule.
func (r Result) Comparison(name string) Comparison {
	for _, c := range r.Compared {
		if c.Policy == name {
			return c
		}
	}
	return Comparison{}
}

// trial is a run under way.
type trial struct {
	shop       *Shop
	candidates []candidate
	tallies    [][]tally
	smiths     []smith
	prior      known
	unseen     known
	scales     []float64
	bar        *piece
	archive    *archive
	limits     map[string]limits
}

// tally counts what came of one point.
type tally struct{ heats, split int }

func newTrial(s *Shop) *trial {
	t := &trial{shop: s, candidates: candidates(), bar: newPiece(s), archive: newArchive(s), scales: s.stocks(), limits: map[string]limits{}}
	chances := []float64{advised}
	for _, c := range t.candidates {
		t.tallies = append(t.tallies, make([]tally, len(c.points)))
		for _, p := range c.points {
			if p.Chance > 0 && !slices.Contains(chances, p.Chance) {
				chances = append(chances, p.Chance)
			}
		}
	}
	t.smiths, t.prior = s.smiths(chances), learned(split.Prior(s.Published))
	t.unseen = learned(t.archive.others(100, t.smiths))
	return t
}

// play works one piece by every policy, with the same chances each time.
func (t *trial) play(number int, scale float64) {
	h := t.smiths[number%len(t.smiths)]
	j := job{smith: h, scale: scale, shop: t.shop, stocks: t.learn(number, h, scale)}
	t.bar.start(uint64(number), h.course, scale)
	t.note(&j)
	for c, candidate := range t.candidates {
		for i, r := range candidate.rules(&j, candidate.points) {
			o := t.bar.work(r, nil)
			t.tallies[c][i].heats += o.heats
			if o.split {
				t.tallies[c][i].split++
			}
		}
	}
}

// learn is what dullred knows of the stock of one piece under each policy.
func (t *trial) learn(number int, h smith, scale float64) map[string]known {
	first := historyRow + uint64(number)*4096
	m := material{h.course, scale}
	prior := t.prior.Knowledge
	tests := prior.Learn(t.archive.tests(3, first, m))
	to45 := prior.Learn(t.archive.worked(100, first+1024, m, rule{stop: float64(t.shop.Published)}))
	own := t.archive.worked(100, first+2048, m, rule{stop: short(float64(t.shop.Published), h.margin[advised])})
	return map[string]known{Stranger: t.prior, Unseen: t.unseen, TenUnseen: learned(t.unseen.Learn(own[:10])),
		Ten: learned(prior.Learn(own[:10])), Hundred: learned(prior.Learn(own)), HundredTo45: learned(to45),
		Three: learned(tests), TenAndThree: learned(tests.Learn(own[:10]))}
}

func (t *trial) policies() (all []Policy) {
	n := float64(t.shop.Pieces)
	for c, candidate := range t.candidates {
		p := Policy{Name: candidate.name, Points: candidate.points}
		for i, sum := range t.tallies[c] {
			p.Points[i].Heats = float64(sum.heats) / n
			p.Points[i].Split = 1000 * float64(sum.split) / n
		}
		all = append(all, p)
	}
	return all
}
