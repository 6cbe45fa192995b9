package sheet

import (
	"slices"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/heat"
)

// fire is a heat on the way, with the entries of its steps.
type fire struct {
	begun, reached, out  *schedule.Entry
	hot                  time.Duration // above 500 °C
	soft, springy, spent bool          // spent is a zone that nobody will prove any more
}

// heat follows the fires of the zones that an entry is about, by the phase that each
// was in before and is in now.
func (b *builder) heat(e schedule.Entry, before *schedule.State) {
	if b.under == nil {
		b.under = map[string]int{}
	}
	fresh := -1
	for _, name := range b.piece.State.About(e) {
		was, _ := before.Zone(name)
		is, _ := b.piece.State.Zone(name)
		begins := e.Kind().Kindles(was.Heat.Phase, is.Heat.Phase)
		if i, burning := b.under[name]; burning && (begins || is.Heat.Phase == schedule.Cold) {
			b.endFire(i, e)
			delete(b.under, name)
		}
		if begins {
			if fresh < 0 {
				fresh = b.kindle(e, before)
			}
			b.sheet.Heats[fresh].Zones = append(b.sheet.Heats[fresh].Zones, plain(name))
			b.under[name] = fresh
		}
	}
	hot := b.piece.State.Ledger.Hot - before.Ledger.Hot
	for _, i := range b.burning(e) {
		b.stepOf(i, e)
		b.fires[i].hot, hot = b.fires[i].hot+hot, 0 // the ledger counts all zones of one heat as one
	}
}

// kindle opens a heat; it is under flux if all of the zones it is about were.
func (b *builder) kindle(e schedule.Entry, before *schedule.State) int {
	flux := !slices.ContainsFunc(before.About(e), func(name string) bool {
		z, _ := before.Zone(name)
		return z.Surface != heat.Fluxed
	})
	b.sheet.Heats = append(b.sheet.Heats, Heat{Made: b.made(e), Zones: []string{}, Flux: flux})
	b.fires = append(b.fires, fire{})
	return len(b.fires) - 1
}

// burning are the fires that the zones of an entry are in.
func (b *builder) burning(e schedule.Entry) (fires []int) {
	for _, name := range b.piece.State.About(e) {
		if i, ok := b.under[name]; ok && !slices.Contains(fires, i) {
			fires = append(fires, i)
		}
	}
	return fires
}

// stepOf keeps a step of a heat: the first of each, and the hottest that was measured
// there.
func (b *builder) stepOf(i int, e schedule.Entry) {
	f, h := &b.fires[i], &b.sheet.Heats[i]
	switch body := e.Body.(type) {
	case schedule.Begun:
		h.Begun = b.note(&f.begun, h.Begun, e, body.Temp)
	case schedule.Reached:
		h.Reached = b.note(&f.reached, h.Reached, e, body.Temp)
	case schedule.Out:
		h.Out = b.note(&f.out, h.Out, e, body.Temp)
	case schedule.Pass:
		if f.out == nil {
			f.out = &e // hammered hot: out of the flame
		}
	case schedule.Quenched, schedule.FoundCool:
		if f.out == nil {
			f.out = &e // straight into the water
		}
		if h.Cooled == "" {
			h.Cooled = string(e.Kind())
		}
	case schedule.Trace:
		h.Hottest = rounded(float64(body.Max), 0)
	}
}

func (b *builder) note(first **schedule.Entry, step *Step, e schedule.Entry, temp unit.Celsius) *Step {
	if step == nil {
		step = &Step{At: b.local(e.At)}
	}
	if *first == nil {
		*first = &e
	}
	if t := celsius(temp); t != nil && (step.Temp == nil || *t > *step.Temp) {
		step.Temp = t
	}
	return step
}

// endFire is one zone of a fire that is over with an entry: a bend check, or work or
// another fire without one.
func (b *builder) endFire(i int, e schedule.Entry) {
	switch e.Kind() {
	case schedule.KindSoft:
		b.fires[i].soft = true
	case schedule.KindSpringy:
		b.fires[i].springy = true
	default:
		b.fires[i].spent = true
		return
	}
	b.sheet.Heats[i].By = b.hand(e.Hand)
}

// endFires settles how each heat ended and how long it took.
func (b *builder) endFires() {
	for i, f := range b.fires {
		h := &b.sheet.Heats[i]
		if f.hot > 0 {
			h.Stain = rounded(f.hot.Minutes(), 1)
		}
		h.Flame, h.AtHeat = b.lasted(f.begun, f.out), b.lasted(f.reached, f.out)
		switch {
		case f.springy:
			h.Proved = Springy
		case f.soft:
			h.Proved = Soft
		case f.spent:
			h.Proved = Never
		default:
			h.Proved = Open
		}
	}
}
