package schedule

import (
	"slices"
	"time"
)

// batchDay puts the heats of a batch in order, with the work before each, and goes by
// the clock of the day.
type batchDay struct {
	job   BatchJob
	at    []int           // the step of each piece that is next
	ready []time.Duration // when each piece is cool
	clock time.Duration   // of the day
	since time.Duration   // when the round began
	day   int
	round BatchRound
	long  bool // something takes longer than a day
	out   Batch
}

func (d *batchDay) begin() {
	d.ready = make([]time.Duration, len(d.job.Pieces))
	for _, p := range d.job.Pieces {
		d.at = append(d.at, p.From)
		for _, s := range p.Plan.Steps[p.From:] {
			if s.isHeat() {
				d.out.Alone++
			}
		}
	}
}

// order makes the rounds of heats whose pieces are known. Joints that come before the
// next anneal of a piece are soldered when it is its turn.
func (d *batchDay) order(heats [][]int) Batch {
	for _, pieces := range heats {
		d.joints(pieces)
		d.work(pieces)
		d.heat(pieces)
	}
	all := make([]int, len(d.job.Pieces))
	for i := range all {
		all[i] = i
	}
	d.joints(all)
	d.work(all)
	d.close()
	d.out.Total += d.ends()
	d.out.Days = d.day
	return d.out
}

// joints solders what pieces have to be soldered before their next anneal.
func (d *batchDay) joints(pieces []int) {
	for _, p := range pieces {
		for i := d.heatOf(p); i < len(d.steps(p)) && d.steps(p)[i].Act == DoSolder; i = d.heatOf(p) {
			d.work([]int{p})
			d.heat([]int{p})
		}
	}
}

func (d *batchDay) steps(piece int) []PlanStep { return d.job.Pieces[piece].Plan.Steps }

// heatOf is the next step of a piece that is a heat; as many as it has where none is.
func (d *batchDay) heatOf(piece int) int {
	i := d.at[piece]
	for i < len(d.steps(piece)) && !d.steps(piece)[i].isHeat() {
		i++
	}
	return i
}

// work brings pieces up to their next heat, or to their end.
func (d *batchDay) work(pieces []int) {
	pieces = slices.Clone(pieces)
	for len(pieces) > 0 {
		i := d.first(pieces)
		p := pieces[i]
		for end := d.heatOf(p); d.at[p] < end; d.at[p]++ {
			d.step(p)
		}
		pieces = slices.Delete(pieces, i, i+1)
	}
}

// first is which of some pieces is worked first: of those that are cool the one that
// comes nearest its limit, else the one that is cool soonest.
func (d *batchDay) first(pieces []int) (best int) {
	before := func(a, b int) bool {
		if wait := max(d.clock, d.ready[a]) - max(d.clock, d.ready[b]); wait != 0 {
			return wait < 0
		}
		return d.share(a) > d.share(b)
	}
	for i := range pieces {
		if before(pieces[i], pieces[best]) {
			best = i
		}
	}
	return best
}

// share is how near its limit a piece comes before its next heat.
func (d *batchDay) share(piece int) (share float64) {
	for _, s := range d.steps(piece)[d.at[piece]:d.heatOf(piece)] {
		share = max(share, s.LimitSpent)
	}
	return share
}

// step does a step of a piece that is no heat, tomorrow if it does not fit today.
func (d *batchDay) step(piece int) {
	takes := minutes(d.steps(piece)[d.at[piece]].Minutes)
	if d.over(max(d.clock, d.ready[piece]) + takes) {
		d.nextDay()
		d.over(takes)
	}
	d.clock = max(d.clock, d.ready[piece]) + takes
	if n := len(d.round.Work); n > 0 && d.round.Work[n-1].Piece == piece {
		d.round.Work[n-1].To++
		return
	}
	d.round.Work = append(d.round.Work, BatchWork{Piece: piece, From: d.at[piece], To: d.at[piece] + 1})
}

// over reports whether something that ends then does not fit into the day. It has to,
// at the beginning of one.
func (d *batchDay) over(end time.Duration) bool {
	if d.job.Day == 0 || end <= d.job.Day {
		return false
	}
	d.long = d.long || d.clock == 0
	return d.clock > 0
}

// nextDay ends the day. The round goes on in the next one, as another.
func (d *batchDay) nextDay() {
	d.close()
	d.out.Total += d.ends()
	d.clock, d.since = 0, 0
	clear(d.ready)
	d.day++
}

// ends is when the last piece of the day is cool.
func (d *batchDay) ends() time.Duration { return max(d.clock, slices.Max(d.ready)) }

// close ends a round, if anything was done in it.
func (d *batchDay) close() {
	if len(d.round.Work)+len(d.round.Heat.Pieces) == 0 {
		return
	}
	d.round.Day, d.round.Takes = d.day, d.clock-d.since
	d.out.Rounds = append(d.out.Rounds, d.round)
	d.round, d.since = BatchRound{}, d.clock
}

// heat does the next heat of pieces, one after the other, and ends the round.
func (d *batchDay) heat(pieces []int) {
	burnt, cool := d.fire(pieces)
	if d.over(max(burnt, slices.Max(cool))) {
		d.nextDay()
		burnt, cool = d.fire(pieces)
		d.over(max(burnt, slices.Max(cool)))
	}
	h := d.heatFor(pieces)
	for i, p := range pieces {
		d.ready[p] = cool[i]
		d.at[p]++
	}
	d.clock, d.round.Heat = burnt, h
	d.out.Heats++
	d.out.Torch += h.Torch
	if h.Act == DoSolder {
		d.out.Joints++
	}
	d.close()
}

// fire is when the torch goes out after a heat of pieces, and when each is cool.
func (d *batchDay) fire(pieces []int) (burnt time.Duration, cool []time.Duration) {
	burnt = d.clock
	for _, p := range pieces {
		s := d.steps(p)[d.at[p]]
		burnt = max(burnt, d.ready[p]) + s.lit()
		cool = append(cool, burnt+minutes(s.Minutes)-s.lit())
	}
	return burnt, cool
}

// heatFor is the heat of pieces that are all before one.
func (d *batchDay) heatFor(pieces []int) (h BatchHeat) {
	for i, p := range pieces {
		s := d.steps(p)[d.at[p]]
		if h.Act = s.Act; i == 0 {
			h.Low, h.High = s.Low, s.High
		}
		h.Low, h.High = max(h.Low, s.Low), min(h.High, s.High)
		h.Pieces, h.Steps = append(h.Pieces, p), append(h.Steps, d.at[p])
		h.Torch += s.lit()
	}
	return h
}
