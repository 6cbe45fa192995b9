package alert

import (
	"fmt"
	"time"

	"dullred/schedule"
)

// Piece is a piece with the advice for each of its zones.
type Piece struct {
	Name   string
	State  *schedule.State
	Advice schedule.Advice

	Running []schedule.Timer // its steps, when they are reckoned already; nil to reckon them
}

func (p Piece) timers(now time.Time) []schedule.Timer {
	if p.Running == nil {
		return p.State.Timers(now)
	}
	return p.State.Elapse(p.Running, now)
}

// Limits are the lengths of time after which something has been left too long.
// None is a published figure: they are judgements that a smith may change.
type Limits struct {
	TorchLeft     time.Duration // the torch is lit and nothing is in the flame
	HotLeft       time.Duration // metal that is quenched waits for it
	AirHotLeft    time.Duration // metal that cools in the air was never found cool
	FlameOverrun  time.Duration // in the flame without reaching its heat
	SoakOverrun   time.Duration // held at heat
	PickleOverdue time.Duration
	FireWatch     time.Duration // after the last flame
}

// Usual are the limits until the smith changes them. Five minutes at heat is
// where coarse grain begins to be a risk, and sixty minutes of fire watch are
// NFPA 51B's, both as the schedule package quotes them.
func Usual() Limits {
	return Limits{TorchLeft: 10 * time.Minute, HotLeft: 10 * time.Minute, AirHotLeft: 2 * time.Hour,
		FlameOverrun: 10 * time.Minute, SoakOverrun: 5 * time.Minute, PickleOverdue: 30 * time.Minute, FireWatch: time.Hour}
}

// grace is how long a smith has to quench what may be quenched before he is called
// (a judgement: the prompt is on the page in front of him, and silver left for half
// a minute longer is only a little harder).
const grace = 20 * time.Second

// stale is how long after a fire watch has ended there is no more to be told of it.
const stale = 12 * time.Hour

// Bench is what the bench as a whole comes to.
type Bench struct {
	ID     schedule.ID
	State  schedule.Bench
	Limits Limits
}

// Find gives all that holds at a moment, prompts included.
func Find(pieces []Piece, b Bench, now time.Time) (all []Alert) {
	flame := time.Time{} // when metal last left the flame; now while some is in it
	for _, p := range pieces {
		all = append(all, p.work()...)
		for _, t := range p.timers(now) {
			all = append(all, p.timed(t, b.Limits, now)...)
		}
		flame = later(flame, inFlame(p.State, now))
	}
	return append(all, b.find(flame, now)...)
}

// work is what the hammer calls for, by zone.
func (p Piece) work() (all []Alert) {
	for _, z := range p.Advice.Zones {
		zone, _ := p.State.Zone(z.Zone)
		a := Alert{Piece: p.State.Piece, Name: p.Name, Zones: []string{z.Zone}, Due: p.State.Last}
		switch z.Verdict {
		case schedule.VerdictAnnealSoon:
			a.Cause = AnnealSoon
		case schedule.VerdictAnnealNow:
			a.Cause = AnnealNow
		case schedule.VerdictFileCrack:
			a.Cause, a.Due = CrackOpen, zone.CrackAt
			a.Key = p.key(CrackOpen, z.Zone, zone.CrackAt)
			all = append(all, a)
			continue
		default:
			continue
		}
		a.Key = schedule.WorkCause(p.State.Piece, z.Zone, zone.Since, z.Verdict)
		all = append(all, a)
	}
	return all
}

func (p Piece) key(c Cause, zone string, since time.Time) string {
	return fmt.Sprintf("%s/%s/%s/%d", p.State.Piece, zone, c, since.UnixMicro())
}

// timed is what a step that runs calls for. Its clock may have been set, so the
// moment that something became due is reckoned back from now.
func (p Piece) timed(t schedule.Timer, l Limits, now time.Time) (all []Alert) {
	add := func(c Cause, after time.Duration) {
		if t.Elapsed < after {
			return
		}
		all = append(all, Alert{Cause: c, Key: p.key(c, t.Zones[0], t.Since), Piece: p.State.Piece, Name: p.Name,
			Zones: p.State.Named(t.Zones), Due: now.Add(after - t.Elapsed)})
	}
	switch t.Step {
	case schedule.StepHeating:
		add(Overrun, flameOverrun(t, l))
	case schedule.StepSoak:
		add(SoakOver, t.Target)
		add(Overrun, overrun(t, l))
	case schedule.StepWait:
		add(QuenchReady, t.Target)
		add(QuenchNow, quenchBy(t))
		add(HotLeft, l.HotLeft)
	case schedule.StepCooling:
		add(HotLeft, l.AirHotLeft)
	case schedule.StepPickle:
		add(PickleReady, t.Target)
		add(PickleOver, l.PickleOverdue)
	}
	return all
}

// overrun is when a soak is too long: as the smith set it, but for a metal that its
// own source holds for longer than others.
func overrun(t schedule.Timer, l Limits) time.Duration {
	if t.Most > Usual().SoakOverrun {
		return t.Most
	}
	return l.SoakOverrun
}

// flameOverrun is when a piece is in the flame for too long: as the smith set it, or
// twice as long as this torch has shown to need at most, whichever is sooner.
func flameOverrun(t schedule.Timer, l Limits) time.Duration {
	if t.Learned < leastLearned || t.High == 0 {
		return l.FlameOverrun
	}
	return min(l.FlameOverrun, max(leastOverrun, 2*t.High))
}

// From three timed heats on a torch is known; nobody is called within two minutes.
const (
	leastLearned = 3
	leastOverrun = 2 * time.Minute
)

// quenchBy is when a smith is called who has not quenched yet: after a while, or
// while there is still half of the time that the metal may take.
func quenchBy(t schedule.Timer) time.Duration {
	if t.Most > 0 {
		return max(t.Target, min(t.Target+grace, t.Most/2))
	}
	return t.Target + grace
}

// inFlame is when a piece was last in the flame: now while it is.
func inFlame(s *schedule.State, now time.Time) time.Time {
	for _, z := range s.Zones {
		if z.Heat.Phase == schedule.InFlame || z.Heat.Phase == schedule.AtHeat {
			return now
		}
	}
	return s.Flame
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// find is what the torch, the fire watch and the ears call for.
func (b Bench) find(flame, now time.Time) (all []Alert) {
	add := func(c Cause, key, since time.Time, after time.Duration) {
		over := b.State.Elapsed(since, now) - after
		if over >= 0 && (c != WatchOver || over < stale) {
			all = append(all, Alert{Cause: c, Key: fmt.Sprintf("%s/%s/%d", b.ID, c, key.UnixMicro()), Piece: b.ID, Due: now.Add(-over)})
		}
	}
	if lit := b.State.Torch; !lit.IsZero() {
		add(TorchLeft, lit, later(lit, flame), b.Limits.TorchLeft)
	} else if out := b.State.TorchOut; !out.IsZero() {
		add(WatchOver, out, out, b.Limits.FireWatch)
	}
	if allowed := b.State.Noise.Allowed(); allowed > 0 {
		add(Ears, b.State.NoiseAt, b.State.NoiseAt, allowed)
	}
	return all
}
