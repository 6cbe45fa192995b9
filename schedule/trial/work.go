package trial

import (
	"dullred/alloys/unit"
	"dullred/schedule/split"
)

// rule is when to anneal: after a number of courses (0: any), when the work that
// was read reaches a strain, or when it comes within a margin of the strain at
// which the interval will split, which only an oracle knows.
type rule struct {
	courses int
	stop    float64
	oracle  bool
	margin  float64
}

// outcome is what became of a piece.
type outcome struct {
	heats int
	split bool
}

// work hammers a piece to its end by a rule and hands every interval, as it was
// read, to log if that is not nil. The smith reads the bar after every course,
// and at once where it splits. A piece that splits is lost. The last course
// stops at the size.
func (p *piece) work(r rule, log func(split.Interval)) (o outcome) {
	total, course := 0.0, 0
	for {
		in := p.interval(r, o.heats, course, float64(p.shop.Total)-total)
		if log != nil {
			log(split.Interval{Strain: unit.Strain(in.read), Split: in.split})
		}
		total += in.strain
		course += in.courses
		if in.split || in.done {
			o.split = in.split
			return o
		}
		o.heats++
	}
}

// interval is one stretch of work between anneals: the strain it had and the one
// that was read.
type interval struct {
	strain, read float64
	courses      int
	split, done  bool
}

// interval works from soft metal until the rule, the size or the split ends it.
func (p *piece) interval(r rule, number, course int, left float64) (in interval) {
	limit, before := p.limit(number), p.misreads.at(course)
	stop := r.stop
	if r.oracle {
		stop = short(limit, r.margin)
	}
	for {
		in.strain += p.shop.stiffened(p.course(course+in.courses), in.strain)
		in.courses++
		if in.strain >= left {
			in.strain, in.done = left, true
		}
		if in.strain > limit {
			in.strain, in.split = limit, true
		}
		in.read = in.strain + p.misreads.at(course+in.courses) - before
		if in.split || in.done || in.read >= stop || in.courses == r.courses {
			return in
		}
	}
}
