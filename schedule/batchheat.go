package schedule

import (
	"cmp"
	"encoding/binary"
	"maps"
	"slices"

	"dullred/alloys/unit"
)

// heatSearch looks for the fewest heats. Pieces with the same windows before them are
// alike, so that it counts them and knows no names. The order of joints does not
// matter to it: each is a heat more, whenever it comes.
//
// Two rules leave out what cannot be better. A heat takes all that fits: a piece that
// is added goes out of a later heat and spoils none. And of two pieces where the
// windows of one are the first windows of the other, the one with more before it goes
// first: what the two do after it can be exchanged until they have come equally far.
type heatSearch struct {
	chains  [][]heatWindow
	atOnce  int
	starts  []int // class of each piece; done where it has no anneal
	classes []heatClass
	ranges  []heatRange

	counts  []int // of each class that are waiting
	blocked []int // classes that a longer one goes before
	path    []heatMove
	way     []heatMove // the best that was found; nil while the greedy one is
	best    int
	budget  int
	seen    map[string]int // fewest heats to come to a state
	sums    []int          // of bound

	least  int  // heats that every order has
	fewest bool // best is the fewest
}

// heatClass is what a piece has before it.
type heatClass struct {
	head    heatWindow
	left    int // anneals
	next    int // class after the first of them; done where none is left
	shorter int // longest class whose windows are the first of these; done for none
	within  []int
}

// done is no class.
const done = -1

// heatTake is how many pieces of a class go into a heat.
type heatTake struct{ class, n int }

type heatMove []heatTake

// heatBudget bounds the search: figures looked at, about half a second's on
// the machine this was written on.
const heatBudget = 250_000_000

func newHeatSearch(job BatchJob) *heatSearch {
	s := &heatSearch{chains: job.chains(), atOnce: job.AtOnce, budget: heatBudget, seen: map[string]int{}}
	s.classify()
	s.shorten()
	s.ranges = rangesOf(s.chains)
	s.sums = make([]int, 3*len(s.ranges)+1)
	for i := range s.classes {
		s.classes[i].within = s.within(i)
	}
	s.counts, s.blocked = make([]int, len(s.classes)), make([]int, len(s.classes))
	for _, c := range s.starts {
		if c != done {
			s.counts[c]++
		}
	}
	return s
}

// classify gives every tail of every chain a class, equal ones the same.
func (s *heatSearch) classify() {
	type cell struct {
		head heatWindow
		next int
	}
	known := map[cell]int{}
	for _, chain := range s.chains {
		class := done
		for i := len(chain) - 1; i >= 0; i-- {
			at, ok := known[cell{chain[i], class}]
			if !ok {
				at = len(s.classes)
				known[cell{chain[i], class}] = at
				s.classes = append(s.classes, heatClass{head: chain[i], left: len(chain) - i, next: class})
			}
			class = at
		}
		s.starts = append(s.starts, class)
	}
}

// shorten finds for each class the longest other one that it begins with.
func (s *heatSearch) shorten() {
	type edge struct {
		node int
		next heatWindow
	}
	tree := map[edge]int{}
	ends := map[int]int{} // class that ends at a node
	walk := func(class int, at func(node int)) int {
		node := 0
		for c := class; c != done; c = s.classes[c].next {
			at(node)
			e := edge{node, s.classes[c].head}
			if tree[e] == 0 {
				tree[e] = len(tree) + 1
			}
			node = tree[e]
		}
		return node
	}
	for i := range s.classes {
		ends[walk(i, func(int) {})] = i
	}
	for i := range s.classes {
		s.classes[i].shorter = done
		walk(i, func(node int) {
			if c, ok := ends[node]; ok {
				s.classes[i].shorter = c
			}
		})
	}
}

// run finds the heats: the pieces of each, in the order of the list.
func (s *heatSearch) run() [][]int {
	found := s.greedy(false)
	if other := s.greedy(true); len(other) < len(found) {
		found = other
	}
	s.best, s.least = len(found), s.bound()
	s.search(0)
	s.fewest = s.best == s.least || s.budget > 0
	if s.fewest {
		s.least = s.best
	}
	if s.way == nil {
		return found
	}
	return s.named()
}

// greedy heats the piece with most anneals before it, and with it whatever else waits
// and fits: in the order of the list, or those first that have most before them.
func (s *heatSearch) greedy(longest bool) (heats [][]int) {
	at := make([]int, len(s.chains))
	order := make([]int, len(s.chains))
	for i := range order {
		order[i] = i
	}
	left := func(i int) int { return len(s.chains[i]) - at[i] }
	for {
		first := slices.MaxFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(left(a), left(b)), cmp.Compare(b, a)) })
		if left(first) == 0 {
			return heats
		}
		if longest {
			slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(left(b), left(a)), cmp.Compare(a, b)) })
		}
		heat, common := []int{first}, s.chains[first][at[first]]
		for _, i := range order {
			if i == first || left(i) == 0 || len(heat) == s.atOnce {
				continue
			}
			if both, ok := common.with(s.chains[i][at[i]]); ok {
				heat, common = append(heat, i), both
			}
		}
		for _, i := range heat {
			at[i]++
		}
		slices.Sort(heat)
		heats = append(heats, heat)
	}
}

