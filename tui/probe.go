package tui

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/probe"
	"dullred/tui/view"
)

// lead is the thermocouple of the bench and the heat that it is in.
type lead struct {
	there bool          // something was heard of it
	last  probe.Reading // the last temperature
	fault string        // why there is none now; empty when there is

	piece schedule.ID // whose heat it reads; empty for none
	zones []string    // that are in the heat; none for all
	begun time.Time   // of that heat
	heat  *Lead       // what it says of it; nil for none
	curve schedule.ID // of the entry that keeps its curve; empty for not yet
}

// probeCaution is said once: a burnt cover fumes and reads wrong (a maker's manual
// of furnace leads), a loose bead reads low (common practice).
const probeCaution = "probe: keep its lead out of the flame; a loose bead reads too low"

// Hear takes what a thermocouple says. A reading in the window of a piece in the
// flame logs that its heat is reached; when the heat is over its curve is logged.
func (b *Bench) Hear(e probe.Event) {
	defer b.raise()
	if !b.lead.there {
		b.lead.there = true
		b.mention(errors.New(probeCaution))
	}
	switch e := e.(type) {
	case probe.Reading:
		e.At = schedule.Moment(e.At.Add(b.line.ahead))
		b.lead.last, b.lead.fault = e, ""
		b.follow()
	case probe.Fault:
		b.lead.fault = "the thermocouple is loose or broken"
		b.mention(errors.New("probe: " + b.lead.fault + "; judge by colour"))
	case probe.Silent:
		b.lead.fault = "no reading for 5 s"
		b.mention(errors.New("probe: " + b.lead.fault + "; judge by colour"))
	case probe.Lost:
		b.lead.fault = "unplugged"
		if errors.Is(e.Err, probe.ErrEnd) {
			b.lead.fault = "its readings have ended"
		}
		b.mention(fmt.Errorf("probe: cannot be read: %w; what it read is kept, judge by colour", e.Err))
	case probe.Back:
		b.mention(errors.New("probe: it reads again"))
	case probe.Noise:
		b.mention(fmt.Errorf("probe: %d lines were no temperature", e.Lines))
	}
	if b.lead.fault != "" && b.lead.curve == "" {
		b.keepCurve()
	}
}

// heated is the piece whose heat began last and is not over, and its zones in it.
func (b *Bench) heated() (p *piece, zones []schedule.Zone) {
	for _, q := range b.pieces {
		for _, z := range q.state().Zones {
			switch {
			case !z.Heat.Phase.Hot() || z.Heat.Begun.IsZero():
			case p == nil, z.Heat.Begun.After(zones[0].Heat.Begun):
				p, zones = q, []schedule.Zone{z}
			case p == q && z.Heat.Begun.Equal(zones[0].Heat.Begun):
				zones = append(zones, z)
			}
		}
	}
	return p, zones
}

// follow takes the last reading into the heat that goes on.
func (b *Bench) follow() {
	p, zones := b.heated()
	if p == nil {
		b.leaveHeat()
		return
	}
	if !b.lead.in(p, zones[0].Heat.Begun) {
		b.leaveHeat()
		b.enterHeat(p, zones)
	}
	b.lead.begun = zones[0].Heat.Begun
	news := b.lead.heat.Read(b.lead.last, p.state(), zones...)
	if news.Reached {
		b.logHeat(p, schedule.Reached{Temp: b.lead.heat.Last().Temp})
	}
	if news.Ended {
		b.keepCurve()
	}
}

// in reports whether the thermocouple is in the heat of a piece already: one that
// began when it did, or whose beginning was put right since.
func (l *lead) in(p *piece, begun time.Time) bool {
	if l.heat == nil || l.piece != p.id {
		return false
	}
	return l.begun.Equal(begun) || !l.stands(p) && !begun.After(l.heat.Last().At)
}

// stands reports whether the beginning of the heat was not taken back.
func (l *lead) stands(p *piece) bool {
	dead := schedule.Voided(p.entries)
	return slices.ContainsFunc(p.entries, func(e schedule.Entry) bool {
		return e.Kind() == schedule.KindBegun && e.At.Equal(l.begun) && !dead[e.ID]
	})
}

func (b *Bench) enterHeat(p *piece, zones []schedule.Zone) {
	var names []string
	for _, z := range zones {
		names = append(names, z.Name)
	}
	b.lead.piece, b.lead.zones, b.lead.begun = p.id, p.state().Named(names), zones[0].Heat.Begun
	b.lead.heat = NewLead(b.lead.begun)
}

// leaveHeat ends the heat that the thermocouple was in.
func (b *Bench) leaveHeat() {
	b.keepCurve()
	b.lead.piece, b.lead.heat, b.lead.curve = "", nil, ""
}

// keepCurve logs the curve of the heat that the thermocouple was in, as far as it
// was read. One that was logged before, when the lead came off, is taken back.
func (b *Bench) keepCurve() {
	p := b.find(b.lead.piece)
	if b.lead.heat == nil || p == nil || !b.lead.stands(p) {
		return // a heat that was taken back has no curve
	}
	trace, ok := b.lead.heat.Trace()
	if !ok {
		return
	}
	if id, ok := b.logHeat(p, trace); ok {
		b.lead.heat.Kept()
		b.lead.curve = id
	}
}

// logHeat logs what the last reading says, or all of them, for the zones of a piece
// that are in the heat.
func (b *Bench) logHeat(p *piece, body schedule.Body) (id schedule.ID, ok bool) {
	e := b.entry(p.id, body)
	e.At, e.Zones = b.lead.heat.Last().At, b.lead.zones
	if err := schedule.AcceptIn(b.book(), p.entries, e, b.now()); err != nil {
		b.refuse(err)
		return "", false
	}
	entries := []schedule.Entry{e}
	if b.lead.curve != "" && e.Kind() == schedule.KindTrace {
		entries = append(entries, b.entry(p.id, schedule.Void{Target: b.lead.curve}))
	}
	if !b.write(entries...) {
		return "", false
	}
	b.remember(e.Describe()+" (probe)", entries...)
	return e.ID, true
}

// sceneProbe is what the thermocouple says of a piece; nil when there is none, or
// it is in another.
func (b *Bench) sceneProbe(p *piece, z schedule.Zone) *view.Probe {
	if !b.lead.there {
		return nil
	}
	if q, _ := b.heated(); q != nil && q != p {
		return nil
	}
	v := &view.Probe{Temp: b.lead.last.Temp, Fault: b.lead.fault}
	if v.Fault == "" {
		v.Over = AimOf(p.state(), z).TooHot(v.Temp)
	}
	return v
}
