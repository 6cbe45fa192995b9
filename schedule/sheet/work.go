package sheet

import (
	"fmt"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// work keeps the start, a pass, a reading, or metal taken off.
func (b *builder) work(e schedule.Entry, before *schedule.State) {
	w := Work{Made: b.made(e), What: string(e.Kind())}
	var reading schedule.Reading
	switch body := e.Body.(type) {
	case schedule.Started:
		reading = body.Reading
		b.sheet.Cast = b.sheet.Cast || body.Cast
	case schedule.Pass:
		w.What, w.Detail, w.Courses, reading = plain(string(body.Process)), shaped(body), body.Count, body.Reading
		w.Tool = plain(body.Tool)
	case schedule.Measured:
		reading = body.Reading
	case schedule.Filed:
		reading = body.Reading
	case schedule.Dressed:
	default:
		return
	}
	w.Zones = []Worked{}
	for _, name := range b.piece.State.About(e) {
		w.Zones = append(w.Zones, b.worked(name, reading.Taken(), w.Courses > 0, before))
	}
	b.sheet.Work = append(b.sheet.Work, w)
}

// shaped is what a reading does not show of a bend or a twist.
func shaped(p schedule.Pass) string {
	switch p.Process {
	case coldwork.Bending:
		return fmt.Sprintf("to an inside radius of %v", p.Radius)
	case coldwork.Twisting:
		return fmt.Sprintf("%g turns over %v", p.Turns, p.Over)
	}
	return ""
}

// worked is a zone after a step.
func (b *builder) worked(name string, read, pass bool, before *schedule.State) Worked {
	s := &b.piece.State
	z, _ := s.Zone(name)
	out := Worked{Zone: plain(name)}
	if read && z.Tally.Section().Known() {
		out.Size = z.Tally.Section().String()
	}
	if !z.Tally.Section().Known() {
		return out
	}
	since := s.Worked(z, nil).Strain
	out.Since = rounded(float64(since), 3)
	if was, ok := before.Zone(name); ok && pass {
		out.Strain = rounded(float64(since-before.Worked(was, nil).Strain), 3)
	}
	if limit := b.limit(z); limit.Known() {
		out.Spent = rounded(100*float64(since/limit.Strain), 1)
	}
	return out
}

// limitKey is what the limit of a zone follows from within one piece: intervals that
// end in an anneal or a crack teach it.
type limitKey struct {
	condition alloys.Condition
	intervals int
}

// limit is that of a zone as the advice has it; one advice for each key tells it,
// since each makes a forecast that takes longer than all else here. A piece that
// cannot be followed has none.
func (b *builder) limit(z schedule.Zone) coldwork.Limit {
	s := &b.piece.State
	if !s.Started || len(s.Silenced) > 0 {
		return coldwork.Limit{}
	}
	key := limitKey{z.Condition, len(s.Intervals)}
	if _, known := b.limits[key]; !known {
		for _, a := range s.Advise(s.Last, nil).Zones {
			if a.Zone == z.Name {
				b.limits[key] = a.Limit
			}
		}
	}
	return b.limits[key]
}
