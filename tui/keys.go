package tui

import (
	"slices"
	"time"

	"dullred/schedule"
	"dullred/tui/view"
)

// key is one key of the bench. This table drives the handler, the help line, the
// page of keys and the README.
type key struct {
	name  string // as it stands on the key
	words string
	group string
	press []Press
	act   bool // a bounce counts once
	do    func(*Bench)
}

// The groups of the page of keys.
const (
	underHammer = "under the hammer"
	ofHeat      = "a heat"
	ofBench     = "the bench"
	ofScreen    = "the screen"
)

func char(r ...rune) (presses []Press) {
	for _, r := range r {
		presses = append(presses, Press{Rune: r})
	}
	return presses
}

// keys are all the keys. One unmodified key does each act.
var keys = []key{
	{"space", "course done", underHammer, char(' '), true, (*Bench).course},
	{"0-9", "measure: type the figure, Enter", underHammer, nil, false, nil},
	{"m", "measure", underHammer, char('m'), true, (*Bench).measure},
	{"i", "which work: lengthen, widen, flatten ...", underHammer, char('i'), true, (*Bench).nextProcess},
	{"g", "signs of hardness, whichever", underHammer, char('g'), true, logs(schedule.Signalled{Sign: schedule.SignHard})},
	{"f2", "it rings", underHammer, []Press{{Key: Rings}}, true, logs(schedule.Signalled{Sign: schedule.SignRings})},
	{"f3", "the hammer bounces", underHammer, []Press{{Key: Bounces}}, true, logs(schedule.Signalled{Sign: schedule.SignBounces})},
	{"f4", "it springs back", underHammer, []Press{{Key: Springs}}, true, logs(schedule.Signalled{Sign: schedule.SignSprings})},
	{"f5", "it will not move", underHammer, []Press{{Key: Stops}}, true, logs(schedule.Signalled{Sign: schedule.SignStops})},
	{"f6", "dead: a thud, it stays where it is put", underHammer, []Press{{Key: Dead}}, true, logs(schedule.Signalled{Sign: schedule.SignDead})},
	{"k", "crack seen; again: filed out", underHammer, char('k'), true, (*Bench).crack},
	{"e", "go on with the crack in it", underHammer, char('e'), true, (*Bench).ignoreCrack},

	{"t", "torch lit; again: out", ofHeat, char('t'), true, (*Bench).torch},
	{",", "fluxed: coated against fire-stain", ofHeat, char(','), true, logs(schedule.Fluxed{})},
	{"h", "heat begun", ofHeat, char('h'), true, (*Bench).begun},
	{"c", "colour reached", ofHeat, char('c'), true, logs(schedule.Reached{})},
	{"o", "out of the flame", ofHeat, char('o'), true, logs(schedule.Out{})},
	{"q", "quenched", ofHeat, char('q'), true, (*Bench).quench},
	{"f", "found cool", ofHeat, char('f'), true, logs(schedule.FoundCool{})},
	{"p", "in the pickle", ofHeat, char('p'), true, (*Bench).pickle},
	{"r", "out, rinsed", ofHeat, char('r'), true, logs(schedule.Rinsed{})},
	{"s", "bends soft", ofHeat, char('s'), true, logs(schedule.Soft{})},
	{"y", "still springy", ofHeat, char('y'), true, logs(schedule.Springy{})},
	{"-", "the last step was a second earlier", ofHeat, char('-'), false, func(b *Bench) { b.move(-second) }},
	{"+", "... a second later (or =)", ofHeat, char('+', '='), false, func(b *Bench) { b.move(second) }},

	{"b", "begin a piece", ofBench, char('b'), true, (*Bench).begin},
	{"j", "a soldered joint (empty bench: an invented class)", ofBench, char('j'), true, (*Bench).joint},
	{"n", "next piece that waits", ofBench, char('n'), true, (*Bench).nextPiece},
	{".", "on the board: into the same heat, or out", ofBench, char('.'), true, (*Bench).join},
	{"f9", "the piece is finished", ofBench, []Press{{Key: End}}, true, logs(schedule.Finished{})},
	{"z", "next zone", ofBench, char('z'), true, (*Bench).nextZone},
	{"u", "undo", ofBench, char('u'), true, (*Bench).undo},
	{"a", "seen: acknowledge the alert", ofBench, char('a'), true, (*Bench).acknowledge},

	{"v", "page: plan, near, board, far", ofScreen, char('v'), true, (*Bench).nextPage},
	{"tab", "why: the sum behind this advice", ofScreen, []Press{{Key: Tab}}, true, func(b *Bench) { b.turn(view.Why) }},
	{"/", "pictures of the piece; again: the next (or #)", ofScreen, char('/', '#'), true, (*Bench).nextCurve},
	{"d", "look: dark, light, high contrast, hearth", ofScreen, char('d'), true, (*Bench).nextLook},
	{"l", "light of the room", ofScreen, char('l'), true, (*Bench).nextLight},
	{"w", "cautions", ofScreen, char('w'), true, func(b *Bench) { b.turn(view.Cautions) }},
	{"?", "every key (or F1)", ofScreen, []Press{{Rune: '?'}, {Key: Help}}, true, func(b *Bench) { b.turn(view.Keys) }},
	{"x", "quit (or Ctrl-C)", ofScreen, []Press{{Rune: 'x'}, {Key: Cancel}}, true, (*Bench).leave},
}

