package schedule

import (
	"math"
	"slices"
	"sync"

	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// mostAnneals ends the search: no piece of a bench takes more.
const mostAnneals = 60

// softBelow is the strain of 3 % rolled off, under which an anneal has nothing to
// soften.
func softBelow() float64 {
	soft, _ := spareEnds()
	return soft
}

// coarseBelow is the strain of 12 % rolled off, up to which an anneal makes coarse grain.
func coarseBelow() float64 {
	_, coarse := spareEnds()
	return coarse
}

// spareEnds are read off heat.Spare, so that there is one rule, when a plan first asks.
var spareEnds = sync.OnceValues(func() (soft, coarse float64) {
	words := ""
	for s := 0.0005; s < 1; s += 0.0001 {
		now := heat.Spare(unit.Strain(s))
		if words != "" && now != words && soft == 0 {
			soft = s
		}
		if now == "" {
			return soft, s
		}
		words = now
	}
	return soft, coarse
})

// planCost orders plans of as many anneals: how far the end is from the wanted
// temper, then either the largest share or the sum of squared shares.
type planCost struct{ short, share float64 }

var never = planCost{math.Inf(1), math.Inf(1)}

func (c planCost) less(d planCost) bool {
	if math.Abs(c.short-d.short) > 1e-9 {
		return c.short < d.short
	}
	return c.share < d.share-1e-9
}

// planSearch is the search for a job whose zones have their ways. Shares are added
// as squares once a cap on them is known; before that the largest counts.
type planSearch struct {
	first, limit float64 // limits as cast and wrought
	least        float64 // work that is worth an anneal
	trunk        *planPath
	zones        []*planTarget
	end          func(z *planTarget, work, limit float64) (short, share float64, ok bool)
	cap          float64 // most share of any interval
	squares      bool

	rest [][][2][]planCost // by zone, intervals left less 1, cast or not, stop
}

func castIndex(cast bool) int {
	if cast {
		return 1
	}
	return 0
}

func (s *planSearch) limitOf(cast bool) float64 {
	if cast {
		return s.first
	}
	return s.limit
}

// join puts the share of one more interval to a cost.
func (s *planSearch) join(c planCost, share float64) planCost {
	if s.squares {
		c.share += share * share
	} else {
		c.share = max(c.share, share)
	}
	return c
}

// both is the cost of two parts of a plan.
func (s *planSearch) both(c, d planCost) planCost {
	if s.squares {
		return planCost{c.short + d.short, c.share + d.share}
	}
	return planCost{c.short + d.short, max(c.share, d.share)}
}

// interval is what becomes of a zone that goes between two anneals with work in it
// already: whether that may be, whether the anneal that follows counts, and whether
// the metal is still as cast then.
func (s *planSearch) interval(carried, inc float64, cast bool) (share float64, annealed, still, ok bool) {
	w, limit := carried+inc, s.limitOf(cast)
	switch {
	case math.IsInf(inc, 1):
		return 0, false, cast, false
	case w == 0:
		return 0, false, cast, true
	case inc > 0 && w > limit*s.cap+1e-12:
		return 0, false, cast, false
	case inc > 0 && w < s.least:
		return 0, false, cast, false
	}
	if share = w / limit; inc == 0 && share > s.cap+1e-9 {
		share = 0 // it came so: the anneal is first
	}
	annealed = w >= s.least
	return share, annealed, cast && !(annealed && w >= castDone*s.first-1e-9), true
}

// choice is where a zone goes in an interval.
type choice struct {
	cost planCost
	to   int
}

// step is the best for a zone that stands at a stop with some intervals left.
func (s *planSearch) step(z, left, at int, cast bool, carried float64) choice {
	best := choice{never, at}
	path := &s.zones[z].path
	if left == 1 {
		return choice{s.finish(z, at, cast, carried), path.last()}
	}
	for to := at; to <= path.last(); to++ {
		inc := 0.0
		if to > at {
			inc = path.between(at, to)
		}
		share, annealed, still, ok := s.interval(carried, inc, cast)
		if !ok {
			continue
		}
		var next planCost
		if annealed || carried+inc == 0 {
			next = s.rest[z][left-2][castIndex(still)][to]
		} else {
			next = s.step(z, left-1, to, still, carried).cost
		}
		if c := s.join(next, share); c.less(best.cost) {
			best = choice{c, to}
		}
	}
	return best
}

// finish is the cost of the last interval, which goes to the end.
func (s *planSearch) finish(z, at int, cast bool, carried float64) planCost {
	zone, inc := s.zones[z], 0.0
	if last := zone.path.last(); at < last {
		inc = zone.path.between(at, last)
	}
	short, share, ok := s.end(zone, carried+inc, s.limitOf(cast))
	if !ok || inc > 0 && share > s.cap+1e-12 {
		return never
	}
	return s.join(planCost{short: short}, share)
}

// layer adds one interval to what is known of the rest of the ways.
func (s *planSearch) layer() {
	if s.rest == nil {
		s.rest = make([][][2][]planCost, len(s.zones))
	}
	for z := range s.zones {
		left := len(s.rest[z]) + 1
		var both [2][]planCost
		for c := range both {
			row := make([]planCost, s.zones[z].path.last()+1)
			for at := range row {
				row[at] = s.step(z, left, at, c == 1, 0).cost
			}
			both[c] = row
		}
		s.rest[z] = append(s.rest[z], both)
	}
}

// fork is where the bar stands when its zones part: after so many whole intervals,
// from a stop of the trunk from which it goes to its end.
type fork struct {
	cost    planCost
	whole   int   // intervals of the trunk alone
	stops   []int // where it stands after each of them; the last is where the next begins
	cast    bool
	carried float64
}

// parting is the way of the bar as a whole, up to an interval.
type parting struct {
	cost    planCost
	cast    bool
	carried float64
	stops   []int
}

// best is the best plan of n intervals.
func (s *planSearch) best(n int) fork {
	start := s.zones[0].start
	best := fork{cost: never}
	level := []parting{{cast: start.cast, carried: float64(start.work), stops: []int{0}}}
	for whole := range n {
		for _, p := range level {
			if f := s.part(p, n-whole); f.cost.less(best.cost) {
				f.whole = whole
				best = f
			}
		}
		if s.trunk == nil {
			return best
		}
		level = s.onward(level)
	}
	return best
}

// part ends the trunk in this interval and lets each zone go on in it.
func (s *planSearch) part(p parting, left int) fork {
	f := fork{cost: p.cost, stops: p.stops, cast: p.cast, carried: p.carried}
	if at := p.stops[len(p.stops)-1]; s.trunk != nil && at < s.trunk.last() {
		inc := s.trunk.between(at, s.trunk.last())
		if p.carried+inc > s.limitOf(p.cast)*s.cap+1e-12 {
			f.cost = never
			return f
		}
		f.carried += inc
	}
	for z := range s.zones {
		cast, carried := s.startOf(z, f)
		f.cost = s.both(f.cost, s.step(z, left, 0, cast, carried).cost)
	}
	return f
}

// startOf is how a zone leaves the fork. Without a trunk each has its own start.
func (s *planSearch) startOf(z int, f fork) (cast bool, carried float64) {
	if s.trunk == nil {
		return s.zones[z].start.cast, float64(s.zones[z].start.work)
	}
	return f.cast, f.carried
}

// onward is every way in which the bar as a whole comes through one more interval,
// the best for each stop and state.
func (s *planSearch) onward(level []parting) (next []parting) {
	for _, p := range level {
		at := p.stops[len(p.stops)-1]
		for to := at; to < s.trunk.last(); to++ {
			inc := 0.0
			if to > at {
				inc = s.trunk.between(at, to)
			}
			share, annealed, still, ok := s.interval(p.carried, inc, p.cast)
			if !ok {
				continue
			}
			q := parting{cost: s.join(p.cost, share), cast: still}
			if !annealed {
				q.carried = p.carried + inc
			}
			next = keep(next, q, append(p.stops[:len(p.stops):len(p.stops)], to))
		}
	}
	return next
}

// keep adds a parting unless one that stands alike is as good.
func keep(all []parting, q parting, stops []int) []parting {
	to := stops[len(stops)-1]
	i := slices.IndexFunc(all, func(p parting) bool {
		return p.stops[len(p.stops)-1] == to && p.cast == q.cast && p.carried == q.carried
	})
	q.stops = stops
	switch {
	case i < 0:
		return append(all, q)
	case q.cost.less(all[i].cost):
		all[i] = q
	}
	return all
}

// found is the plan of the search: for each interval where the bar as a whole
// stops, and where each zone does.
type found struct {
	intervals int
	fork      fork
	zones     [][]int // by zone, its stop after each interval from the fork on
}

// run looks for the fewest intervals, then for the evenest plan of as many. It is
// false if more than mostAnneals would be needed.
func (s *planSearch) run() (found, bool) {
	s.cap, s.squares, s.rest = 1, false, nil
	for n := 1; n <= mostAnneals+1; n++ {
		s.layer()
		f := s.best(n)
		if math.IsInf(f.cost.short, 1) {
			continue
		}
		s.cap, s.squares, s.rest = min(1, f.cost.share+1e-9), true, nil
		for range n {
			s.layer()
		}
		return s.trace(n), true
	}
	return found{}, false
}

// trace is the best plan of n intervals, zone by zone.
func (s *planSearch) trace(n int) found {
	f := found{intervals: n, fork: s.best(n)}
	for z := range s.zones {
		cast, carried := s.startOf(z, f.fork)
		at, stops := 0, []int(nil)
		for left := n - f.fork.whole; left > 0; left-- {
			c := s.step(z, left, at, cast, carried)
			inc := 0.0
			if c.to > at {
				inc = s.zones[z].path.between(at, c.to)
			}
			_, annealed, still, _ := s.interval(carried, inc, cast)
			if carried += inc; annealed {
				carried, cast = 0, still
			}
			at = c.to
			stops = append(stops, at)
		}
		f.zones = append(f.zones, stops)
	}
	return f
}
