package tui

import (
	"errors"
	"slices"
	"strings"
	"time"

	"dullred/schedule"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
)

const second = time.Second

var (
	errNoPiece = errors.New("there is no piece on the bench; b begins one")
	errNoAlert = errors.New("no alert waits")
)

// entry is a new entry of this bench, happening now.
func (b *Bench) entry(piece schedule.ID, body schedule.Body) schedule.Entry {
	bench, hand := b.desk.Who()
	now := b.now()
	return schedule.Entry{ID: schedule.NewID(), At: now, Written: now, Bench: bench, Hand: hand,
		Piece: piece, Version: 1, Body: body}
}

// log writes what was done to the piece on the screen, in the zone that was chosen,
// or to all that go into one heat.
func (b *Bench) log(body schedule.Body) { b.logFor(b.targets(), body) }

// logFor writes what was done to pieces.
func (b *Bench) logFor(targets []*piece, body schedule.Body) {
	if len(targets) == 0 {
		b.refuse(errNoPiece)
		return
	}
	var news []schedule.Entry
	var names, refused []string
	for _, p := range targets {
		entries, err := b.entriesFor(p, body)
		if err != nil && len(targets) == 1 {
			b.refuse(err)
			return
		}
		if err != nil {
			refused = append(refused, p.name+" ("+err.Error()+")")
			continue
		}
		news, names = append(news, entries...), append(names, p.name)
	}
	if len(news) == 0 {
		b.refuse(errors.New(strings.Join(refused, "; ")))
		return
	}
	if b.write(news...) {
		b.remember(wordsFor(news[0], names, refused), news...)
	}
}

func wordsFor(e schedule.Entry, names, refused []string) string {
	words := e.Describe()
	if len(names)+len(refused) > 1 {
		words += " for " + strings.Join(names, ", ")
	}
	if len(refused) > 0 {
		words += "; NOT for " + strings.Join(refused, "; ")
	}
	return words
}

// entriesFor is what an act on a piece writes, checked.
func (b *Bench) entriesFor(p *piece, body schedule.Body) ([]schedule.Entry, error) {
	e := b.entry(p.id, body)
	switch {
	case b.zone != "" && p.id == b.shown && len(p.state().Zones) > 1:
		e.Zones = []string{b.zone}
	default:
		e.Zones = b.zonesFor(p, body.Kind())
	}
	if err := schedule.AcceptIn(b.book(), p.entries, e, b.now()); err != nil {
		return nil, err
	}
	then := p.with(e)
	advice := then.state().Advise(b.now(), b.observed(p))
	return advice.Follow(then.state(), e, b.now(), then.entries), nil
}

// write puts entries on disk and then, never before, onto the bench.
func (b *Bench) write(entries ...schedule.Entry) bool {
	if err := b.desk.Write(entries...); err != nil {
		b.refuse(err)
		return false
	}
	b.take(entries...)
	return true
}

// take puts entries that are on disk onto the bench.
func (b *Bench) take(entries ...schedule.Entry) {
	b.derived = derived{}
	bench, _ := b.desk.Who()
	for _, e := range entries {
		if e.Piece == bench {
			b.hearth = append(b.hearth, e)
		} else if p := b.find(e.Piece); p != nil {
			p.add(e)
		}
	}
}

// course logs one course of the work that was chosen, or on the page of the plan what
// its step is. On hot metal it asks first: a foot on the switch is no blow of the
// hammer.
func (b *Bench) course() {
	p := b.current()
	if p == nil {
		b.refuse(errNoPiece)
		return
	}
	body, done := b.courseOf(p)
	if body == nil {
		b.form = b.solderStep(p)
		return
	}
	do := func() {
		b.ringOn()
		b.log(body)
	}
	if i := slices.IndexFunc(b.targets(), (*piece).hot); i >= 0 {
		b.wonder(b.targets()[i].name+" is HOT. Space again if it was "+done+" all the same", do)
		return
	}
	do()
}

// work is the process of the step of the plan on its page, unless another was chosen
// against it; elsewhere the one that was chosen, or that of the course before, or the
// one that the section suggests.
func (b *Bench) work(p *piece) coldwork.Process {
	if s, ok := b.step(p); ok && s.Act == schedule.DoPass && !b.otherwise(s) {
		return s.Process
	}
	if b.process != "" {
		return b.process
	}
	return p.state().Usual()
}

