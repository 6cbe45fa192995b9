package trial

import (
	"slices"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/split"
)

// Calibration says whether the forecasts of the trial were true, and its limits.
type Calibration struct {
	Forecasts Forecasts `json:"forecasts"`
	Limits    []Risky   `json:"limits"`
}

// Forecasts are the predictions of 5 to 15 % that the next course crosses the
// published limit, and the ranges of courses left under it.
type Forecasts struct {
	Predictions int     `json:"predictions"`
	Predicted   float64 `json:"predicted_crossing"` // their mean, 0..1
	Crossed     float64 `json:"crossed"`            // the share that did
	Ranges      int     `json:"ranges"`
	Contained   float64 `json:"ranges_that_held"` // the share with the truth from low to high
}

// Risky is how the limits of 2 % risk of a policy turned out, before they are held
// to the published one: the mean, over all pieces, of the true chance that an
// interval does not survive its limit.
type Risky struct {
	Policy string      `json:"policy"`
	Limit  unit.Strain `json:"mean_limit"`
	True   float64     `json:"true_risk"`
}

// asked is how many pieces the forecasts are asked of; more would say the same.
const asked = 4000

func (t *trial) calibration() Calibration {
	return Calibration{Forecasts: t.forecasts(), Limits: t.risky()}
}

// forecasts asks after every course of an interval that is worked on until the
// reading is at the published limit.
func (t *trial) forecasts() (f Forecasts) {
	crossed, held, predicted := 0, 0, 0.0
	for i := range min(asked, t.shop.Pieces) {
		h := t.smiths[i%len(t.smiths)]
		t.bar.start(uint64(i), h.course, 0)
		for _, at := range t.bar.followed() {
			said := h.learned.Left(coldwork.Estimate{Strain: at.read, Sigma: t.shop.sigma()}, t.shop.Published)
			f.Ranges++
			held += count(said.Low <= at.left && at.left <= said.High)
			if said.NextCrosses < 0.05 || said.NextCrosses > 0.15 {
				continue
			}
			f.Predictions++
			predicted += said.NextCrosses
			crossed += count(at.left == 0)
		}
	}
	f.Predicted, f.Crossed = predicted/float64(max(1, f.Predictions)), float64(crossed)/float64(max(1, f.Predictions))
	f.Contained = float64(held) / float64(max(1, f.Ranges))
	return f
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

// moment is a reading under the published limit, and how many courses were in
// truth left under it.
type moment struct {
	read unit.Strain
	left int
}

// followed are the moments of the first interval of a piece that no split ends.
func (p *piece) followed() (all []moment) {
	limit, worked, under := float64(p.shop.Published), 0.0, 0
	for i := range mostFollowed {
		read := worked + p.misreads.at(i) - p.misreads.at(0)
		if read >= limit {
			break
		}
		all = append(all, moment{read: unit.Strain(max(0, read))})
		if worked += p.shop.stiffened(p.course(i), worked); worked < limit {
			under++
		}
	}
	for i := range all {
		all[i].left = max(0, under-i)
	}
	return all
}

// mostFollowed ends an interval of a hand that hardly works the metal.
const mostFollowed = 80

func (t *trial) risky() (all []Risky) {
	for _, name := range []string{Stranger, Unseen, Ten, TenUnseen, Hundred, HundredTo45, Three, TenAndThree} {
		sum, n := t.limits[name], float64(t.shop.Pieces)
		all = append(all, Risky{Policy: name, Limit: unit.Strain(sum.limit / n), True: sum.risk / n})
	}
	return all
}

// limits sums the limits of 2 % risk and the true risks of them.
type limits struct{ limit, risk float64 }

// note keeps what the limits of one piece are and what they truly risk.
func (t *trial) note(j *job) {
	at := slices.Index(risks, split.Risk)
	for name, k := range j.stocks {
		limit := float64(k.limits[at])
		sum := t.limits[name]
		t.limits[name] = limits{sum.limit + limit, sum.risk + t.shop.splitsBy(limit, j.scale)}
	}
}
