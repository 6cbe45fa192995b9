package picture

import (
	"math"
	"strconv"
)

// ticks are the figures on an axis: those it was given, else about as many as asked.
func (a Axis) ticks(about int) []Tick {
	switch {
	case a.Ticks != nil:
		return a.Ticks
	case a.Log:
		return logTicks(a)
	}
	return evenTicks(a, about)
}

// evenTicks are at 1, 2 or 5 times a power of ten.
func evenTicks(a Axis, about int) (all []Tick) {
	step := stepOf(a.Max-a.Min, about)
	if step == 0 {
		return nil
	}
	for n := math.Ceil(a.Min/step - 1e-9); n*step <= a.Max+1e-9*step; n++ {
		all = append(all, Tick{n * step, figure(n*step, step)})
	}
	return all
}

// stepOf cuts a range into no more steps than asked; 0 for a range that has none.
func stepOf(span float64, about int) float64 {
	if !(span > 0) || math.IsInf(span, 0) || about < 1 {
		return 0
	}
	power := math.Pow(10, math.Floor(math.Log10(span/float64(about))))
	for _, m := range []float64{1, 2, 5, 10} {
		if step := m * power; span/step <= float64(about)+1e-9 {
			return step
		}
	}
	return 10 * power
}

// figure is a number as fine as the step between ticks.
func figure(f, step float64) string {
	places := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return strconv.FormatFloat(f+0, 'f', min(places, 6), 64)
}

// logTicks are at 1, 2 and 5 in each power of ten.
func logTicks(a Axis) (all []Tick) {
	if !(a.Min > 0) || !(a.Max > a.Min) {
		return nil
	}
	for power := math.Pow(10, math.Floor(math.Log10(a.Min))); power <= a.Max; power *= 10 {
		for _, m := range []float64{1, 2, 5} {
			if at := m * power; at >= a.Min*(1-1e-9) && at <= a.Max*(1+1e-9) {
				all = append(all, Tick{at, strconv.FormatFloat(at, 'g', 6, 64)})
			}
		}
	}
	return all
}

// share is where a figure lies along an axis, 0 to 1 between its ends; false for
// what has no place on it.
func (a Axis) share(f float64) (float64, bool) {
	low, high := a.Min, a.Max
	if a.Log {
		low, high, f = math.Log(low), math.Log(high), math.Log(f)
	}
	s := (f - low) / (high - low)
	if math.IsNaN(s) || math.IsInf(s, 0) {
		return 0, false
	}
	return s, true
}

// holds reports whether a figure lies between the ends of an axis.
func (a Axis) holds(f float64) bool {
	s, ok := a.share(f)
	return ok && s >= -1e-9 && s <= 1+1e-9
}

// upTo is the end of an axis from 0 that holds all figures with some air above them;
// at least the one given first.
func upTo(least float64, all ...float64) float64 {
	top := least
	for _, f := range all {
		if f > top && !math.IsInf(f, 0) {
			top = f
		}
	}
	return top
}
