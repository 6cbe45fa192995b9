package split

import (
	"math"
	"sync"

	"dullred/alloys/unit"
)

// Risk is the chance of splitting that the published limit is taken to carry. A
// judgement.
const Risk = 0.02

// Knowledge is what is known of the strain at which one stock splits. It is a
// value: learning gives a new one. The zero Knowledge knows nothing: nothing
// survives by it, its limits are 0, and it learns nothing.
type Knowledge struct {
	limit float64 // published, the unit of everything below
	seen  evidence
	bands [len(shapes)]band
}

// middle is the logarithm of the scale, in published limits, about which the
// prior lies, so that 2 % do not survive the published limit.
var middle = sync.OnceValue(func() float64 {
	k := Knowledge{limit: 1, bands: evidence{}.bands(0)}
	return -k.quantile(Risk, 0)
})

// untaught is sought, as the middle is, when a stock is first asked about.
var untaught = sync.OnceValue(func() [len(shapes)]band { return evidence{}.bands(middle()) })

// Prior is what is known of a stock before anything was seen of it: its Limit at
// the risk of 2 % is the published one. A limit that is not from Least to Most
// gives the zero Knowledge.
//
// Of a stock never seen the published limit speaks, and of the intervals of many
// other stocks learned together so does [Caution.Warn]: that strain is the limit
// to give here, for one who has them. Together they tell how far stocks differ.
func Prior(limit unit.Strain) Knowledge {
	if !(limit >= Least && limit <= Most) {
		return Knowledge{}
	}
	return Knowledge{limit: float64(limit), bands: untaught()}
}

// Known reports whether anything is known at all, be it the published limit alone.
func (k Knowledge) Known() bool { return k.limit > 0 }

// Seen is how many intervals were learned from: those that split and those that
// ended whole. Doubtful ones are not among them.
func (k Knowledge) Seen() (splits, whole int) { return k.seen.splits, k.seen.whole }

// Reached is the largest strain to which at least three intervals were worked,
// whole or splitting there; 0 where there are not so many.
func (k Knowledge) Reached() unit.Strain { return unit.Strain(k.limit * k.seen.longest[enough-1]) }

// Learn is the knowledge after more intervals; the order does not matter, nor in
// how many parts they come. Doubtful ones are left out.
//
// A split below the limit lowers it. Metal that stays whole raises it, save
// where it lasts far beyond the strains at which the stock has split: then the
// stock is uneven, and an uneven stock has a lower limit.
func (k Knowledge) Learn(intervals []Interval) Knowledge {
	if !k.Known() {
		return k
	}
	before := k.seen
	for _, i := range intervals {
		if Doubtful(i) == "" {
			k.seen = k.seen.add(float64(i.Strain)/k.limit, i.Split)
		}
	}
	if k.seen != before {
		k.bands = k.seen.bands(middle())
	}
	return k
}

// Survive is the chance 0..1 that the next interval of this stock is whole at a
// strain, averaged over what is not known of its law. It is 1 at no strain.
func (k Knowledge) Survive(e unit.Strain) float64 {
	switch {
	case !k.Known() || math.IsNaN(float64(e)):
		return 0
	case e <= 0:
		return 1
	}
	splits, _ := k.chance(math.Log(float64(e) / k.limit))
	return 1 - splits
}

// Density is the density of the strain at which the next interval of this stock
// would split, per unit of strain: the picture of what is known.
func (k Knowledge) Density(e unit.Strain) float64 {
	if !k.Known() || !(e > 0) {
		return 0
	}
	_, slope := k.chance(math.Log(float64(e) / k.limit))
	return slope / float64(e)
}

// chance is the chance of splitting at a strain of which ln is the logarithm, in
// published limits, and its slope in ln.
func (k *Knowledge) chance(ln float64) (splits, slope float64) {
	for j := range k.bands {
		c, s := k.bands[j].chance(ln)
		splits, slope = splits+c, slope+s
	}
	return min(1, splits), slope
}

// Middle is the mean strain at which the next interval would split, and its
// standard deviation.
func (k Knowledge) Middle() (mean, sd unit.Strain) {
	if !k.Known() {
		return 0, 0
	}
	first, second := 0.0, 0.0
	for _, b := range k.bands {
		one, two := math.Gamma(1+1/b.shape), math.Gamma(1+2/b.shape)
		for i, w := range b.weight {
			scale := math.Exp(b.first + float64(i)*b.step)
			first += w * scale * one
			second += w * scale * scale * two
		}
	}
	return unit.Strain(k.limit * first), unit.Strain(k.limit * math.Sqrt(max(0, second-first*first)))
}
