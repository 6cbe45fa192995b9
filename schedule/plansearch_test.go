package schedule

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/alloys/unit"
)

// line is a way whose stops stand at strains along it: the work between two of them
// is the difference, as on every straight way.
func line(strains []float64) planPath {
	n := len(strains)
	p := planPath{stops: make([]planStop, n), work: make([]float64, n*n)}
	for i := range strains {
		for j := i + 1; j < n; j++ {
			p.work[i*n+j] = strains[j] - strains[i]
		}
	}
	return p
}

func drawLine(t *rapid.T, stops int, name string) planPath {
	at, strains := 0.0, []float64{0}
	for range rapid.IntRange(0, stops).Draw(t, name+" stops") {
		at += float64(rapid.IntRange(1, 12).Draw(t, name+" gap")) / 20
		strains = append(strains, at)
	}
	return line(strains)
}

// drawSearch is a small job: a bar that is drawn as a whole or is not, 1 to 3
// zones, and limits of any size.
func drawSearch(t *rapid.T) *planSearch {
	s := &planSearch{
		first: float64(rapid.IntRange(2, 20).Draw(t, "first")) / 20,
		limit: float64(rapid.IntRange(2, 20).Draw(t, "limit")) / 20,
		least: rapid.SampledFrom([]float64{0, 0.12, 0.27}).Draw(t, "least"),
	}
	start := planStart{cast: rapid.Bool().Draw(t, "cast"), work: unit.Strain(rapid.IntRange(0, 6).Draw(t, "work")) / 20}
	if rapid.Bool().Draw(t, "together") {
		trunk := drawLine(t, 3, "trunk")
		if trunk.last() > 0 {
			s.trunk = &trunk
		}
	}
	for range rapid.IntRange(1, 3).Draw(t, "zones") {
		s.zones = append(s.zones, &planTarget{start: start, path: drawLine(t, 3, "zone")})
	}
	soft, aim := rapid.Bool().Draw(t, "soft"), float64(rapid.IntRange(0, 3).Draw(t, "aim"))/4
	s.end = func(_ *planTarget, work, limit float64) (short, share float64, ok bool) {
		share = work / limit
		return max(0, aim-share), share, !soft || work < 0.05
	}
	return s
}

// tally is one zone followed through its intervals, as the rules are told: nothing
// above the limit, a little work is left out of a heat and stays, and metal is cast
// until an anneal that met half of the first limit.
type tally struct {
	work  float64
	cast  bool
	cost  planCost // short, largest share
	sum   float64
	legal bool
}

func (s *planSearch) brute(path []float64, start planStart) tally {
	t := tally{work: float64(start.work), cast: start.cast, legal: true}
	for k, inc := range path {
		limit := s.limit
		if t.cast {
			limit = s.first
		}
		t.work += inc
		if inc > 0 && t.work > limit+1e-12 {
			t.legal = false
		}
		if k == len(path)-1 {
			short, share, ok := s.end(nil, t.work, limit)
			t.legal = t.legal && ok && (inc == 0 || share <= 1+1e-12)
			t.cost.short += short
			t.add(share)
			break
		}
		if inc > 0 || t.work <= limit+1e-9 {
			t.add(t.work / limit)
		}
		if t.work > 0 && t.work >= s.least {
			t.cast = t.cast && t.work < s.first/2-1e-9 // on the line it is wrought, however the sum was rounded
			t.work = 0
		}
	}
	return t
}

func (t *tally) add(share float64) {
	t.cost.share = max(t.cost.share, share)
	t.sum += share * share
}

// splits are all ways to come from stop 0 to the last in n intervals.
func splits(p *planPath, n int) (all [][]int) {
	var walk func(at int, so []int)
	walk = func(at int, so []int) {
		if len(so) == n {
			if at == p.last() {
				all = append(all, append([]int(nil), so...))
			}
			return
		}
		for to := at; to <= p.last(); to++ {
			walk(to, append(so, to))
		}
	}
	walk(0, nil)
	return all
}

func (p *planPath) incs(stops []int) (incs []float64) {
	at := 0
	for _, to := range stops {
		inc := 0.0
		if to > at {
			inc = p.between(at, to)
		}
		incs, at = append(incs, inc), to
	}
	return incs
}

