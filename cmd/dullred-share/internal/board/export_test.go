package board

import "time"

// Screen is what a terminal shows of a feed.
func Screen(t Terminal, f *Feed) string {
	p, _ := f.Look()
	return t.screen(p)
}

// Drawn is what a terminal shows of a picture.
func Drawn(t Terminal, p *Picture) string { return t.screen(p) }

// Show gives a picture to those who look at a feed that does not run.
func Show(f *Feed, p *Picture) { f.show(p) }

// Renew has a feed that does not run yet read all again after a while.
func Renew(f *Feed, after time.Duration) { f.renew = after }
