package picture

import (
	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// zone takes what an entry did to one zone.
func (b *builder) zone(name string, e schedule.Entry, before *schedule.State) {
	was, _ := before.Zone(name)
	is, _ := b.piece.State.Zone(name)
	z := b.told(name)
	z.size(e, was.Tally.Section(), is.Tally.Section())
	switch body := e.Body.(type) {
	case schedule.Started:
		if !before.Started {
			b.keep(z, is, Step{Fresh: true})
		}
	case schedule.Pass:
		z.Courses += body.Count
		b.keep(z, is, Step{Read: body.Reading.Taken()})
	case schedule.Measured:
		b.keep(z, is, Step{Read: true})
	case schedule.Soft:
		if is.Since == e.ID {
			z.end(Annealed)
			z.begin()
			b.keep(z, is, Step{Fresh: true})
		}
	case schedule.CrackSeen:
		if was.Crack != schedule.CrackOpen {
			z.end(Cracked) // work after it goes on in the same count
		}
	}
}

// keep adds where a zone stands. Of a zone that was never read nothing is known.
func (b *builder) keep(z *Zone, is schedule.Zone, s Step) {
	known := is.Tally.Section().Known()
	s.Courses, s.Limit, s.Cast = z.Courses, b.limit(is), is.Condition == alloys.Cast
	s.Done = b.piece.State.Worked(is, nil)
	s.Done.Strain, s.Done.Sigma, s.Limit = finite(s.Done.Strain), finite(s.Done.Sigma), finite(s.Limit) // sizes that no accepted entry has
	last := &z.Stretches[len(z.Stretches)-1]
	last.Form, last.Done, last.Limit, last.Cast = coldwork.FormOf(is.Tally.Section()), s.Done, s.Limit, s.Cast
	last.Known = last.Known || known
	if known {
		z.Steps = append(z.Steps, s)
	}
}

func (z *Zone) begin() { z.Stretches = append(z.Stretches, Stretch{}) }

func (z *Zone) end(how End) { z.Stretches[len(z.Stretches)-1].End = how }

// size follows the section of a zone, and how its length follows from it. Metal taken
// off leaves the length as it is.
func (z *Zone) size(e schedule.Entry, was, is coldwork.Section) {
	if !is.Known() {
		return
	}
	z.End = is
	if !z.Start.Known() {
		z.Start, z.Longer = is, 1
		if _, ok := is.Area(); !ok {
			z.Longer = 0
		}
		return
	}
	if !was.Known() {
		return // divided by a plan, or never read before
	}
	if e.Kind() == schedule.KindFiled {
		z.Filed = true
		return
	}
	from, known := was.Area()
	to, ok := is.Area()
	if !known || !ok || !(to > 0) || !was.Comparable(is) {
		z.Longer = 0
		return
	}
	z.Longer *= float64(from / to)
}

// Last is the newest step of a zone; false for one of which nothing is known.
func (z Zone) Last() (Step, bool) {
	if len(z.Steps) == 0 {
		return Step{}, false
	}
	return z.Steps[len(z.Steps)-1], true
}
