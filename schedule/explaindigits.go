package schedule

import (
	"cmp"
	"math"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// The decimals of a printed strain: three as everywhere, more where the figures of
// the advice would not come out again. A calculator shows ten digits at most.
const (
	fewestDigits = 3
	evenDigits   = 6 // as far as it looks for strains that add up to the last digit
	mostDigits   = 9
)

// enough is the fewest decimals with which the sum, done again with the printed
// figures, gives the percentages of the advice.
func (e *explainer) enough() int {
	for d := fewestDigits; d < mostDigits; d++ {
		if e.redoes(d) {
			return d
		}
	}
	return mostDigits
}

// addsUp reports whether the printed strains add up to the printed total.
func (e *explainer) addsUp(d int) bool {
	return fixed(e.added(d), d) == fixed(float64(e.advice.Done.Strain), d)
}

// added is the sum of the strains as they are printed.
func (e *explainer) added(d int) (sum float64) {
	for _, t := range e.terms {
		sum += printed(t.value, d)
	}
	return sum
}

// redoes reports whether d decimals are enough: by the printed total, by adding the
// printed strains, and by doing every sum again from its printed figures.
func (e *explainer) redoes(d int) bool {
	again := 0.0
	for _, t := range e.terms {
		_, redone := t.write(d)
		again += redone
	}
	for _, sum := range []float64{printed(float64(e.advice.Done.Strain), d), e.added(d), again} {
		if !e.lands(sum, d) {
			return false
		}
	}
	return true
}

// lands reports whether a total gives the same figures as the advice.
func (e *explainer) lands(sum float64, d int) bool {
	a := e.advice
	worked := 100 * float64(a.Worked())
	if !rounds(100*float64(unit.Strain(sum).Worked()), worked, untied(worked, 1)) {
		return false
	}
	if !a.Limit.Known() {
		return true
	}
	limit := printed(float64(a.Limit.Strain), d)
	if !rounds(100*sum/limit, 100*a.Spent, untied(100*a.Spent, 0)) || cmp.Compare(sum, limit) != cmp.Compare(a.Done.Strain, a.Limit.Strain) {
		return false
	}
	if !e.hasLeft() {
		return true
	}
	exact, decimals := e.plainCourses()
	left := effortOf(limit, d) - effortOf(sum, d)
	return rounds(left/printed(float64(a.Hand.PerCourse()), d+1), exact, decimals)
}

// rounds reports whether a sum done again rounds to the same figure as the exact
// one, and is no tie that one calculator rounds up and another down.
func rounds(again, exact float64, decimals int) bool {
	const tie = 1e-9
	want := fixed(exact, decimals)
	return fixed(again*(1-tie), decimals) == want && fixed(again*(1+tie), decimals) == want
}

// untied is with how many decimals a percentage is printed: the fewest, or more where
// it lies so near the middle of two that a calculator may round it to either, as
// strip rolled from 1.6 to 0.5 mm does at 68.75 %.
func untied(percent float64, fewest int) int {
	for d := fewest; d < fewest+3; d++ {
		if steps := math.Abs(percent) * math.Pow10(d); math.Abs(steps-math.Floor(steps)-0.5) > 1e-5 {
			return d
		}
	}
	return fewest + 3
}

// hasLeft reports whether there is something left of the limit to be divided.
func (e *explainer) hasLeft() bool {
	return e.advice.Forecast && e.advice.Done.Strain < e.advice.Limit.Strain && e.advice.Hand.PerCourse() > 0
}

// plainCourses is what is left of the limit over the mean of a course, and with how
// many decimals its whole courses can be read off it.
func (e *explainer) plainCourses() (exact float64, decimals int) {
	a := e.advice
	exact = float64((coldwork.Effort(a.Limit.Strain) - coldwork.Effort(a.Done.Strain)) / a.Hand.PerCourse())
	for decimals = 1; decimals < mostDigits; decimals++ {
		if math.Floor(printed(exact, decimals)) == math.Floor(exact) {
			break
		}
	}
	return exact, decimals
}
