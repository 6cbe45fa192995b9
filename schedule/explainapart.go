package schedule

import (
	"fmt"
	"math"
	"slices"

	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// apart are the terms of the work that the section does not show. The entries tell
// them one by one; without entries, or with those of another piece, they are one.
func (s *State) apart(z Zone, entries []Entry) []term {
	whole := float64(z.Tally.Apart().Strain)
	if whole == 0 {
		return nil
	}
	terms := s.replay(z.Name, entries)
	if sum := total(terms); math.Abs(sum-whole) < 1e-9*max(1, whole) {
		return terms
	}
	return []term{{head: "apart", value: whole, write: func(d int) (string, float64) {
		return "bends, twists and courses that no reading shows whole: " + fixed(whole, d), printed(whole, d)
	}}}
}

func total(terms []term) (sum float64) {
	for _, t := range terms {
		sum += t.value
	}
	return sum
}

// replay folds the entries once more and notes what each adds to the part of a
// zone that the section does not show, since it was last soft.
func (s *State) replay(zone string, entries []Entry) (out []term) {
	again := State{book: s.book}
	for _, e := range effective(sorted(entries)) {
		before, _ := again.Zone(zone)
		again.apply(e)
		after, _ := again.Zone(zone)
		if before.Since != after.Since {
			out = nil
			continue
		}
		added := float64(after.Tally.Apart().Strain - before.Tally.Apart().Strain)
		if added == 0 {
			continue
		}
		p, _ := e.Body.(Pass)
		if t, ok := shapedTerm(p, before.Tally.Section()); ok {
			out = append(out, t)
			added -= t.value
		}
		if added > 1e-12 {
			from := float64(after.Tally.Apart().Strain-before.Tally.Apart().Strain) - added + float64(before.Tally.Shown())
			out = append(out, hidden{before.Tally, after.Tally, p, added, from}.term())
		}
	}
	return out
}

// shapedTerm is the term of bends or twists; false for other work.
func shapedTerm(p Pass, s coldwork.Section) (term, bool) {
	switch p.Process {
	case coldwork.Bending:
		return bendTerm(p, s), true
	case coldwork.Twisting:
		return twistTerm(p, s), true
	}
	return term{}, false
}

// times leads a sum that is done n times.
func times(n int) string {
	if n == 1 {
		return ""
	}
	return fmt.Sprintf("%d x ", n)
}

func bendTerm(p Pass, s coldwork.Section) term {
	n := float64(p.Count)
	value := float64(coldwork.Bend(s.Depth(), p.Radius)) * n
	return term{head: "bend", value: value, write: func(d int) (string, float64) {
		thick, t := figured(float64(s.Depth()), d)
		inside, r := figured(float64(p.Radius), d)
		return fmt.Sprintf("%s of %s mm to an inside radius of %s mm: %s(2/sqrt 3) x ln(1 + %s/(2 x %s + %s)) = %s",
				count(p.Count, "bend"), thick, inside, times(p.Count), thick, inside, thick, fixed(value, d)),
			n * 2 / math.Sqrt(3) * math.Log1p(t/(2*r+t))
	}}
}

func twistTerm(p Pass, s coldwork.Section) term {
	_, high := coldwork.Twist(s, p.Turns, p.Over)
	n, around := float64(p.Count), math.Abs(p.Turns)
	value := float64(high) * n
	radius := float64(high) * math.Sqrt(3) * float64(p.Over) / (2 * math.Pi * around)
	return term{head: "twist", value: value, write: func(d int) (string, float64) {
		far, r := figured(radius, d)
		over, l := figured(float64(p.Over), d)
		turns, k := figured(around, d)
		return fmt.Sprintf("%s of %s over %s mm: the skin is %s mm from the axis (%s); %s2 pi x %s x %s/(%s x sqrt 3) = %s",
				count(p.Count, "twist"), turned(p.Turns, turns), over, far, farthest(s, d), times(p.Count), turns, far, over, fixed(value, d)),
			n * 2 * math.Pi * k * r / (l * math.Sqrt(3))
	}}
}

// turned writes "1 turn" or "0.5 turns".
func turned(turns float64, figure string) string {
	if math.Abs(turns) == 1 {
		return figure + " turn"
	}
	return figure + " turns"
}

// farthest says how far the skin that counts is from the axis of a twist.
func farthest(s coldwork.Section, d int) string {
	if s.Shape == unit.Round || s.Shape == unit.Tube {
		return "half the diameter"
	}
	t, _ := figured(float64(s.Thick), d)
	w, _ := figured(float64(s.Width), d)
	return fmt.Sprintf("half the diagonal, sqrt(%s² + %s²)/2: the edges turn most, so that it errs early", t, w)
}

// hidden is the work that one entry moved into the part that no reading shows.
type hidden struct {
	before, after coldwork.Tally
	pass          Pass // zero when the entry was none
	added         float64
	from          float64 // strain before it
}

// expected are courses by what is assumed before any is measured.
func (h hidden) expected(courses []coldwork.Process) struck {
	return struck{courses, h.from, coldwork.Prior}
}

func (h hidden) term() term {
	t := term{head: "hidden", value: h.added}
	from, to := h.before.Section(), h.after.Section()
	courses := h.courses(h.before.Unshown())
	old := h.before.Annealed()
	whole := h.expected(courses).value()
	lost := h.courses(h.before.Pending())
	switch {
	case len(lost) > 0 && math.Abs(h.expected(lost).value()-h.added) < 1e-9:
		t.write = func(d int) (string, float64) {
			text, sum := h.expected(lost).write(d)
			return fmt.Sprintf("courses (%s) never read before the section was set to %v: %s, as is assumed before any is measured (a judgement)", h.expected(lost).names(), to, text), sum
		}
	case len(old) > 0:
		t.write = func(d int) (string, float64) { return h.across(len(lost), len(lost)+len(old), d) }
	default:
		t.write = func(d int) (string, float64) {
			text, sum := h.expected(courses).write(d + 1)
			shown := printed(whole-h.added, d+1)
			return fmt.Sprintf("courses in different directions (%s) undo each other's change from %v to %v: %s is assumed of them (a judgement) and counts too as far as the reading does not show it, %s - %s = %s",
				h.expected(courses).names(), from, to, text, fixed(whole, d+1), fixed(shown, d+1), fixed(h.added, d)), sum - shown
		}
	}
	return t
}

// courses are the courses that waited, and those of the entry itself.
func (h hidden) courses(waited []coldwork.Process) []coldwork.Process {
	p := h.pass.Process
	if p == "" || p.Shaped() || p.Local() {
		return waited
	}
	return slices.Concat(waited, slices.Repeat([]coldwork.Process{p}, h.pass.Count))
}

// across is a reading whose change is partly older than the anneal.
func (h hidden) across(after, all, d int) (string, float64) {
	change := h.added * float64(all) / float64(after)
	return fmt.Sprintf("from %v to %v the reading shows %s, part of it from before the anneal: %d of %d courses came after it, %d/%d x %s = %s",
			h.before.Section(), h.after.Section(), fixed(change, d+1), after, all, after, all, fixed(change, d+1), fixed(h.added, d)),
		printed(change, d+1) * float64(after) / float64(all)
}
