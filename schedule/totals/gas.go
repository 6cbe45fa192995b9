package totals

import (
	"cmp"
	"slices"
	"time"

	"dullred/schedule"
)

// gas is what burned, by day and bench.
type gas map[hearth]*burned

// hearth is a bench on a day.
type hearth struct {
	day   time.Time // its beginning
	bench schedule.ID
}

// burned is the flame of the heats that began there that day, and of the torches that
// were lit; logged is whether one was lit and put out.
type burned struct {
	heats, torch time.Duration
	logged       bool
}

func (g gas) at(s *sheet, t time.Time, bench schedule.ID) *burned {
	y, m, d := t.In(s.Place).Date()
	h := hearth{time.Date(y, m, d, 0, 0, 0, 0, s.Place), bench}
	if g[h] == nil {
		g[h] = &burned{}
	}
	return g[h]
}

// burn adds the torches of every bench.
func (b *Book) burn(s *sheet, days gas) {
	for bench, events := range b.torch {
		slices.SortStableFunc(events, func(x, y event) int { return cmp.Compare(x.at, y.at) })
		var lit time.Time
		var by schedule.ID
		for _, e := range events {
			at, stand := time.UnixMicro(e.at).UTC(), b.stands[e.stand]
			if stand.kind == schedule.KindTorchLit {
				lit, by = at, stand.hand
				continue
			}
			if _, counts := s.counts(lit, by); counts && !lit.IsZero() {
				day := days.at(s, lit, bench)
				day.torch, day.logged = day.torch+s.elapsed(lit, at, bench), true
			}
			lit = time.Time{}
		}
	}
}

// sum adds each day to its period.
func (g gas) sum(s *sheet) {
	for h, b := range g {
		begins := s.By.begins(h.day)
		if s.at[begins] == nil {
			s.at[begins] = &Counts{}
		}
		c := s.at[begins]
		if b.logged {
			c.Gas, c.GasFrom = c.Gas+b.torch, c.GasFrom|FromTorch
		} else {
			c.Gas, c.GasFrom = c.Gas+b.heats, c.GasFrom|FromHeats
		}
	}
}
