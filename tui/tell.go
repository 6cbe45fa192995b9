package tui

import (
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/tui/view"
)

// Telling is an alert that is to be heard now: by the bell, and by the desktop
// when it is told for the first time.
type Telling struct {
	alert.Standing
	First bool
}

// telling is what became of an alert in this session: when it was told first, and
// how often it has sounded since.
type telling struct {
	first  time.Time
	sounds int
	acked  time.Time // zero until it was
}

// absence is how long a bench that was to be woken has to be late for to have been
// away: asleep, stopped, or without power.
const absence = time.Minute

// noticeAbsence takes the moment of a return from sleep as the one from which
// somebody could look again. It goes by the clock that nobody can set.
func (b *Bench) noticeAbsence() {
	boot, ok := b.line.clock.Boot()
	if ok && b.expected > 0 && boot-b.expected > absence {
		b.since = b.now()
	}
	b.expected = 0
}

// expect keeps when the screen is to be woken; it is not where nothing will change.
func (b *Bench) expect(wait time.Duration, ok bool) {
	b.expected = 0
	if boot, known := b.line.clock.Boot(); ok && known {
		b.expected = boot + wait
	}
}

// due is all that holds now, prompts included.
func (b *Bench) due(now time.Time) []alert.Alert {
	bench, _ := b.desk.Who()
	pieces := make([]alert.Piece, 0, len(b.pieces))
	for _, p := range b.pieces {
		pieces = append(pieces, alert.Piece{Name: p.name, State: p.state(), Advice: b.judged(p)})
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
			all[i].Name = p.name
		}
	}
	d.at, d.since, d.stand, d.known = now, b.since, all, true
	return slices.Clone(all)
}

// inFront reports whether the page itself tells what an alert tells.
func (b *Bench) inFront(s alert.Standing) bool {
	if s.Piece != b.shown || b.page != view.Distance || s.Over || s.Late > 0 {
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

// Tell gives what is to be heard now. It is asked whenever the screen wakes.
func (b *Bench) Tell() (news []Telling) {
	now := b.now()
	told := map[string]*telling{}
	for _, s := range b.stand(now) {
		t := b.told[s.Key]
		if t == nil {
			t = &telling{first: now}
		}
		told[s.Key] = t
		n := t.sound(s, now)
		switch {
		case n <= t.sounds:
			continue
		case !b.inFront(s):
			news = append(news, Telling{Standing: s, First: t.sounds == 0 && t.acked.IsZero()})
		case s.Cause != alert.AnnealSoon:
			continue // it is heard once the smith looks elsewhere
		}
		t.sounds = n
	}
	b.told = told
	return news
}

// sound is how many times an alert should have been heard by now. Danger that was
// acknowledged begins anew after a pause, as long as it holds.
func (t *telling) sound(s alert.Standing, now time.Time) int {
	if !s.Acked {
		n, _, _ := alert.Sounds(s.Priority(), now.Sub(t.first))
		return n
	}
	if t.acked.IsZero() {
		t.acked, t.sounds = now, 0
	}
	if s.Over || s.Priority() != alert.Danger || now.Sub(t.acked) < alert.Pause {
		return 0
	}
	n, _, _ := alert.Sounds(s.Priority(), now.Sub(t.acked)-alert.Pause)
	return n
}

// nextSound is how long it is until something is to be heard again.
func (b *Bench) nextSound(now time.Time) (wait time.Duration, ok bool) {
	for _, s := range b.standing(now) {
		t := b.told[s.Key]
		if t == nil {
			continue // nobody has asked what is to be heard
		}
		next, again := t.next(s, now)
		if again && (!ok || next < wait) {
			wait, ok = next, true
		}
	}
	return wait, ok
}

func (t *telling) next(s alert.Standing, now time.Time) (time.Duration, bool) {
	if !s.Acked {
		_, next, again := alert.Sounds(s.Priority(), now.Sub(t.first))
		return next, again
	}
	if t.acked.IsZero() || s.Over || s.Priority() != alert.Danger {
		return 0, false
	}
	if quiet := t.acked.Add(alert.Pause).Sub(now); quiet > 0 {
		return quiet, true
	}
	_, next, again := alert.Sounds(s.Priority(), now.Sub(t.acked)-alert.Pause)
	return next, again
}

// acknowledge takes the most urgent alert that is shown as seen, or all of a flood
// that is shown as one line.
func (b *Bench) acknowledge() {
	open := slices.DeleteFunc(b.standing(b.now()), func(s alert.Standing) bool { return s.Acked })
	if len(open) == 0 {
		b.refuse(errNoAlert)
		return
	}
	seen, words := open[:1], open[0].Text()
	if alert.Summary(open) != "" {
		seen = slices.DeleteFunc(open, func(s alert.Standing) bool { return s.Late == 0 })
		words = fmt.Sprintf("%d alerts", len(seen))
	}
	bench, hand := b.desk.Who()
	var acks []schedule.Entry
	for _, s := range seen {
		acks = append(acks, schedule.Acknowledge(s.Raised, bench, hand, b.now()))
	}
	if b.write(acks...) {
		b.say("seen: " + words)
	}
}

// bar is what the alert bar shows: the most urgent, or one line for a flood.
func (b *Bench) bar(now time.Time) *view.Alert {
	all := b.standing(now)
	if len(all) == 0 {
		return nil
	}
	s := all[0]
	a := &view.Alert{Text: s.Sentence(), Marks: s.Priority().Marks(), More: unseen(all[1:]), Seen: s.Acked, Shown: !s.Acked}
	if flood := alert.Summary(all); flood != "" {
		a.Text, a.More = flood, 0
	}
	if half := flash(s); half > 0 {
		a.Shown = view.FlashOn(now, half)
	}
	return a
}

// unseen counts those that nobody has acknowledged.
func unseen(all []alert.Standing) (n int) {
	for _, s := range all {
		if !s.Acked {
			n++
		}
	}
	return n
}

// flash is the half period of the bar for an alert; 0 for a steady one.
func flash(s alert.Standing) time.Duration {
	switch {
	case s.Acked:
		return 0
	case s.Priority() == alert.Danger:
		return view.FlashUrgent
	case s.Priority() == alert.Call:
		return view.FlashCall
	}
	return 0
}
