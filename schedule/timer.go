package schedule

import (
	"slices"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// Step is something that runs: a step of a heat, the pickle, the torch.
type Step string

// The steps that run, in the order of a heat.
const (
	StepHeating   Step = "heating"
	StepSoak      Step = "soak"
	StepWait      Step = "wait"    // out of the flame, until it may be quenched
	StepCooling   Step = "cooling" // in the air, until it is found cool
	StepPickle    Step = "pickle"
	StepTorch     Step = "torch lit"
	StepFireWatch Step = "fire watch"
)

// Timer is a step under way. It is derived from entries and a moment: nothing
// counts in memory, so a restart or a second screen shows the same figure.
type Timer struct {
	Step    Step
	Zones   []string // of the piece that it is about
	Since   time.Time
	Elapsed time.Duration
	Target  time.Duration // when it is done; 0 when no figure says
	Low     time.Duration // the range of a target that is reckoned; both 0 without one
	High    time.Duration
	Learned int           // timed heats that it goes by
	Most    time.Duration // when it has gone on too long; 0 when no figure says
	Touch   time.Duration // about when it is cool enough to touch; it is never taken for cool by that
	Basis   string        // where target and most come from

	bench ID // whose clock it runs by
}

// Left is the time to go; 0 when it is over or has no target.
func (t Timer) Left() time.Duration { return max(0, t.Target-t.Elapsed) }

// Over is the time since the target; 0 before it and without one.
func (t Timer) Over() time.Duration {
	if t.Target == 0 {
		return 0
	}
	return max(0, t.Elapsed-t.Target)
}

// Timers are the steps under way in a piece, zones that share one together, in
// the order of the zones.
func (s *State) Timers(now time.Time) []Timer { return s.Elapse(s.Running(), now) }

// Running are the steps under way without the time that passed. They change with
// the entries of the piece and not with the clock, so that a screen reckons them
// once for each entry.
func (s *State) Running() (running []Timer) {
	for _, z := range s.Zones {
		t, runs := s.timer(z)
		if !runs {
			continue
		}
		same := func(u Timer) bool { return u.Step == t.Step && u.Since.Equal(t.Since) && u.Target == t.Target }
		if i := slices.IndexFunc(running, same); i >= 0 {
			running[i].Zones = append(running[i].Zones, z.Name)
			continue
		}
		running = append(running, t)
	}
	return running
}

// Elapse are steps of the piece with the time that passed.
func (s *State) Elapse(running []Timer, now time.Time) []Timer {
	timers := slices.Clone(running)
	for i, t := range timers {
		timers[i].Elapsed = s.elapsed(t.Since, t.bench, now)
	}
	return timers
}

func (s *State) timer(z Zone) (Timer, bool) {
	t := Timer{Zones: []string{z.Name}, Since: z.Heat.At, bench: z.Heat.Bench}
	switch {
	case z.inPickle():
		t.Step, t.Since, t.bench = StepPickle, z.Pickle.In, z.Pickle.Bench
		t.Target, t.Basis = pickleTime, pickleBasis
	case z.Heat.Phase == InFlame:
		t.Step = StepHeating
		s.flame(z, &t)
	case z.Heat.Phase == AtHeat:
		t.Step, t.Most = StepSoak, s.soakEnds(z)
		t.Target, t.Basis = s.soakOf(z)
	case z.Heat.Phase == OutOfFlame && s.Alloy.Cooling().Quenched():
		t.Step, t.Touch = StepWait, s.touch(z)
		t.Target, t.Most, t.Basis = s.waitOf(z)
	case z.Heat.Phase == OutOfFlame:
		t.Step, t.Touch, t.Basis = StepCooling, s.touch(z), coolingBasis
	default:
		return Timer{}, false
	}
	return t, true
}

// The plain rules of the trade for the steps of a heat. None is a law of the
// metal: they stand in until the piece itself is reckoned with.
const (
	// heatingTime is the upper end of 1 to 3 minutes for a strip of 20 to 80 g
	// under a bushy flame: from memory, a guess that nobody printed.
	heatingTime  = 3 * time.Minute
	heatingBasis = "about 1 to 3 min for a small strip: a guess from memory, nothing is printed"

	// soakMost: over five minutes risks coarse grain (N. L. Hamilton's answer on
	// annealing, which reports Grimwade, Introduction to Precious Metals).
	soakMost  = 5 * time.Minute
	soakBasis = "common practice: 30 s for thin work to 3 min; over 5 min coarsens the grain"

	waitBasis    = "common practice: a count of 5 for thin work, 10 s, 30 s for an ingot; then the drop of water"
	coolingBasis = "it is cool when you have found it cool, never by the clock"

	// pickleTime is the upper end of 5 to 10 minutes in warm bisulphate: from memory.
	pickleTime  = 10 * time.Minute
	pickleBasis = "5 to 10 min in warm pickle: from memory; done when it is clean"
)

// soakFor is how long metal of a thickness is held at heat with a torch: 30 s up
// to 3 mm and 10 s for each millimetre more, at most 3 min. The ends are common
// practice (30 s on a jeweller's page on annealing, 1 to 3 min at 649 °C in
// Hamilton's answer); the slope between them is a judgement.
func soakFor(depth unit.Millimetre) time.Duration {
	extra := time.Duration(max(0, float64(depth)-3) * float64(10*time.Second))
	return min(30*time.Second+extra.Round(time.Second), 3*time.Minute)
}

// waitFor is how long metal is left before it is quenched: a count of 5 up to
// 2 mm, 10 s up to 6 mm, 30 s over that (Ganoksin forum threads 32245 and 43520,
// a page on pickling: common practice; the thicknesses are a judgement). Metal
// that is quenched while red does not wait; the least that can be shown is a second.
func waitFor(c alloys.Cooling, depth unit.Millimetre) time.Duration {
	switch {
	case c == alloys.CoolWhileRed:
		return time.Second
	case depth > 6:
		return 30 * time.Second
	case depth > 2 || depth == 0:
		return 10 * time.Second
	}
	return 5 * time.Second
}
