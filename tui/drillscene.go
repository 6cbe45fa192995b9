package tui

import (
	"fmt"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/tui/view"
)

// markerGoes is where a stroke of a black marker is gone: common practice (Ganoksin
// forum, thread 59058). It needs no eye for colour.
const markerGoes unit.Celsius = 538

// show makes the scene of a bench one of a lesson. What would give the answer away is
// taken out of it, so that no page can draw it.
func (d *drilling) show(b *Bench, s *view.Scene) {
	s.Drill = d.view(b)
	s.Alarm, s.Others, s.Board, s.Caution = nil, nil, nil, ""
	if s.Page == view.Keys {
		s.Keys = drillHints()
	}
	if p := s.Piece; p != nil {
		p.Name, p.Work, p.Hand = d.place(), "", ""
		p.Cue, p.Timer, p.Probe, p.Log, p.Plan = nil, nil, nil, nil, nil
		p.Next = d.next()
		p.Advice.Zone = "" // a bar has one
		if d.stage != view.Told {
			p.Advice = schedule.Advice{}
			p.Ahead = nil
			s.Why = nil
		}
	}
	s.Help = d.help(*s)
}

// place is where in the lesson the student is.
func (d *drilling) place() string {
	_, of := d.lesson.Bars()
	return fmt.Sprintf("level %d - bar %d of %d", d.lesson.Level().Number, d.bar, of)
}

func (d *drilling) view(b *Bench) *view.Drill {
	score := d.lesson.Score()
	_, of := d.lesson.Bars()
	level := d.lesson.Level()
	v := &view.Drill{Stage: d.stage, Title: fmt.Sprintf("Level %d: %s", level.Number, level.Title), Bar: d.bar, Of: of, Struck: d.struck,
		Said: d.reveal.Said, Truth: d.reveal.Truth, Soft: d.proved.Soft, Melted: d.proved.Melted, Faults: len(d.proved.Faults),
		Asked: score.Asked, Error: score.Error, Lines: d.lines(b)}
	if d.stage == view.InFlame || d.stage == view.OutOfFlame {
		v.Since, v.Glow = d.at(b)-d.changed, d.glow(b)
	}
	return v
}

// glow is the metal as an eye in this room sees it now.
func (d *drilling) glow(b *Bench) view.Glowing {
	s := b.current().state()
	z := s.Zones[0]
	t := d.lesson.Temp(d.at(b))
	skin := z.Surface
	if skin == heat.SurfaceUnknown {
		skin = heat.Clean
	}
	shine, _ := heat.ShineOf(s.Alloy, skin)
	eye := heat.Eye{Light: b.roomLight(), Emissivity: shine.Value, Shade: b.shade}
	return view.Glowing{Glow: schedule.GlowOf(t), Sight: eye.Sees(t), Light: eye.Light, Runs: t >= melts(s.Alloy, z.Condition)}
}

// melts is the solidus of a metal; where none is published nothing melts.
func melts(a alloys.Alloy, c alloys.Condition) unit.Celsius {
	f, ok := a.Default(alloys.Solidus, c)
	if !ok {
		return unit.MaxTemperature
	}
	return unit.Celsius(f.Low)
}

// roomLight is the light of the room; one that is not known is a bench lamp.
func (b *Bench) roomLight() heat.Light {
	if l := b.hearthState().Light; l != heat.LightUnknown {
		return l
	}
	return heat.LightLamp
}

// lines are what there is to read at a stage.
func (d *drilling) lines(b *Bench) []string {
	switch d.stage {
	case view.Striking, view.Asking:
		return d.workLines()
	case view.Told:
		return d.reveal.Reasons
	case view.InFlame, view.OutOfFlame:
		return d.heatLines(b)
	case view.Bending:
		return []string{"Bend the end a little: s and y both do, and the metal says which it is."}
	case view.Proved:
		return d.proved.Reasons
	case view.Split:
		return []string{"The bar is lost. In the record of real pieces that is a crack; here the next bar begins."}
	case view.Scored:
		return ScoreOf(d.lesson)
	}
	return nil
}

