package coldwork

import (
	"maps"
	"slices"

	"dullred/alloys/unit"
)

// Tally is the cold work of one zone since it was last soft. The zero Tally
// knows no section and no work.
//
// Courses that are read are reckoned from the readings; courses that are not
// wait in Pending and are estimated until a reading corrects them.
type Tally struct {
	chains  [][]Section // readings that count, broken where metal was taken off
	last    Section     // the latest reading; within the calliper's error of the chain's end, or its end
	apart   Estimate    // bends, twists, and courses that no reading shows whole
	pending []Process   // courses since the last reading
	covered []Process   // courses between the chain's end and the last reading
	before  []Process   // courses since the last reading that an anneal has undone
	worked  unit.Strain // that was in the metal before those
	linked  unit.Strain // along the chains
}

// Soft starts the tally again at the present section, with no work in it.
func (t Tally) Soft() Tally {
	soft := Tally{}.Reset(t.last)
	soft.before, soft.worked = slices.Concat(t.before, t.pending), t.worked
	if len(t.before) == 0 {
		soft.worked = t.Shown()
	}
	return soft
}

// Shown is the work that the readings which count show, and what stands apart.
func (t Tally) Shown() unit.Strain { return t.linked + t.apart.Strain }

// Reset sets the section without strain, as filing, scraping and trimming do.
// Work already counted stays, and courses that were not read stay estimates:
// no later reading can show them.
func (t Tally) Reset(s Section) Tally {
	t.apart = t.apart.Plus(unread(t.pending, t.Shown(), Prior))
	if t.last.Known() && t.last != t.end() {
		t = t.link(t.last)
	}
	t.pending, t.covered, t.before = nil, nil, nil
	t.chains = append(slices.Clone(t.chains), []Section{s})
	t.last = s
	return t
}

// Section is the latest reading.
func (t Tally) Section() Section { return t.last }

// SoftAt is the section at which the tally was started, or last made soft.
func (t Tally) SoftAt() Section {
	if len(t.chains) == 0 {
		return Section{}
	}
	return t.chains[0][0]
}

// Pending are the courses since the last reading, oldest first.
func (t Tally) Pending() []Process { return t.pending }

// Wait adds n courses that were not read.
func (t Tally) Wait(p Process, n int) Tally {
	t.pending = slices.Concat(t.pending, slices.Repeat([]Process{p}, n))
	return t
}

// Shape adds strain that the section does not show, such as that of a bend or a twist.
func (t Tally) Shape(e Estimate) Tally {
	t.apart = t.apart.Plus(e)
	return t
}

// Read takes a reading made with a calliper of the given error (mm).
//
// A change the calliper cannot see is kept as a net change from the last
// reading that counts. One it can see joins the chain and, when the courses
// behind it were all of one process, comes back as an observation of the hand
// (Count 0: none). Courses of different directions can undo each other's
// change of section but not their strain: then the larger of the reading and
// the expected sum counts.
func (t Tally) Read(s Section, calliper unit.Millimetre) (Tally, Course) {
	if !t.last.Known() || !t.last.Comparable(s) {
		return t.Reset(s), Course{}
	}
	if len(t.before) > 0 {
		return t.readAcross(s, calliper)
	}
	from := t.end()
	t.covered = slices.Concat(t.covered, t.pending)
	t.pending, t.last = nil, s
	single := uniform(t.covered)
	if single && !from.Seen(s, calliper) {
		return t, Course{}
	}
	strain := Between(from, s)
	seen := observed(t.covered, Course{Strain: strain, From: t.Shown(), Section: from})
	if whole := unread(t.covered, t.Shown(), Prior); !single && whole.Strain > strain {
		t.apart = t.apart.Plus(Estimate{whole.Strain - strain, whole.Sigma})
	}
	t.covered = nil
	return t.link(s), seen
}

// readAcross takes a reading whose change is partly older than the anneal: the
// courses on both sides of it share the strain evenly.
func (t Tally) readAcross(s Section, calliper unit.Millimetre) (Tally, Course) {
	from, worked := t.end(), t.worked
	change := Chain([]Section{from, s}, calliper)
	all := slices.Concat(t.before, t.pending)
	share := unit.Strain(len(t.pending)) / unit.Strain(len(all))
	t.pending = nil
	t = t.Reset(s).Shape(Estimate{change.Strain * share, change.Sigma * share})
	return t, observed(all, Course{Strain: change.Strain, From: worked, Section: from})
}

// observed is what courses of one process that did something say of the hand.
// Courses of several processes say nothing of any.
func observed(courses []Process, did Course) Course {
	if len(courses) == 0 || !uniform(courses) {
		return Course{}
	}
	did.Process, did.Count = courses[0], len(courses)
	return did
}

func uniform(courses []Process) bool {
	return len(slices.Compact(slices.Clone(courses))) <= 1
}

func (t Tally) end() Section {
	chain := t.chains[len(t.chains)-1]
	return chain[len(chain)-1]
}

// link adds a reading to the last chain.
func (t Tally) link(s Section) Tally {
	n := len(t.chains) - 1
	t.linked += Between(t.end(), s)
	t.chains = slices.Clone(t.chains)
	t.chains[n] = append(slices.Clone(t.chains[n]), s)
	return t
}

// Measured is the work the readings show, with the error that a calliper wrong
// by the given mm leaves in it.
func (t Tally) Measured(calliper unit.Millimetre) Estimate {
	sum := t.apart
	for i, chain := range t.chains {
		if i == len(t.chains)-1 && t.last != chain[len(chain)-1] {
			chain = append(slices.Clone(chain), t.last)
		}
		sum = sum.Plus(Chain(chain, calliper))
	}
	return sum
}

// Worked is the work since the metal was last soft: what the readings show, and
// for courses that were not read what hand (by process) puts in with each.
func (t Tally) Worked(calliper unit.Millimetre, hand func(Process) Hand) Estimate {
	known := t.Measured(calliper)
	return known.Plus(unread(t.pending, known.Strain, hand))
}

// Unread parts the courses of one process that were not read from the rest of
// the tally, and counts them.
func (t Tally) Unread(p Process) (rest Tally, n int) {
	rest = t
	rest.pending = slices.DeleteFunc(slices.Clone(t.pending), func(q Process) bool { return q == p })
	return rest, len(t.pending) - len(rest.pending)
}

// unread is what courses that were not read put into metal that was worked by from,
// by the hand at each process.
func unread(courses []Process, from unit.Strain, hand func(Process) Hand) Estimate {
	if len(courses) == 0 {
		return Estimate{}
	}
	counts := map[Process]int{}
	for _, p := range courses {
		counts[p]++
	}
	var sum Estimate // as soft metal would have taken it
	for _, p := range slices.Sorted(maps.Keys(counts)) {
		h, n := hand(p), counts[p]
		per := h.PerCourse()
		sum = sum.Plus(Estimate{per * unit.Strain(n), per * unit.Strain(h.spreadOf(n))})
	}
	to := Given(Effort(from) + sum.Strain)
	return Estimate{to - from, sum.Sigma / (1 + stiffening*to)}
}
