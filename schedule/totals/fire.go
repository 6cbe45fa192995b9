package totals

import (
	"slices"
	"time"

	"dullred/schedule"
)

// fires are the heats of one piece, told apart by the phase that each of its zones was
// in before an entry and is in after it.
type fires struct {
	zones []zone // nil until the piece is started
	all   []fire
}

// zone is how far a heat has come in a zone, and in which fire it is; -1 is in none.
type zone struct {
	name  string
	phase schedule.Phase
	fire  int
}

// fire is one heat. A zero time was not logged.
type fire struct {
	kindled, begun, out time.Time
	bench, hand         schedule.ID // of who began it
	soft, springy       bool
}

func (f *fires) start(names []string) {
	if len(names) == 0 {
		names = []string{schedule.Whole}
	}
	for _, name := range names {
		f.zones = append(f.zones, zone{name: name, fire: -1})
	}
}

// divide gives a piece of one zone those of its plan, each as far as the whole was.
func (f *fires) divide(names []string) {
	if len(f.zones) != 1 || len(names) < 2 {
		return
	}
	whole := f.zones[0]
	f.zones = nil
	for _, name := range names {
		f.zones = append(f.zones, zone{name: name, phase: whole.phase, fire: -1})
	}
}

// touched are the zones that names mean: none is all, and so is "whole" where no zone
// is called that.
func (f *fires) touched(names []string) (at []*zone) {
	own := slices.ContainsFunc(f.zones, func(z zone) bool { return z.name == schedule.Whole })
	all := len(names) == 0 || len(names) == 1 && names[0] == schedule.Whole && !own
	for i := range f.zones {
		if z := &f.zones[i]; all || slices.Contains(names, z.name) {
			at = append(at, z)
		}
	}
	return at
}

// step takes one entry of work, heat or proof.
func (f *fires) step(at time.Time, s stand) {
	fresh := -1
	zones := f.touched(zonesOf(s.zones))
	for _, z := range zones {
		was := z.phase
		z.phase = next(was, s.kind)
		begins := s.kind.Kindles(was, z.phase)
		if z.fire >= 0 && (begins || z.phase == schedule.Cold) {
			f.all[z.fire].prove(s.kind)
			z.fire = -1
		}
		if begins {
			if fresh < 0 {
				fresh = len(f.all)
				f.all = append(f.all, fire{kindled: at, bench: s.bench, hand: s.hand})
			}
			z.fire = fresh
		}
	}
	for _, z := range zones {
		if z.fire >= 0 {
			f.all[z.fire].take(at, s)
		}
	}
}

// next is the phase of a zone after an entry, as the fold of a piece has it.
func next(was schedule.Phase, kind schedule.Kind) schedule.Phase {
	switch kind {
	case schedule.KindBegun:
		return schedule.InFlame
	case schedule.KindReached:
		return schedule.AtHeat
	case schedule.KindOut:
		return schedule.OutOfFlame
	case schedule.KindQuenched:
		return schedule.Cooled
	case schedule.KindSoft, schedule.KindSpringy:
		return schedule.Cold
	case schedule.KindCool:
		if was.Hot() {
			return schedule.Cooled
		}
	case schedule.KindPass:
		switch was {
		case schedule.Cooled:
			return schedule.Cold
		case schedule.InFlame, schedule.AtHeat:
			return schedule.OutOfFlame
		}
	}
	return was
}

// take keeps the first beginning and the first end of the flame.
func (f *fire) take(at time.Time, s stand) {
	switch s.kind {
	case schedule.KindBegun:
		if f.begun.IsZero() {
			f.begun, f.bench = at, s.bench
		}
	case schedule.KindOut, schedule.KindPass, schedule.KindQuenched, schedule.KindCool:
		if f.out.IsZero() {
			f.out = at
		}
	}
}

func (f *fire) prove(kind schedule.Kind) {
	f.soft = f.soft || kind == schedule.KindSoft
	f.springy = f.springy || kind == schedule.KindSpringy
}

// sum counts a heat where it began.
func (f *fire) sum(s *sheet, days gas) {
	c, ok := s.counts(f.kindled, f.hand)
	if !ok {
		return
	}
	c.Heats++
	if f.soft && !f.springy {
		c.Soft++
	}
	if f.begun.IsZero() || f.out.IsZero() {
		c.Untimed++
		return
	}
	flame := s.elapsed(f.begun, f.out, f.bench)
	c.Flame += flame
	days.at(s, f.kindled, f.bench).heats += flame
}

// elapsed is the time that passed at a bench, without the jumps of its clock.
func (s *sheet) elapsed(from, to time.Time, bench schedule.ID) time.Duration {
	d := to.Sub(from)
	for _, e := range s.Steps {
		step, ok := e.Body.(schedule.ClockStep)
		if ok && !s.Dead[e.ID] && e.Bench == bench && e.At.After(from) && !e.At.After(to) {
			d -= step.Line
		}
	}
	return max(0, d)
}
