package tui

import "time"

// toastTime is how long an answer stands, and how long one key takes back what it
// tells of.
const toastTime = 10 * time.Second

// toast is the answer to the last key.
type toast struct {
	text string
	bad  bool
	at   time.Time
}

func (b *Bench) say(text string) { b.toast = toast{text: text, at: b.now()} }

// refuse says why nothing was recorded.
func (b *Bench) refuse(err error) { b.toast = toast{text: err.Error(), bad: true, at: b.now()} }

// mention says something once no answer stands, so that none is lost.
func (b *Bench) mention(err error) {
	if err != nil {
		b.later = append(b.later, err.Error())
	}
}

// sayLater says what waits, once there is room.
func (b *Bench) sayLater() {
	if len(b.later) > 0 && !b.toast.standing(b.now()) {
		b.say(b.later[0])
		b.later = b.later[1:]
	}
}

// standing reports whether the answer is still to be shown.
func (t toast) standing(now time.Time) bool {
	return t.text != "" && now.Sub(t.at) < toastTime
}

// question waits for the key that it came from to be pressed again.
type question struct {
	press Press
	text  string
	then  func()
	at    time.Time
}

// wonder asks before something is done. Any other key is a no.
func (b *Bench) wonder(text string, then func()) {
	b.ask = &question{press: b.bounced.last, text: text, then: then, at: b.now()}
}

// answered takes the answer to a question; it reports whether the key was it.
func (b *Bench) answered(p Press) bool {
	q := b.ask
	b.ask = nil
	if q == nil || p != q.press || b.now().Sub(q.at) >= toastTime {
		return false
	}
	q.then()
	return true
}