// logs is a key that writes one entry for the piece on the screen.
func logs(body schedule.Body) func(*Bench) {
	return func(b *Bench) { b.log(body) }
}

func keyOf(p Press) (key, bool) {
	i := slices.IndexFunc(keys, func(k key) bool { return slices.Contains(k.press, p) })
	if i < 0 {
		return key{}, false
	}
	return keys[i], true
}

// named is the hint for a key by the name that stands on it.
func named(name string) view.Hint {
	i := slices.IndexFunc(keys, func(k key) bool { return k.name == name })
	return keys[i].hint()
}

func (k key) hint() view.Hint { return view.Hint{Key: k.name, Words: k.words, Group: k.group} }

// Hints are all the keys with what they do, in the order of their groups.
func Hints() (all []view.Hint) {
	for _, k := range keys {
		all = append(all, k.hint())
	}
	return all
}

// keyFor is the one key that an act is done with.
var keyFor = map[schedule.Act]string{
	schedule.ActPass: "space", schedule.ActBegin: "h", schedule.ActReach: "c", schedule.ActOut: "o",
	schedule.ActQuench: "q", schedule.ActCool: "f", schedule.ActPickle: "p", schedule.ActRinse: "r",
	schedule.ActFile: "k",
}

// next is the hint of the one next key.
func next(act schedule.Act) view.Hint {
	switch act {
	case schedule.ActProve:
		return view.Hint{Key: "s/y", Words: "soft or springy"}
	case schedule.ActFile:
		return view.Hint{Key: "k", Words: "filed out"}
	case schedule.ActNone:
		return view.Hint{Key: "v", Words: "see why"}
	}
	return named(keyFor[act])
}

// Press takes one key, pressed now.
func (b *Bench) Press(p Press) { b.PressAt(p, b.line.clock.Wall()) }

// PressAt takes one key that was pressed at a moment of the wall clock. It may
// have waited since for a slow disk, and must not be taken for a second press.
func (b *Bench) PressAt(p Press, typed time.Time) {
	defer b.raise()
	b.checkClock()
	k, known := keyOf(p)
	if b.form != nil {
		if opened := b.opened; opened && p == b.bounced.last && k.act && b.bounced.again(p, typed) {
			return // the key that opened the form, still bouncing
		}
		b.opened, b.bounced = false, bounce{} // typing is not bouncing
		b.typed(p)
		return
	}
	if b.bounced.again(p, typed) && (k.act || b.drill.acts(p)) {
		return
	}
	b.caution = ""
	if b.drill != nil {
		b.drill.press(b, p)
		return
	}
	if b.answered(p) {
		return
	}
	switch {
	case p.Rune >= '0' && p.Rune <= '9':
		b.measureFrom(string(p.Rune))
	case known:
		k.do(b)
		b.opened = b.form != nil
	case p.Key == Escape || p.Key == Enter:
		b.turn(view.Distance)
	default:
		b.scrollBy(p)
	}
}
