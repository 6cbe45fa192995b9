package schedule

import (
	"time"

	"dullred/alloys/unit"
)

// Ledger is how much fire-stain a piece can have taken: heats under a coat of
// flux, heats without, and the time above 500 °C, all zones of one heat as one.
type Ledger struct {
	Protected   int
	Unprotected int
	Hot         time.Duration // above stainFrom
	Measured    int           // heats of which a thermocouple gave the time
}

// stainFrom is where copper oxide begins to form under the skin of silver alloys
// within minutes: about 537 °C is printed for sterling (a data page on
// fire-scale); 500 °C is taken to err early.
const stainFrom unit.Celsius = 500

// Heats are all the heats that were begun.
func (l Ledger) Heats() int { return l.Protected + l.Unprotected }

// count takes one heat more.
func (l *Ledger) count(protected bool) {
	if protected {
		l.Protected++
		return
	}
	l.Unprotected++
}
