package heat

import (
	"fmt"
	"math"
	"time"

	"dullred/alloys/unit"
)

// Evenness is how fast heat that comes in at one face, or at one end, evens out:
// the time constant of the slowest mode of a slab of which one side is held at a
// temperature and the other is shut, 4 L²/(π²α) (Carslaw & Jaeger, from memory).
// Under a steady flame, or left alone, a piece evens out four times as fast, so this
// errs long.
type Evenness struct {
	Through time.Duration // through the thinnest way
	Along   time.Duration // along the length; 0 when that is not known
}

// Even is the time constants of a piece.
func (b Body) Even() Evenness {
	return Evenness{b.settles(b.Depth), b.settles(b.Length)}
}

// Settled is how long until it is even within 5 %: three time constants.
func (e Evenness) Settled() Evenness { return Evenness{3 * e.Through, 3 * e.Along} }

// settles is the time constant over a distance.
func (b Body) settles(l unit.Millimetre) time.Duration {
	m := metres(l)
	return inSeconds(4 * m * m / (math.Pi * math.Pi * b.diffusivity()))
}

// longestConstant is how slowly a piece may even out along its length and still be
// said to have one temperature under a torch. It is a judgement: a heat takes a
// minute or so, and the hand moves the flame about meanwhile.
const longestConstant = time.Minute

// Lumped is an error where one temperature cannot stand for a whole length: about
// 130 mm of copper or 70 mm of brass. A length that is not known is not refused.
func (b Body) Lumped() error {
	along := b.Even().Along
	if along <= longestConstant {
		return nil
	}
	longest := b.Length * unit.Millimetre(math.Sqrt(longestConstant.Seconds()/along.Seconds()))
	return fmt.Errorf("heat takes %v to even out along %v, so no one temperature holds for it; reckon a part of at most %.0f mm",
		unit.FormatDuration((3 * along).Round(time.Second)), b.Length, math.Floor(float64(longest)))
}

// fromTips is from which ratio thin parts run ahead of thick ones: 3 to 1, common
// practice.
const fromTips = 3

// TipsFirst is how much faster the thinnest of some sections of a piece heats than
// the thickest, by volume over skin, and whether that risks the thin ones. Sections
// without a measure are passed over; the ratio of fewer than two is 1.
func TipsFirst(sections []unit.Size) (ratio float64, risk bool) {
	thin, thick := math.Inf(1), 0.0
	for _, z := range sections {
		r := slenderness(z)
		if z.Check() != nil || !(r > 0) {
			continue
		}
		thin, thick = min(thin, r), max(thick, r)
	}
	if thick == 0 {
		return 1, false
	}
	ratio = thick / thin
	return ratio, ratio >= fromTips-1e-9
}

// slenderness is area over perimeter in m, half the thickness for sheet.
func slenderness(z unit.Size) float64 {
	if z.Shape == unit.Sheet {
		return metres(z.Thick) / 2
	}
	area, perimeter, _ := section(z)
	return area / perimeter
}
