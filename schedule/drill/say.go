package drill

import (
	"fmt"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// Reveal is the truth.
type Reveal struct {
	Said, Truth int
	Range       coldwork.Courses // by the sums, of what the student could know
	Error       int              // Said - Truth: above 0 is late, below 0 early
	Again       bool             // the truth was known already: not scored
	Reasons     []string
}

// MostSaid is the most courses that are said with one digit: it stands for so many or
// more.
const MostSaid = 9

// Say is the student's word on how many courses are left, MostSaid for so many or more. It is scored once for each
// stretch between anneals, because the truth tells what is to come as well. When the lesson is over it is nothing.
func (l *Lesson) Say(n int) Reveal {
	if l.over {
		return Reveal{}
	}
	n = min(max(0, n), mostAhead)
	truth, sized := l.truth()
	r := Reveal{Said: n, Truth: truth, Range: l.forecast(), Error: n - truth, Again: l.bar.told}
	if n == MostSaid && truth > n {
		r.Error = 0
	}
	r.Reasons = l.reasons(r, sized)
	if !r.Again {
		l.bar.told = true
		l.score.Asked++
		l.errors += r.Error
		l.misses += max(r.Error, -r.Error)
	}
	return r
}

// forecast is that of the sums, by the published limit and the readings.
func (l *Lesson) forecast() coldwork.Courses {
	known := coldwork.Estimate{Strain: unit.Strain(l.bar.shown), Sigma: l.sigma()}
	return l.hand.LeftUnread(known, l.bar.unread, l.published())
}

// sigma is the standard error of the work that the readings show.
func (l *Lesson) sigma() unit.Strain {
	if l.bar.shown == 0 {
		return 0
	}
	return unit.Strain(2 * float64(calliper) / l.bar.read)
}

func (l *Lesson) reasons(r Reveal, sized int) []string {
	b := &l.bar
	out := []string{
		fmt.Sprintf("The metal has taken strain %.2f; this stretch splits at %.2f, and the published limit is %.2f.", b.work, b.limit, float64(l.published())),
		l.ahead(r.Truth, sized),
		fmt.Sprintf("By the sums it was %d (%d to %d): %s.", r.Range.Likely, r.Range.Low, r.Range.High, l.basis()),
	}
	switch {
	case r.Error > 0:
		out = append(out, fmt.Sprintf("Late by %d: it would have split under course %d.", r.Error, r.Truth+1))
	case r.Error < 0:
		out = append(out, fmt.Sprintf("Early by %d: that costs a heat and no metal.", -r.Error))
	default:
		out = append(out, "Right.")
	}
	if r.Again {
		out = append(out, "Not scored: the truth about this stretch was told before.")
	}
	if b.limit < float64(l.published()) {
		out = append(out, "This stretch is weaker than the published limit: no sum knows that, the signs may.")
	}
	return out
}

// ahead is what the courses to come do.
func (l *Lesson) ahead(truth, sized int) string {
	if sized > 0 {
		return fmt.Sprintf("It bears %s more, and has its size after %d of them.", courses(truth), sized)
	}
	if truth == 0 {
		return fmt.Sprintf("The next course would bring it to %.2f.", after(l.bar.work, l.soft(0)))
	}
	to := l.bar.work
	for i := range truth {
		to = after(to, l.soft(i))
	}
	return fmt.Sprintf("%s more bring it to %.2f, the one after that to %.2f.", courses(truth), to, after(to, l.soft(truth)))
}

// basis is what the sums go by.
func (l *Lesson) basis() string {
	per := float64(l.hand.PerCourse())
	at := float64(l.hand.After(unit.Strain(l.bar.work), 1)) - l.bar.work
	text := fmt.Sprintf("a course of this hand puts about %.2f into soft metal, %.2f into metal so stiff", per, at)
	if l.hand.Seen() == 0 {
		return text + ", assumed, since none was read"
	}
	return fmt.Sprintf("%s, by %s that were read", text, courses(l.hand.Seen()))
}

func courses(n int) string {
	if n == 1 {
		return "1 course"
	}
	return fmt.Sprintf("%d courses", n)
}
