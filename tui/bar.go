package tui

import (
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/tui/view"
)

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