// bruteBest tries every way of the bar and for each every way of every zone: the
// least it finds for short, then largest share. Zones go on where the bar ends.
func (s *planSearch) bruteBest(n int) planCost {
	best := never
	none := line([]float64{0})
	trunk := s.trunk
	if trunk == nil {
		trunk = &none
	}
	for _, way := range splits(trunk, n) {
		total := planCost{}
		for _, z := range s.zones {
			c := s.bruteZone(trunk.incs(way), z)
			total = planCost{total.short + c.short, max(total.share, c.share)}
		}
		if total.less(best) {
			best = total
		}
	}
	return best
}

// bruteZone is the best way of a zone that goes on no sooner than the bar has come
// to its end.
func (s *planSearch) bruteZone(bar []float64, z *planTarget) planCost {
	best := never
	last := 0
	for k, inc := range bar {
		if inc > 0 {
			last = k
		}
	}
	for _, way := range splits(&z.path, len(bar)) {
		if incs := z.path.incs(way); !early(incs, last) {
			for k := range incs {
				incs[k] += bar[k]
			}
			if t := s.brute(incs, z.start); t.legal && t.cost.less(best) {
				best = t.cost
			}
		}
	}
	return best
}

func early(incs []float64, last int) bool {
	for _, inc := range incs[:last] {
		if inc > 0 {
			return true
		}
	}
	return false
}

// The search must find what trying everything finds: as few anneals, as near the
// temper, and as small a largest share.
func TestPlanSearchIsExact(t *testing.T) {
	const most = 6
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			if drawSearch(t).exact(t, most) {
				solved++
			}
		}
	})
	require.Greater(t, solved, 20, "most small jobs have a plan")
}

// exact compares a search with what trying everything finds in so many intervals,
// and reports whether there was a plan.
func (s *planSearch) exact(t *rapid.T, most int) bool {
	got, ok := s.run()
	for n := 1; n <= most; n++ {
		want := s.bruteBest(n)
		if math.IsInf(want.short, 1) {
			require.False(t, ok && got.intervals <= n, "%d intervals cannot be", n)
			continue
		}
		require.True(t, ok, "there is a plan of %d intervals", n)
		require.Equal(t, n, got.intervals, "the fewest")
		short, share := s.walk(t, got)
		require.InDelta(t, want.short, short, 1e-6, "nearest the temper")
		require.InDelta(t, want.share, share, 1e-6, "the smallest largest share")
		return true
	}
	return false
}

// walk follows a found plan by the plain rules.
func (s *planSearch) walk(t require.TestingT, f found) (short, share float64) {
	for i, z := range s.zones {
		var incs []float64
		for k := range f.fork.whole {
			inc := 0.0
			if from, to := f.fork.stops[k], f.fork.stops[k+1]; to > from {
				inc = s.trunk.between(from, to)
			}
			incs = append(incs, inc)
		}
		rest := z.path.incs(f.zones[i])
		if at := f.fork.stops[f.fork.whole]; s.trunk != nil && at < s.trunk.last() {
			rest[0] += s.trunk.between(at, s.trunk.last())
		}
		w := s.brute(append(incs, rest...), z.start)
		require.True(t, w.legal, "zone %d breaks a rule", i)
		short, share = short+w.cost.short, max(share, w.cost.share)
	}
	return short, share
}

// Even steps: of two plans with the same largest share the one with the smaller sum
// of squares, by trying all of one zone.
func TestPlanSearchIsEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			s := drawSearch(t)
			s.trunk, s.zones = nil, s.zones[:1]
			if f, ok := s.run(); ok && f.intervals <= 6 {
				s.even(t, f)
			}
		}
	})
}

// even requires that no way of a search's only zone is as good and more even.
func (s *planSearch) even(t *rapid.T, f found) {
	short, share := s.walk(t, f)
	zone := s.zones[0]
	got := s.brute(zone.path.incs(f.zones[0]), zone.start)
	for _, way := range splits(&zone.path, f.intervals) {
		w := s.brute(zone.path.incs(way), zone.start)
		if w.legal && w.cost.short < short+1e-9 && w.cost.share < share+1e-9 {
			require.LessOrEqual(t, got.sum, w.sum+1e-6)
		}
	}
}

func TestSpareEnds(t *testing.T) {
	// 3 % and 12 % of the thickness: (2/√3) ln(1/(1-r))
	require.InDelta(t, 0.0352, softBelow(), 2e-4)
	require.InDelta(t, 0.1476, coarseBelow(), 2e-4)
}
