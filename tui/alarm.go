package tui

import (
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/tui/view"
)

// due is all that holds now, prompts included; in a lesson nothing.
func (b *Bench) due(now time.Time) []alert.Alert {
	if b.drill != nil {
		return nil // a bar that is not there calls nobody, and would tell what is asked
	}
	bench, _ := b.desk.Who()
	pieces := make([]alert.Piece, 0, len(b.pieces))
	for _, p := range b.pieces {
		pieces = append(pieces, alert.Piece{Name: p.name, State: p.state(), Advice: b.judged(p), Running: p.steps()})
	}
	return alert.Find(pieces, alert.Bench{ID: bench, State: b.hearthState(), Limits: b.limits}, now)
}

// judged is the advice for a piece, its words aside, which does not change with
// time.
func (b *Bench) judged(p *piece) schedule.Advice {
	if p.judged == nil {
		a := p.state().Advise(b.now(), b.observed(p))
		p.judged = &a
	}
	return *p.judged
}

// entries are all that alerts may stand in.
func (b *Bench) entries() []schedule.Entry {
	all := slices.Concat(b.hearth, b.unsaved)
	for _, p := range b.pieces {
		all = append(all, p.alerts...)
	}
	return all
}

// raise writes the alerts that became due, before anything of them is shown. What
// cannot be written is shown all the same, and said not to be recorded.
func (b *Bench) raise() {
	b.saveLate()
	now := b.now()
	bench, hand := b.desk.Who()
	news := alert.Unraised(b.due(now), b.entries(), alert.Writer{Bench: bench, Hand: hand, Now: now})
	if len(news) > 0 && !b.write(news...) {
		b.unsaved = append(b.unsaved, news...)
		b.derived = derived{}
	}
}

// saveLate writes the alerts that could not be written once there is room. That
// there is still none was said.
func (b *Bench) saveLate() {
	late := b.unsaved
	if len(late) == 0 || b.desk.Write(late...) != nil {
		return
	}
	b.unsaved = nil
	b.take(late...)
}

// standing are the alerts that are to be shown, the most urgent first. A step that
// the smith has in front of him on the page needs no bar.
func (b *Bench) standing(now time.Time) []alert.Standing {
	all := b.stand(now)
	return slices.DeleteFunc(all, func(s alert.Standing) bool { return b.inFront(s) })
}

// oneLook is how long what stands is taken for the same: one drawing of the screen
// asks for it several times.
const oneLook = 20 * time.Millisecond

// stand is alert.Stand with the names of the pieces.
func (b *Bench) stand(now time.Time) []alert.Standing {
	d := &b.derived
	if d.known && now.Sub(d.at).Abs() < oneLook && d.since.Equal(b.since) {
		return slices.Clone(d.stand)
	}
	all := alert.Stand(b.due(now), b.entries(), b.since)
	for i := range all {
		if p := b.find(all[i].Piece); p != nil {
			all[i].Name = b.placed(p)
		}
	}
	d.at, d.since, d.stand, d.known = now, b.since, all, true
	return slices.Clone(all)
}

// inFront reports whether the page itself tells what an alert tells.
func (b *Bench) inFront(s alert.Standing) bool {
	if s.Piece != b.shown || b.page != view.Distance && b.page != view.Plan || s.Over || s.Late > 0 {
		return false
	}
	switch s.Cause {
	case alert.AnnealSoon, alert.QuenchNow, alert.CrackOpen:
		return true
	case alert.AnnealNow:
		return s.Acked
	}
	return false
}
