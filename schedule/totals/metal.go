package totals

import (
	"math"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// weight is what the scales said, when, and to whom.
type weight struct {
	at   time.Time
	hand schedule.ID
	body
}

// metal is the weights of one piece.
type metal struct {
	first, last weight
	weighed     int
	scrap       unit.Gram
	finished    bool
	done        time.Time
	by          schedule.ID
}

func (m *metal) weigh(w weight) {
	if w.What == schedule.PartScrap {
		m.scrap += w.Grams
		return
	}
	if m.weighed == 0 {
		m.first = w
	}
	m.last = w
	m.weighed++
}

// finish is the first word that the piece is done.
func (m *metal) finish(at time.Time, by schedule.ID) {
	if !m.finished {
		m.finished, m.done, m.by = true, at, by
	}
}

func (m *metal) sum(s *sheet) {
	if m.weighed > 0 {
		if c, ok := s.counts(m.first.at, m.first.hand); ok {
			c.In = milligrams(c.In + m.first.Grams)
		}
	}
	if !m.finished {
		return
	}
	c, ok := s.counts(m.done, m.by)
	if !ok {
		return
	}
	c.Finished++
	if m.weighed < 2 {
		c.Unweighed++
		return
	}
	c.Out, c.Scrap = milligrams(c.Out+m.last.Grams), milligrams(c.Scrap+m.scrap)
	c.Lost = milligrams(c.Lost + m.first.Grams - m.last.Grams - m.scrap)
}

// milligrams is a sum without the noise of binary fractions: no scales at a bench tell
// more.
func milligrams(g unit.Gram) unit.Gram { return unit.Gram(math.Round(1000*float64(g)) / 1000) }
