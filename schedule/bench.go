package schedule

import (
	"cmp"
	"time"

	"dullred/schedule/heat"
)

// OfBench reports whether entries of a kind are about a bench as a whole. The
// id of the bench stands in them in place of a piece's.
func (k Kind) OfBench() bool {
	switch k {
	case KindTorchLit, KindTorchOut, KindLight, KindClockStep, KindNoise, KindBath, KindLoosened:
		return true
	}
	return false
}

// Bench is what the entries of a bench as a whole come to.
type Bench struct {
	Torch    time.Time // since when it is lit; zero when it is not
	TorchOut time.Time // when it last went out; zero when it never did
	Light    heat.Light
	Watch    time.Duration // how long the fire watch is; 0 for the usual hour
	Noise    Noise         // of the hammering; zero when none was said
	NoiseAt  time.Time     // since when
	Fire     TorchLit      // the torch that is or was lit
	Bath     Bath          // the pickle; zero when nothing was said of it

	id    ID
	steps State // of the clock
}

// FoldBench replays the entries of a bench as a whole, in any order.
func FoldBench(id ID, entries []Entry) Bench {
	b := Bench{id: id}
	for _, e := range effective(sorted(entries)) {
		switch body := e.Body.(type) {
		case TorchLit:
			b.Torch, b.Fire = e.At, body
		case TorchOut:
			b.Torch, b.TorchOut = time.Time{}, e.At
		case Lit:
			b.Light = body.Room
		case Noise:
			b.Noise, b.NoiseAt = body, e.At
		case Bath:
			b.Bath = b.Bath.with(body)
		case ClockStep:
			b.steps.step(e, body)
		}
	}
	return b
}

// Elapsed is the time that passed at the bench, without the jumps of its clock.
func (b Bench) Elapsed(since, now time.Time) time.Duration { return b.steps.elapsed(since, b.id, now) }

// ClockSteps are the clock steps among entries. They belong into the fold of
// every piece of the bench.
func ClockSteps(entries []Entry) (steps []Entry) {
	for _, e := range entries {
		if e.Kind() == KindClockStep {
			steps = append(steps, e)
		}
	}
	return steps
}

// fireWatch is how long a bench is watched after the last flame: NFPA 51B-2019
// 5.6.1.1, read as quoted by a safety blog; the floor of 29 CFR 1910.252 is
// 30 minutes.
const fireWatch = time.Hour

// Timers are what runs at the bench itself: the torch, or the fire watch after it.
func (b Bench) Timers(now time.Time) []Timer {
	switch {
	case !b.Torch.IsZero():
		return []Timer{{Step: StepTorch, Since: b.Torch, Elapsed: b.steps.elapsed(b.Torch, b.id, now)}}
	case b.TorchOut.IsZero():
		return nil
	}
	t := Timer{Step: StepFireWatch, Since: b.TorchOut, Elapsed: b.steps.elapsed(b.TorchOut, b.id, now), Target: cmp.Or(b.Watch, fireWatch),
		Basis: "60 minutes after the last flame: NFPA 51B, as quoted; the floor in US law is 30"}
	if t.Over() > 0 {
		return nil
	}
	return []Timer{t}
}