// workLines are what the hand and the calliper know.
func (d *drilling) workLines() []string {
	var lines []string
	if d.sign != "" {
		lines = append(lines, "It "+signWords(d.sign)+".")
	}
	lines = append(lines, fmt.Sprintf("Since it was soft: %s. It is to be %v.", strings.Join(d.sizes, ", "), coldwork.Section(d.lesson.Size().Size)))
	if d.courses == 0 {
		lines = append(lines, d.lesson.Level().Teaches)
	}
	return lines
}

// signWords follow on "it".
func signWords(s schedule.Sign) string {
	if s == schedule.SignDead {
		return "is dead: a dull thud, it stays where it is put"
	}
	if s == schedule.SignHard {
		return "shows signs of hardness"
	}
	return string(s)
}

// heatLines are the sign that needs no eye for colour, and what is to be waited for.
func (d *drilling) heatLines(b *Bench) []string {
	hottest := d.hottest
	if d.stage == view.InFlame {
		hottest = d.lesson.Temp(d.at(b)) // a flame only heats
	}
	marker := "The marker stroke still stands."
	if hottest >= markerGoes {
		marker = fmt.Sprintf("The marker stroke has gone (%.0f °C).", float64(markerGoes))
	}
	lines := []string{marker}
	if !d.lesson.Level().ByColour {
		lines = append(lines, fmt.Sprintf("The thermometer reads %.0f °C.", float64(d.lesson.Temp(d.at(b)))))
	}
	if d.stage == view.OutOfFlame {
		return append(lines, "Wait for the black heat, then quench.")
	}
	p := b.current()
	cue := p.cueOf(p.state().Zones[0], heat.Eye{Light: b.roomLight(), Shade: b.shade})
	return append(lines, fmt.Sprintf("Wanted: %s; %s: %s; %s.", cue.Window, cue.Light, cue.Seen, cue.Second))
}

// next is the one next key of a stage.
func (d *drilling) next() view.Hint {
	switch d.stage {
	case view.Asking:
		return view.Hint{Key: "0-9", Words: "say it"}
	case view.Told:
		if d.heat {
			return view.Hint{Key: "h", Words: "into the flame"}
		}
		return view.Hint{Key: "space", Words: "go on"}
	case view.Striking:
		return view.Hint{Key: "space", Words: "strike"}
	case view.InFlame:
		return view.Hint{Key: "o", Words: "out of the flame"}
	case view.OutOfFlame:
		return view.Hint{Key: "q", Words: "quench"}
	case view.Bending:
		return view.Hint{Key: "s/y", Words: "bend it"}
	case view.Scored:
		return view.Hint{Key: "x", Words: "quit"}
	}
	return view.Hint{Key: "space", Words: "go on"}
}

// help is the last line, the most useful first.
func (d *drilling) help(s view.Scene) []view.Hint {
	every, quit := view.Hint{Key: "?", Words: "every key"}, view.Hint{Key: "x", Words: "score"}
	switch {
	case s.Page != view.Distance:
		return []view.Hint{{Key: "Esc", Words: "back"}, {Key: "arrows", Words: "move"}, every, quit}
	case d.stage == view.Scored:
		return []view.Hint{d.next()}
	case d.stage == view.Told:
		return []view.Hint{{Key: "space", Words: "go on"}, {Key: "h", Words: "anneal"}, {Key: "tab", Words: "the sum"}, every, quit}
	case d.stage == view.Striking, d.stage == view.Proved && !d.lost():
		return []view.Hint{d.next(), {Key: "h", Words: "anneal"}, every, quit}
	case d.stage == view.InFlame || d.stage == view.OutOfFlame:
		return []view.Hint{d.next(), {Key: "l", Words: "light of the room"}, every, quit}
	}
	return []view.Hint{d.next(), every, quit}
}
