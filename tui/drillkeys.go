package tui

import (
	"slices"

	"dullred/tui/view"
)

// drillKey is one key of a lesson. This table drives its handler and its page of keys.
type drillKey struct {
	name, words string
	press       []Press
	do          func(*drilling, *Bench)
}

const ofLesson = "a lesson"

// drillKeys are all the keys of a lesson but the digits.
var drillKeys = []drillKey{
	{"space", "strike one course; or go on", char(' '), (*drilling).space},
	{"h", "into the flame", char('h'), (*drilling).heatKey},
	{"o", "out of the flame", char('o'), (*drilling).outKey},
	{"q", "quench", char('q'), (*drilling).quenchKey},
	{"s", "bend it a little, after the quench", char('s'), (*drilling).bendKey},
	{"y", "the same", char('y'), (*drilling).bendKey},
	{"tab", "the sum behind the advice, once you have said", []Press{{Key: Tab}}, (*drilling).whyKey},
	{"d", "look: dark, light, high contrast, hearth", char('d'), func(_ *drilling, b *Bench) { b.nextLook() }},
	{"l", "light of the room, which decides what is seen of the heat", char('l'), (*drilling).lightKey},
	{"w", "cautions", char('w'), func(_ *drilling, b *Bench) { b.turn(view.Cautions) }},
	{"?", "every key (or F1)", []Press{{Rune: '?'}, {Key: Help}}, func(_ *drilling, b *Bench) { b.turn(view.Keys) }},
	{"x", "the score; again: quit (or Ctrl-C)", []Press{{Rune: 'x'}, {Key: Cancel}}, (*drilling).leave},
}

func (k drillKey) hint() view.Hint { return view.Hint{Key: k.name, Words: k.words, Group: ofLesson} }

// drillHints are all the keys of a lesson with what they do.
func drillHints() (all []view.Hint) {
	all = []view.Hint{{Key: "0-9", Words: "say how many courses are left before it splits", Group: ofLesson}}
	for _, k := range drillKeys {
		all = append(all, k.hint())
	}
	return all
}

// press takes one key. None of the bench's own is left, for what they write is the
// lesson's to write.
func (d *drilling) press(b *Bench, p Press) {
	i := slices.IndexFunc(drillKeys, func(k drillKey) bool { return slices.Contains(k.press, p) })
	switch {
	case i >= 0:
		drillKeys[i].do(d, b)
	case p.Rune >= '0' && p.Rune <= '9':
		d.digit(b, int(p.Rune-'0'))
	case p.Key == Escape || p.Key == Enter:
		b.turn(view.Distance)
	default:
		b.scrollBy(p)
	}
}

// acts reports whether a press that bounces counts once in a lesson: a digit answers,
// where on a bench of real pieces it is typed. Without a lesson nothing is.
func (d *drilling) acts(p Press) bool { return d != nil && p.Rune != 0 }

// digit answers, where something was asked.
func (d *drilling) digit(b *Bench, n int) {
	if d.stage != view.Asking {
		b.say("nothing is asked now")
		return
	}
	d.say(b, n)
}

// space strikes, or goes on from what was told.
func (d *drilling) space(b *Bench) {
	switch d.stage {
	case view.Striking:
		d.strike(b)
	case view.Told, view.Proved, view.Split, view.Worked:
		d.goOn(b)
	default:
		b.say(d.waits())
	}
}

// heatKey puts the bar into the flame once the student has said how much was left.
func (d *drilling) heatKey(b *Bench) {
	switch {
	case d.stage != view.Striking && d.stage != view.Told && d.stage != view.Proved || d.lost():
		b.say(d.waits())
	case d.asked:
		d.begin(b)
	default:
		d.heat = true
		d.turn(b, view.Asking)
	}
}

// lost reports whether the heat that was proved cost the bar.
func (d *drilling) lost() bool { return d.stage == view.Proved && d.proved.Melted }

func (d *drilling) outKey(b *Bench) {
	if d.stage != view.InFlame {
		b.say("it is not in the flame; " + d.waits())
		return
	}
	d.out(b)
}

// quenchKey quenches, straight from the flame too.
func (d *drilling) quenchKey(b *Bench) {
	switch d.stage {
	case view.InFlame:
		d.out(b)
		d.quench(b)
	case view.OutOfFlame:
		d.quench(b)
	default:
		b.say("it is not hot; " + d.waits())
	}
}

func (d *drilling) bendKey(b *Bench) {
	if d.stage != view.Bending {
		b.say("a bend check comes after a heat; " + d.waits())
		return
	}
	d.prove(b)
}

// whyKey shows the sum once it gives nothing away.
func (d *drilling) whyKey(b *Bench) {
	if d.stage != view.Told {
		b.say("the sum is shown once you have said how many are left")
		return
	}
	b.turn(view.Why)
}

func (d *drilling) lightKey(b *Bench) {
	b.nextLight()
	b.done = nil // a lesson takes nothing back
	b.say("light of the room: " + string(b.hearthState().Light))
}

// leave shows the score of what was begun, and then ends the program.
func (d *drilling) leave(b *Bench) {
	if d.stage == view.Scored || !d.begun() {
		b.quit = true
		return
	}
	d.turn(b, view.Scored)
}

// waits says which key the stage waits for.
func (d *drilling) waits() string {
	switch d.stage {
	case view.Asking:
		return "first say how many courses are left: 0 to 9"
	case view.InFlame:
		return "it is in the flame: o takes it out"
	case view.OutOfFlame:
		return "it is HOT: q quenches it"
	case view.Bending:
		return "bend it a little first: s or y"
	case view.Scored:
		return "the lesson is over: x quits"
	case view.Striking:
		return "space strikes, h anneals"
	}
	return "space goes on"
}
