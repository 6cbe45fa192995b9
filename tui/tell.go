package tui

import (
	"time"

	"dullred/schedule/alert"
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
	more   int       // calls that a course since then has rung
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
		return n + t.more
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

// ringOn makes the calls that nobody has answered ring once more, because another
// course was logged over them.
func (b *Bench) ringOn() {
	for _, s := range b.stand(b.now()) {
		if t := b.told[s.Key]; t != nil && s.Priority() == alert.Call && !s.Acked {
			t.more++
		}
	}
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
