package tui

import (
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
// somebody could look again.
func (b *Bench) noticeAbsence() {
	now := b.now()
	if !b.expected.IsZero() && now.Sub(b.expected) > absence {
		b.since = now
	}
	b.expected = time.Time{}
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
	now := b.now()
	bench, hand := b.desk.Who()
	news := alert.Unraised(b.due(now), b.entries(), alert.Writer{Bench: bench, Hand: hand, Now: now})
	if len(news) > 0 && !b.write(news...) {
		b.unsaved = append(b.unsaved, news...)
	}
}

// standing are the alerts that are to be shown, the most urgent first. A step that
// the smith has in front of him on the page needs no bar.
func (b *Bench) standing(now time.Time) []alert.Standing {
	all := b.stand(now)
	return slices.DeleteFunc(all, func(s alert.Standing) bool { return b.inFront(s) })
}

// stand is alert.Stand with the names of the pieces.
func (b *Bench) stand(now time.Time) []alert.Standing {
	all := alert.Stand(b.due(now), b.entries(), b.since)
	for i := range all {
		if p := b.find(all[i].Piece); p != nil {
			all[i].Name = p.name
		}
	}
	return all
}

// inFront reports whether the page itself tells what an alert tells.
func (b *Bench) inFront(s alert.Standing) bool {
	if s.Piece != b.shown || b.page != view.Distance || s.Over || s.Late > 0 {
		return false
	}
	switch s.Cause {
	case alert.QuenchNow, alert.CrackOpen:
		return true
	case alert.AnnealSoon, alert.AnnealNow:
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
		if n := t.sound(s, now); n > t.sounds && !b.inFront(s) {
			news = append(news, Telling{Standing: s, First: t.sounds == 0})
			t.sounds = n
		}
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
		t.acked = now
	}
	if s.Over || s.Priority() != alert.Danger || now.Sub(t.acked) < alert.Pause {
		return 0
	}
	t.first, t.acked, t.sounds = now, now.Add(-alert.Pause), 0
	n, _, _ := alert.Sounds(s.Priority(), 0)
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
	return t.acked.Add(alert.Pause).Sub(now), !t.acked.IsZero() && s.Priority() == alert.Danger && !s.Over
}

// acknowledge takes the most urgent alert that is shown as seen.
func (b *Bench) acknowledge() {
	open := slices.DeleteFunc(b.standing(b.now()), func(s alert.Standing) bool { return s.Acked })
	if len(open) == 0 {
		b.refuse(errNoAlert)
		return
	}
	bench, hand := b.desk.Who()
	e := schedule.Acknowledge(open[0].Raised, bench, hand, b.now())
	if !b.write(e) {
		return
	}
	b.say("seen: " + open[0].Text())
}

// bar is what the alert bar shows: the most urgent, or one line for a flood.
func (b *Bench) bar(now time.Time) *view.Alert {
	all := b.standing(now)
	if len(all) == 0 {
		return nil
	}
	s := all[0]
	a := &view.Alert{Text: s.Sentence(), Marks: s.Priority().Marks(), More: len(all) - 1, Seen: s.Acked, Shown: !s.Acked}
	if flood := alert.Summary(all); flood != "" {
		a.Text, a.More = flood, 0
	}
	if half := flash(s); half > 0 {
		a.Shown = view.FlashOn(now, half)
	}
	return a
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