// nextProcess goes through the kinds of work that need no further figure.
func (b *Bench) nextProcess() {
	p := b.current()
	if p == nil {
		b.refuse(errNoPiece)
		return
	}
	all := slices.DeleteFunc(coldwork.Processes(), coldwork.Process.Shaped)
	b.process = all[(slices.Index(all, b.work(p))+1)%len(all)]
	b.against = ""
	if s, ok := b.step(p); ok {
		b.against = s.Title()
	}
	b.say("the next courses: " + string(b.process))
}

// crack logs a crack, or that the open one is filed out.
func (b *Bench) crack() {
	if p := b.current(); p != nil && b.cracked(p) {
		b.log(schedule.CrackFiled{})
		return
	}
	b.log(schedule.CrackSeen{})
}

func (b *Bench) cracked(p *piece) bool {
	return slices.ContainsFunc(p.state().Zones, func(z schedule.Zone) bool {
		return z.Crack == schedule.CrackOpen && (b.zone == "" || b.zone == z.Name)
	})
}

func (b *Bench) ignoreCrack() {
	p := b.current()
	if p == nil || !b.cracked(p) {
		b.log(schedule.CrackIgnored{}) // which says why not
		return
	}
	b.wonder("Go on with an open crack? It runs on under the hammer. e again: yes, on my word", func() { b.log(schedule.CrackIgnored{}) })
}

// begun logs that the heat is begun, with the torch that is lit.
func (b *Bench) begun() {
	for _, p := range b.targets() {
		on := b.zonesFor(p, schedule.KindBegun)
		for _, z := range p.state().Zones {
			if len(on) > 0 && !slices.Contains(on, z.Name) {
				continue
			}
			if text := heat.Spare(p.state().Worked(z, b.observed(p)).Strain); text != "" {
				b.mention(errors.New(p.name + ": " + text))
				break
			}
		}
	}
	fire := b.hearthState().Fire
	b.log(schedule.Begun{Torch: fire.Torch, Brick: fire.Brick})
}

// quench asks twice for metal that is left in the air.
func (b *Bench) quench() {
	left := func(p *piece) bool { return !p.state().Alloy.Cooling().Quenched() }
	if !slices.ContainsFunc(b.targets(), left) {
		b.log(schedule.Quenched{})
		return
	}
	b.wonder("This metal is left to cool in the air. q again if it went into water", func() { b.log(schedule.Quenched{}) })
}

// pickle asks twice for a bath that would spoil the piece.
func (b *Bench) pickle() {
	if text := b.hearthState().Bath.Caution(); text != "" {
		b.wonder(text+" p again if it went in all the same", func() { b.log(schedule.Pickled{}) })
		return
	}
	b.log(schedule.Pickled{})
}

// torch logs the torch lit or out.
func (b *Bench) torch() {
	var body schedule.Body = schedule.TorchLit{}
	if !b.hearthState().Torch.IsZero() {
		body = schedule.TorchOut{}
	}
	b.logHere(body)
}

// logHere writes an entry of the bench as a whole.
func (b *Bench) logHere(body schedule.Body) {
	bench, _ := b.desk.Who()
	e := b.entry(bench, body)
	if b.write(e) {
		b.remember(e.Describe(), e)
	}
}

// nextLight goes through the lights of the room.
func (b *Bench) nextLight() { b.logHere(schedule.Lit{Room: b.hearthState().Light.Next()}) }

// checkClock writes a step when the wall clock was set.
func (b *Bench) checkClock() {
	b.noticeAbsence()
	if jump := b.line.look(); jump != 0 {
		b.setClock(jump)
	}
	b.raise()
}

// setClock takes a jump of the wall clock onto the line of time. If the step
// cannot be written, nothing is changed and the next look finds it again.
func (b *Bench) setClock(jump time.Duration) {
	step, ahead := schedule.NewStep(jump, b.line.ahead)
	bench, _ := b.desk.Who()
	before := b.line.ahead
	b.line.ahead = ahead
	e := b.entry(bench, step)
	if !b.write(e) {
		b.line.ahead = before
		return
	}
	b.line.settle()
	b.derived = derived{}
	b.clocks = append(b.clocks, e)
	for _, p := range b.pieces {
		p.add(e)
	}
	b.say(step.String() + "; what runs is not changed by it")
}
