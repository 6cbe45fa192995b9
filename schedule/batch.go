package schedule

import (
	"errors"
	"fmt"
	"math"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
)

// BatchPiece is a piece of a batch.
type BatchPiece struct {
	Name string
	Plan Plan
	From int // the step of its plan that is next; as many as there are when none is left
}

// BatchJob is what is to be made together.
type BatchJob struct {
	Pieces []BatchPiece
	AtOnce int           // most pieces in one heat; 0 takes BatchAtOnce
	Day    time.Duration // that is worked in a day; 0 does not divide into days
}

// BatchAtOnce is how many pieces share a heat where nothing else is said: what one
// hand keeps apart and turns on a small hearth (a judgement).
const BatchAtOnce = 6

// Batch is the order in which pieces are worked and heated together. A heat is one
// lighting of the torch: its pieces are annealed in it one after the other, so that
// lighting, water and pickle are shared.
type Batch struct {
	Rounds []BatchRound  // in order
	Heats  int           // lightings of the torch, those that solder among them
	Joints int           // heats that solder, each for one piece
	Alone  int           // lightings if each piece were heated by itself
	Fewest bool          // no order of the same steps has fewer heats
	Least  int           // heats that every order has; Heats where Fewest
	AtOnce int           // most pieces in one heat
	Days   int           // 1 where it is not divided
	Torch  time.Duration // in the flame and held at heat, over all pieces
	Total  time.Duration // of one smith, until the last piece is cool; see BatchOf
	Notes  []string      // what the smith must know before he follows it
}

// BatchRound is what is hammered, and then a heat. A round that a day ends in goes on
// as the first of the next, and the last round may have no heat.
type BatchRound struct {
	Day   int           // from 1
	Work  []BatchWork   // in order
	Heat  BatchHeat     // without pieces where none follows
	Takes time.Duration // from its first blow until the torch goes out, as expected
}

// BatchWork is a piece that is worked through some steps of its plan, none of them a
// heat.
type BatchWork struct {
	Piece    int // of the job, from 0
	From, To int // the steps From to To-1 of its plan
}

// BatchHeat is a heat of one piece or more.
type BatchHeat struct {
	Act       PlanAct      // DoAnneal or DoSolder
	Pieces    []int        // of the job, in the order in which they are heated
	Steps     []int        // of the plan of each
	Low, High unit.Celsius // that all of them have in common; 0 where none is published
	Torch     time.Duration
}

// BatchOf plans pieces together that have a plan each. It puts every anneal of every
// piece into a heat, in the order of its plan, in as few heats as it can:
//
//   - pieces share a heat where their windows have a temperature in common, which is
//     then the window of the heat; a step for which none is published shares with the
//     same alloy alone;
//   - no heat has more than AtOnce pieces, and none a piece twice;
//   - a joint is soldered in a heat of its own.
//
// A piece waits at its stop for its heat. It is never worked past the step at which
// its own plan has the anneal, and no step is left out or done before another, so
// that it crosses no limit that its plan does not cross.
//
// The heats are searched by a branch and bound whose bound is exact in the plain
// cases; past so many steps of the search the best that was found is given, and Fewest
// is false. The work before a heat starts with the piece that comes nearest its
// limit; one that is still hot rests while a cool one is hammered.
//
// Total is an estimate: one smith, who does one thing at a time, by the minutes of
// the plans. A piece cools beside the others and is waited for only where nothing
// else is to be done before its turn. Overnight all are cool. Lighting, pickle,
// stamping and fitting are not reckoned, as in a plan. A day ends where the next step
// or heat does not fit into it; one that is longer than a day has a day of its own.
//
// An error says what is wrong with the job in one sentence.
func BatchOf(job BatchJob) (Batch, error) {
	if job.AtOnce == 0 {
		job.AtOnce = BatchAtOnce
	}
	if err := job.check(); err != nil {
		return Batch{}, err
	}
	heats := newHeatSearch(job)
	found := heats.run()
	day := batchDay{job: job, day: 1}
	day.begin()
	out := day.order(found)
	out.Fewest, out.Least, out.AtOnce = heats.fewest, heats.least+out.Joints, job.AtOnce
	out.Notes = job.notes(out, day.long)
	return out, nil
}

func (job BatchJob) check() error {
	switch {
	case len(job.Pieces) == 0:
		return errors.New("a batch needs a piece")
	case job.AtOnce < 0:
		return fmt.Errorf("%d pieces cannot share a heat", job.AtOnce)
	case job.Day < 0:
		return fmt.Errorf("a day of %v cannot be worked", job.Day)
	}
	names := map[string]bool{}
	for _, p := range job.Pieces {
		if names[p.Name] {
			return fmt.Errorf("%s is in the batch twice", p.Name)
		}
		names[p.Name] = true
		if err := p.check(); err != nil {
			return err
		}
	}
	return nil
}

func (p BatchPiece) check() error {
	if n := len(p.Plan.Steps); p.From < 0 || p.From > n {
		return fmt.Errorf("%s has %s and cannot be at step %d", p.Name, count(n, "step"), p.From+1)
	}
	for i, s := range p.Plan.Steps {
		if s.Act == DoAnneal && !(s.Low <= s.High) {
			return fmt.Errorf("step %d of %s is annealed at %g to %g °C, which is no window", i+1, p.Name, float64(s.Low), float64(s.High))
		}
		if !(s.Minutes >= 0 && s.Minutes <= math.MaxInt32) {
			return fmt.Errorf("step %d of %s takes %g minutes", i+1, p.Name, s.Minutes)
		}
	}
	return nil
}

// isHeat reports whether the torch is lit for a step.
func (s PlanStep) isHeat() bool { return s.Act == DoAnneal || s.Act == DoSolder }

// lit is how long the torch burns in a step, all of it where its plan does not say.
func (s PlanStep) lit() time.Duration {
	if s.Flame > 0 && s.Flame < s.Minutes {
		return minutes(s.Flame)
	}
	return minutes(s.Minutes)
}

// notes are what holds for the whole batch.
func (job BatchJob) notes(b Batch, long bool) (notes []string) {
	notes = append(notes, "Time is an estimate for one smith, by the minutes of the plans: a piece cools while others are worked. Lighting, pickle, stamping and fitting are not in it.")
	if long {
		notes = append(notes, "A step or a heat is longer than the day: it has a day of its own and runs over.")
	}
	if job.mixesIron(b) {
		notes = append(notes, "Iron and steel share a heat here and never the pickle: iron in it plates everything else with copper.")
	}
	return notes
}

// mixesIron reports whether iron shares a heat with another metal.
func (job BatchJob) mixesIron(b Batch) bool {
	for _, r := range b.Rounds {
		iron := 0
		for _, p := range r.Heat.Pieces {
			alloy, err := alloys.Default().Find(job.Pieces[p].Plan.Job.Alloy)
			if err == nil && alloy.Family == "steel" {
				iron++
			}
		}
		if iron > 0 && iron < len(r.Heat.Pieces) {
			return true
		}
	}
	return false
}
