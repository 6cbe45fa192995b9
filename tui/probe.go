package tui

import (
	"errors"
	"fmt"
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

	piece  schedule.ID // whose heat it reads; empty for none
	begun  time.Time   // of that heat
	record *probe.Recorder
}

// Hear takes what a thermocouple says. A reading in the window of a piece in the
// flame logs that its heat is reached; when the heat is over its curve is logged.
func (b *Bench) Hear(e probe.Event) {
	defer b.raise()
	b.lead.there = true
	switch e := e.(type) {
	case probe.Reading:
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
		b.mention(fmt.Errorf("probe: cannot be read: %w; what it read is kept, judge by colour", e.Err))
	case probe.Back:
		b.mention(errors.New("probe: it reads again"))
	case probe.Noise:
		b.mention(fmt.Errorf("probe: %d lines were no temperature", e.Lines))
	}
	if b.lead.fault != "" {
		b.keepCurve()
	}
}

// heated is the piece whose heat began last and is not over.
func (b *Bench) heated() (p *piece, z schedule.Zone) {
	for _, q := range b.pieces {
		for _, zone := range q.state().Zones {
			if zone.Heat.Phase.Hot() && zone.Heat.Begun.After(z.Heat.Begun) {
				p, z = q, zone
			}
		}
	}
	return p, z
}

// follow takes the last reading into the heat that goes on.
func (b *Bench) follow() {
	p, z := b.heated()
	if p == nil || b.lead.piece != p.id || !b.lead.begun.Equal(z.Heat.Begun) {
		b.keepCurve()
		if p == nil {
			return
		}
		b.lead.piece, b.lead.begun, b.lead.record = p.id, z.Heat.Begun, probe.NewRecorder(b.lead.last.At)
	}
	if b.lead.record == nil {
		return // its curve is logged
	}
	b.lead.record.Add(b.lead.last)
	low, _, _, ok := p.state().Window(z)
	if ok && z.Heat.Phase == schedule.InFlame && b.lead.last.Temp >= low && !p.state().Alloy.SelfSoftening {
		b.logZones(p, schedule.Reached{Temp: b.lead.last.Temp})
	}
	if z.Heat.Phase == schedule.OutOfFlame && b.lead.last.Temp < curveEnds {
		b.keepCurve()
	}
}

// curveEnds is where a curve has told all that softens or stains.
const curveEnds = 400

// logZones logs something for the zones of a piece that are in one heat.
func (b *Bench) logZones(p *piece, body schedule.Body) {
	e := b.entry(p.id, body)
	var names []string
	for _, z := range p.state().Zones {
		if z.Heat.Begun.Equal(b.lead.begun) {
			names = append(names, z.Name)
		}
	}
	e.Zones = p.state().Named(names)
	if err := schedule.AcceptIn(b.book(), p.entries, e, b.now()); err != nil {
		b.refuse(err)
		return
	}
	if b.write(e) {
		b.remember(e.Describe()+" (probe)", e)
	}
}

// curveSteps is about how many steps of a curve are kept for the sum.
const curveSteps = 400

// keepCurve logs the curve of the heat that the thermocouple was in, once.
func (b *Bench) keepCurve() {
	record, p := b.lead.record, b.find(b.lead.piece)
	b.lead.record = nil
	if record == nil || p == nil {
		return
	}
	curve := record.Trace()
	highest, known := curve.Max()
	if !known || curve.Length() < time.Second {
		return
	}
	trace := schedule.Trace{Curve: curve.Encode(), Max: highest.Temp, Hot: curve.Above(500)}
	for _, s := range curve.Spans(max(time.Second, curve.Length()/curveSteps)) {
		trace.Steps = append(trace.Steps, schedule.TraceStep{Temp: (s.Low + s.High) / 2, For: s.To - s.From})
	}
	b.logZones(p, trace)
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
	if c, ok := p.state().Ceiling(z.Condition); ok && v.Fault == "" && v.Temp >= c.Temp {
		v.Over = c.Because
	}
	return v
}
