package tui

import "time"

// Special is a key that types no character.
type Special uint8

// The keys that are told apart. None is a character.
const (
	None Special = iota
	Enter
	Escape
	Backspace
	Tab
	Up
	Down
	PageUp
	PageDown
	Help   // F1
	Cancel // Ctrl-C
	Rings  // F2
	Bounces
	Springs
	Stops
	Dead // F6
	End  // F9
)

// Press is one key as it was pressed: a character, or a Special.
type Press struct {
	Rune rune
	Key  Special
}

// bounceTime is how long a key that comes again counts as the same press: worn
// switches and gloved fingers hit twice.
const bounceTime = 250 * time.Millisecond

// bounce drops presses that come again within bounceTime of the last one seen,
// counted or not.
type bounce struct {
	last Press
	at   time.Time
}

// again reports whether a press is a bounce of the last one.
func (b *bounce) again(p Press, now time.Time) bool {
	d := now.Sub(b.at)
	again := p == b.last && d >= 0 && d < bounceTime
	b.last, b.at = p, now
	return again
}
