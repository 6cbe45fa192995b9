package stock

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Cause is where metal goes on the way from the crucible to the finished piece.
type Cause string

// The causes, in the order in which they come.
const (
	Melt   Cause = "melt"             // stays in crucible and mould, or burns off
	Crop   Cause = "crop"             // sprue, pipe and bad ends cut off the bar
	Work   Cause = "work"             // all losses but the crop, in one figure
	Scale  Cause = "scale and pickle" // oxidised in the heats and dissolved
	Filing Cause = "filing"
	Polish Cause = "polishing"
)

// Loss is the share of the metal reaching a cause that is lost to it, 0 to MaxLoss.
type Loss struct {
	Cause     Cause
	Share     float64
	Low, High float64 // the spread; equal to Share where the smith gave it
	Basis     string  // "common practice", "judgement" or "as given"
}

// MaxLoss is the largest share that a cause may take.
const MaxLoss = 0.9

const asGiven = "as given"

// UsualLosses are taken where the smith says nothing. The polishing spread is
// what trade pages allow for cleaning and polishing castings, 1 to 5 %; the
// other shares are judgements inside the one in ten that G. E. Gee, The
// Silversmith's Handbook, puts down to working, of which a quarter is never
// got back. Most filings and crops can be melted again.
func UsualLosses() []Loss {
	return []Loss{
		{Melt, 0.01, 0.005, 0.02, "judgement"},
		{Crop, 0.05, 0.02, 0.10, "judgement"},
		{Scale, 0.005, 0.001, 0.01, "judgement"},
		{Filing, 0.02, 0.01, 0.05, "judgement"},
		{Polish, 0.01, 0.01, 0.05, "common practice"},
	}
}

// NewLoss is a loss that the smith gives.
func NewLoss(c Cause, share float64) Loss { return Loss{c, share, share, share, asGiven} }

// WithLoss replaces the loss of the same cause; Work takes the place of all but
// the crop.
func WithLoss(losses []Loss, l Loss) []Loss {
	var out []Loss
	done := false
	for _, old := range losses {
		switch {
		case old.Cause == l.Cause:
			out, done = append(out, l), true
		case l.Cause != Work || old.Cause == Crop:
			out = append(out, old)
		}
	}
	if !done {
		out = append(out, l)
	}
	return out
}

func checkLosses(losses []Loss) error {
	for i, l := range losses {
		for _, share := range []float64{l.Share, l.Low, l.High} {
			if !(share >= 0 && share <= MaxLoss) {
				return fmt.Errorf("a loss of %v %% to %s is not from 0 to %v %%", 100*share, l.Cause, 100*MaxLoss)
			}
		}
		if slices.ContainsFunc(losses[:i], func(o Loss) bool { return o.Cause == l.Cause }) {
			return fmt.Errorf("the loss to %s stands there twice", l.Cause)
		}
	}
	return nil
}

// keep is the share of the metal that is left after all the losses.
func keep(losses []Loss, of func(Loss) float64) float64 {
	k := 1.0
	for _, l := range losses {
		k *= 1 - of(l)
	}
	return k
}

func usual(l Loss) float64 { return l.Share }
func least(l Loss) float64 { return l.Low }
func most(l Loss) float64  { return l.High }

var percent = pattern(`^\s*([0-9]*[.,]?[0-9]+)\s*%\s*$`)

// ParseShare reads a loss in per cent, such as 2.5% or 2,5 %. A figure with no
// sign is refused, since 0.5 may be half of it or half a per cent.
func ParseShare(text string) (float64, error) {
	m := percent().FindStringSubmatch(text)
	if m == nil {
		return 0, fmt.Errorf("%.40q: expected a share in per cent with its sign, such as 2.5%%", text)
	}
	v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
	if err != nil || v > 100*MaxLoss {
		return 0, fmt.Errorf("%.40q: expected a loss from 0%% to %v%%", text, 100*MaxLoss)
	}
	return v / 100, nil
}