// search goes on from so many heats.
func (s *heatSearch) search(used int) {
	bound := s.bound()
	if used+bound >= s.best {
		return
	}
	if bound == 0 {
		s.best, s.way = used, slices.Clone(s.path)
		return
	}
	if s.budget <= 0 {
		return
	}
	key := s.key()
	if was, ok := s.seen[key]; ok && was <= used {
		return
	}
	s.seen[key] = used
	for _, set := range s.together() {
		s.choose(used, set, nil, min(s.atOnce, s.waiting(set)))
	}
}

// over reports whether nothing better is to be found, or looked for.
func (s *heatSearch) over() bool { return s.best <= s.least || s.budget <= 0 }

// key is what waits.
func (s *heatSearch) key() string {
	var b []byte
	for c, n := range s.counts {
		if n > 0 {
			b = binary.AppendUvarint(binary.AppendUvarint(b, uint64(c)), uint64(n))
		}
	}
	return string(b)
}

// together are the largest sets of classes that may share a heat, those with most
// before them first, and so within each.
func (s *heatSearch) together() (sets [][]int) {
	lows := map[unit.Celsius]bool{}
	for c, n := range s.counts {
		if n > 0 {
			lows[s.classes[c].head.low] = true
		}
	}
	sorted := slices.Sorted(maps.Keys(lows))
	s.budget -= 8 * len(sorted) * len(s.counts)
	for i, at := range sorted {
		var set []int
		ends := i == len(sorted)-1
		for c, n := range s.counts {
			if w := s.classes[c].head; n > 0 && w.low <= at && at <= w.high {
				set = append(set, c)
				ends = ends || w.high < sorted[i+1]
			}
		}
		if ends {
			slices.SortStableFunc(set, func(a, b int) int { return cmp.Compare(s.classes[b].left, s.classes[a].left) })
			sets = append(sets, set)
		}
	}
	slices.SortStableFunc(sets, func(a, b []int) int { return cmp.Compare(s.classes[b[0]].left, s.classes[a[0]].left) })
	return sets
}

// choose fills what room a heat has left from classes that are waiting, in every way
// that may be best, and goes on from each.
func (s *heatSearch) choose(used int, waiting []int, taken heatMove, room int) {
	switch s.budget -= 100; {
	case s.over():
		return
	case room == 0:
		s.take(used, taken)
		return
	case s.waiting(waiting) < room:
		return
	}
	c, rest := waiting[0], waiting[1:]
	all := s.counts[c]
	most := min(all, room)
	if s.blocked[c] > 0 {
		most = 0
	}
	for n := most; n >= 0; n-- {
		if n < all {
			s.block(c, 1)
		}
		s.choose(used, rest, append(taken[:len(taken):len(taken)], heatTake{c, n}), room-n)
		if n < all {
			s.block(c, -1)
		}
	}
}

// waiting is how many pieces of some classes wait.
func (s *heatSearch) waiting(classes []int) (n int) {
	for _, c := range classes {
		n += s.counts[c]
	}
	return n
}

// block bars the classes that a class begins with, or frees them.
func (s *heatSearch) block(class, by int) {
	for c := s.classes[class].shorter; c != done; c = s.classes[c].shorter {
		s.blocked[c] += by
	}
}

// take heats, searches on and takes it back.
func (s *heatSearch) take(used int, move heatMove) {
	free := s.blocked
	s.blocked = make([]int, len(s.classes))
	s.heat(move, 1)
	s.path = append(s.path, move)
	s.search(used + 1)
	s.path = s.path[:len(s.path)-1]
	s.heat(move, -1)
	s.blocked = free
}

// heat moves pieces on by a heat, or back.
func (s *heatSearch) heat(move heatMove, by int) {
	for _, t := range move {
		s.counts[t.class] -= by * t.n
		if next := s.classes[t.class].next; next != done {
			s.counts[next] += by * t.n
		}
	}
}

// named puts the pieces of each class into the heats that were found, in the order of
// the list.
func (s *heatSearch) named() (heats [][]int) {
	at := slices.Clone(s.starts)
	for _, move := range s.way {
		var heat []int
		for i, c := range at {
			if j := slices.IndexFunc(move, func(t heatTake) bool { return t.class == c && t.n > 0 }); j >= 0 {
				heat = append(heat, i)
				move[j].n--
			}
		}
		for _, i := range heat {
			at[i] = s.classes[at[i]].next
		}
		heats = append(heats, heat)
	}
	return heats
}
