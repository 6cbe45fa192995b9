package picture

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"dullred/schedule"
)

// mostHands is how many hands a figure shows.
const mostHands = 24

// Lesson is what the figure of a class is made from.
type Lesson struct {
	Title   string // such as the day
	Stories []Story
	Called  func(schedule.ID) string // what a hand is called
	From    time.Time                // heats begun before it do not count; zero is no bound
	Until   time.Time                // nor those begun at it or later
}

// begun is one heat of a hand.
type begun struct {
	share float64
	proof Proof
}

// Class is the share of its limit that metal had spent as each hand put it into the
// fire. Heats for solder, heats again on metal that a heat had not proved soft, test
// pieces and metal without work or limit are left out, and counted.
func Class(l Lesson) Figure {
	f := Figure{ID: "class", Title: titled(l.Title, "share of the limit at which each hand annealed")}
	hands, left := l.heats()
	if len(hands) == 0 {
		f.Panels = []Panel{{Empty: "No heat on worked metal whose limit is known."}}
	} else {
		f.Panels = []Panel{l.panel(hands)}
	}
	if more := len(hands) - mostHands; more > 0 {
		f.Notes = append(f.Notes, fmt.Sprintf("... and %d more hands, which are not shown.", more))
	}
	if left > 0 {
		f.Notes = append(f.Notes, fmt.Sprintf("%s not shown: for solder, again after a heat that was not proved soft, on a test piece, or on metal without work or a known limit.", counted(left, "heat")))
	}
	f.Desc = strings.Join(some(append([]string{f.Panels[0].Empty, classWords(hands)}, f.Notes...)), " ")
	return f
}

// heats are those that are judged, by hand, and how many are not.
func (l Lesson) heats() (hands map[schedule.ID][]begun, left int) {
	hands = map[schedule.ID][]begun{}
	for _, s := range l.Stories {
		for _, h := range s.Heats {
			if h.At.Before(l.From) || !l.Until.IsZero() && !h.At.Before(l.Until) || h.Hand == "" {
				continue
			}
			share, known := h.Share()
			if s.Test || h.Joint || h.Again || !known {
				left++
				continue
			}
			hands[h.Hand] = append(hands[h.Hand], begun{share, h.Proof()})
		}
	}
	return hands, left
}

// seat is a hand with what it is called.
type seat struct {
	hand schedule.ID
	name string
}

// seats are the hands in the order of their names.
func (l Lesson) seats(hands map[schedule.ID][]begun) (all []seat) {
	for id := range hands {
		name := ""
		if l.Called != nil {
			name = plain(l.Called(id))
		}
		all = append(all, seat{id, cmp.Or(name, "unnamed")})
	}
	slices.SortFunc(all, func(a, b seat) int {
		return cmp.Or(strings.Compare(a.name, b.name), strings.Compare(string(a.hand), string(b.hand)))
	})
	return all
}

// panel is a row for each hand.
func (l Lesson) panel(hands map[schedule.ID][]begun) Panel {
	seats := l.seats(hands)
	seats = seats[:min(len(seats), mostHands)]
	n := len(seats)
	p := Panel{X: Axis{Label: "share of the limit spent as the heat began (%)"}, High: 8 + 6*float64(n),
		Y: Axis{Label: "hand", Min: 0.4, Max: float64(n) + 0.6, Ticks: []Tick{}}}
	looks := map[Proof]*Series{Soft: {Name: "heat, proved soft", Marker: Square}, Springy: {Name: "heat, proved springy", Marker: Cross},
		Never: {Name: "heat, not proved", Marker: Ring}}
	top := 110.0
	for i, s := range seats {
		y := float64(n - i)
		p.Y.Ticks = append(p.Y.Ticks, Tick{y, shortName(s.name)})
		for _, h := range hands[s.hand] {
			proof := h.proof
			if proof == Open {
				proof = Never
			}
			looks[proof].Points = append(looks[proof].Points, Point{X: 100 * h.share, Y: y})
			top = upTo(top, 105*h.share)
		}
	}
	p.X.Max = top
	for _, proof := range []Proof{Soft, Springy, Never} {
		if len(looks[proof].Points) > 0 {
			p.Series = append(p.Series, *looks[proof])
		}
	}
	p.Rules = []Rule{{Name: "half of the limit: early before it (a judgement)", At: 50, Upright: true, Stroke: Dotted}, {Name: "the limit", At: 100, Upright: true, Stroke: LongDash}}
	return p
}

func classWords(hands map[schedule.ID][]begun) string {
	if len(hands) == 0 {
		return ""
	}
	n, early, over := 0, 0, 0
	least, most := hands[firstOf(hands)][0].share, 0.0
	for _, all := range hands {
		for _, h := range all {
			n++
			least, most = min(least, h.share), max(most, h.share)
			if h.share < 0.5 {
				early++
			}
			if h.share >= 1 {
				over++
			}
		}
	}
	between := fmt.Sprintf("%.0f to %.0f", 100*least, 100*most)
	if n == 1 {
		between = fmt.Sprintf("%.0f", 100*most)
	}
	return fmt.Sprintf("%s of %s began with %s %% of the limit spent; %d before half of it, %d at it or over.",
		counted(n, "heat"), counted(len(hands), "hand"), between, early, over)
}

func firstOf(hands map[schedule.ID][]begun) (first schedule.ID) {
	for id := range hands {
		if first == "" || id < first {
			first = id
		}
	}
	return first
}
