package schedule

import (
	"fmt"
	"math"
	"slices"

	"dullred/schedule/coldwork"
)

// tellForecast says how the courses left come from the mean of a course, and why the
// range is not the plain division.
func (e *explainer) tellForecast() {
	a := e.advice
	if !a.Forecast {
		return
	}
	if !e.hasLeft() {
		e.say("left", "the limit is reached: no course is left")
		return
	}
	d := e.digits
	per := fixed(float64(a.Hand.PerCourse()), d+1)
	e.say("course", "%s", e.mean(per))
	done, limit := float64(a.Done.Strain), float64(a.Limit.Strain)
	exact, decimals := e.plainCourses()
	e.say("stiff", "hammered metal takes less of the same blow, so that both are counted in what they would be on soft metal, strain + strain²/4 (a judgement): total %s, limit %s",
		effortSum(done, d), effortSum(limit, d))
	e.say("left", "(limit - total) / mean = (%s - %s) / %s = %s: %s by plain division", fixed(effortOf(limit, d), d+1), fixed(effortOf(done, d), d+1), per,
		fixed(exact, decimals), count(int(math.Floor(min(exact, 1e6))), "whole course"))
	e.spread(int(math.Floor(min(exact, 1e6))))
	e.say("chance", "the next course crosses the limit with a chance of %s %%; anneal soon is said from %.0f %% (this comes from the scatter, and is no sum for a pocket calculator)",
		e.chance(), 100*soonChance)
}

// process is that of the courses to come.
func (e *explainer) process() coldwork.Process {
	if e.zone.Process == "" {
		return coldwork.Lengthen
	}
	return e.zone.Process
}

// mean says where the mean of a course comes from.
func (e *explainer) mean(per string) string {
	h, p := e.advice.Hand, e.process()
	prior := fixed(float64(coldwork.Prior(p).PerCourse()), e.digits+1)
	if h.Seen() == 0 {
		return fmt.Sprintf("%s is assumed of a course (%s): none of this hand is measured yet (a judgement)", per, p)
	}
	n, effort := e.measured()
	return fmt.Sprintf("a course of this hand (%s) puts %s into soft metal in the mean: %s measured, %s / %d = %s each reckoned so, "+
		"weighed with the %s that is assumed before any is measured (a judgement); it is weighed in logarithms, where a light course tells as much as a heavy one",
		p, per, count(n, "course"), fixed(effort, e.digits+2), n, fixed(effort/float64(n), e.digits+1), prior)
}

// measured are the courses that the hand was learned from, and their strain on soft
// metal.
func (e *explainer) measured() (n int, effort float64) {
	for _, c := range slices.Concat(e.others.courses(), e.state.Courses) {
		mine := c.Hand == string(e.zone.Hand) && c.Alloy == e.state.AlloyID && c.Process == e.process()
		if mine && c.Count > 0 && c.Strain > 0 {
			n += c.Count
			effort += float64(c.Effort())
		}
	}
	return n, effort
}

// spread says why the three counts are what they are.
func (e *explainer) spread(plain int) {
	c, d := e.advice.Courses, e.digits
	low, high := e.advice.Hand.Range()
	e.say("scatter", "8 courses in 10 of this hand lie between %s and %s, and the total has its error",
		fixed(float64(low), d), fixed(float64(high), d))
	e.say("range", "likely %d (an even chance; %s), at least %d with 9 chances in 10 (%s), more than %d only 1 time in 10 (%s)",
		c.Likely, likely(c.Likely, plain), c.Low, lowEnd(c.Low, plain), c.High, highEnd(c.High, plain))
}

// capped is why a count is no larger than it is.
func capped(n int) bool { return n >= 99 }

func likely(n, plain int) string {
	switch {
	case n == plain:
		return "as the plain division"
	case capped(n):
		return "it counts no further than 99"
	case n > plain:
		return "more than the plain division: of many courses most are a little lighter than the mean, which a few heavy ones raise"
	}
	return "fewer than the plain division: the total may be larger than it is read, and then the courses were heavier too"
}

func lowEnd(n, plain int) string {
	switch {
	case n == 0 && plain == 0:
		return "there is no fewer"
	case n < plain:
		return "fewer, for heavy courses and a total that is larger than it is read"
	case n == plain:
		return "as the plain division: the scatter does not reach the next whole course down"
	}
	return "more than the plain division, which lies just under the next whole course"
}

func highEnd(n, plain int) string {
	switch {
	case capped(n):
		return "it counts no further than 99"
	case n > plain:
		return "more, for light courses and a total that is smaller than it is read"
	case n == plain:
		return "as the plain division: the scatter does not reach the next whole course"
	}
	return "fewer than the plain division, for a total that may be larger than it is read"
}

// chance prints the chance that the next course crosses, in per cent, with the
// decimals that show on which side of the threshold it lies.
func (e *explainer) chance() string {
	c := e.advice.Courses.NextCrosses
	if c < 0.005 {
		return "under 1"
	}
	for d := 0; d < mostDigits; d++ {
		if (printed(100*c, d) >= 100*soonChance) == (c >= soonChance) {
			return fixed(100*c, d)
		}
	}
	return fixed(100*c, mostDigits)
}

// because is how the verdict follows.
func (e *explainer) because() string {
	a, d := e.advice, e.digits
	switch a.Verdict {
	case VerdictHeating, VerdictSoak, VerdictWait:
		return "the zone is hot, and that comes before the sum, which stands until the heat is proved"
	case VerdictPickle:
		return "the zone is in the pickle, and that comes before the sum"
	case VerdictFinished:
		return "the piece is finished, and the sum stands as it was left"
	case VerdictFileCrack:
		return "a crack is open: every blow drives it on, whatever the sum says"
	case VerdictProve:
		return "it was heated and cooled, but not yet proved soft: the sum stands until it is"
	case VerdictNoAnneal:
		return "this metal softens by itself, so that no strain is set against a limit"
	case VerdictUnknown:
		return e.noVerdict()
	case VerdictAnnealNow:
		return fmt.Sprintf("the total %s has reached the limit %s", fixed(float64(a.Done.Strain), d), fixed(float64(a.Limit.Strain), d))
	case VerdictAnnealSoon:
		return fmt.Sprintf("the limit is not reached, but the chance that the next course crosses it is %s %%, at least %.0f %%", e.chance(), 100*soonChance)
	}
	if a.Courses.NextCrosses >= soonChance {
		return "there is no work in it, and an anneal gains nothing; but one course may cross the limit, so that it is measured after each"
	}
	return fmt.Sprintf("the limit is not reached, and the chance that the next course crosses it is %s %%, less than %.0f %%", e.chance(), 100*soonChance)
}

func (e *explainer) noVerdict() string {
	if !e.zone.Tally.Section().Known() {
		return "the section is not known, so that no strain can be reckoned"
	}
	return "without a limit nothing can be said; give your own when the piece is started, such as 30% area"
}
