package main

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/tui"
)

// watcher says what changes. It reads no clock: step is given one.
type watcher struct {
	desk   tui.Desk
	limits alert.Limits
	say    func(string) string // in the style of who reads; nil for as it is
	only   schedule.ID         // the piece that is told of; empty is all of them

	stale   bool  // the desk has news
	trouble error // why it cannot be read
	tale    string
	dirty   bool // what was read is to be folded anew
	clocks  []schedule.Entry
	steps   []schedule.Entry // those of clocks that are settled
	bench   []schedule.Entry
	hearth  schedule.Bench
	pieces  []*watched
	latest  time.Time // of the entries of this bench

	last    schedule.Clocks
	ahead   time.Duration // of the line of time
	now     time.Time     // of this step, on that line
	pending *clockStep
	planned time.Duration // boot time of the next wake; 0 for none
	from    time.Time     // since when somebody could look

	verdicts  map[string]schedule.Verdict // as told, by piece and zone
	running   map[string]bool             // timers and prompts that were told
	sounding  map[schedule.ID]*sounding   // alerts that were told
	unwritten []schedule.Entry            // alerts that the record did not take
	fault     error                       // why not
}

func watcherOf(d tui.Desk, l alert.Limits) *watcher {
	return &watcher{desk: d, limits: l, stale: true, verdicts: map[string]schedule.Verdict{},
		running: map[string]bool{}, sounding: map[schedule.ID]*sounding{}}
}

// watched is one piece with what it comes to.
type watched struct {
	tui.Loaded
	state  schedule.State
	others *schedule.Observed // of its hands, on other pieces
	advice schedule.Advice
}

// hear takes the answer of the record to whether others wrote, and reports whether
// there is anything to do about it.
func (w *watcher) hear(changed bool, err error) bool {
	if err != nil {
		w.trouble = told(err)
		return w.trouble.Error() != w.tale
	}
	w.stale = w.stale || changed || w.trouble != nil
	return w.stale
}

// step gives what is to be told at a moment. What must be on disk before it is
// told has been written when it returns.
func (w *watcher) step(at schedule.Clocks) (out []line) {
	if w.stale {
		w.reload(at.Wall)
	}
	out = append(w.keepTime(at), w.troubleLines()...)
	w.fold()
	out = append(out, w.verdictLines()...)
	out = append(out, w.timerLines()...)
	due := slices.DeleteFunc(w.due(), func(a alert.Alert) bool { return !w.tells(a.Piece) })
	out = append(out, w.promptLines(due)...)
	return append(out, w.alertLines(due)...)
}

// reload reads the desk. What cannot be read stays as it was.
func (w *watcher) reload(wall time.Time) {
	c, err := w.desk.Load()
	if w.trouble = err; err != nil {
		return
	}
	w.stale, w.dirty = false, true
	w.clocks, w.bench, w.pieces = c.Clocks, c.Bench, nil
	w.look(c.Bench)
	for _, l := range c.Pieces {
		w.pieces = append(w.pieces, &watched{Loaded: l})
		w.look(l.Entries)
	}
	if len(w.steps) == 0 && w.from.IsZero() {
		w.steps = c.Clocks // at the start
	}
	if w.pending == nil {
		w.ahead = schedule.Ahead(w.clocks, w.id(), wall)
	}
}

// look takes the time of the latest entry of this bench. An alert has the time of its
// cause, which another bench may have dated ahead of this one.
func (w *watcher) look(entries []schedule.Entry) {
	for _, e := range entries {
		if e.Bench == w.id() && e.At.After(w.latest) && !e.At.After(e.Written) {
			w.latest = e.At
		}
	}
}

func (w *watcher) id() schedule.ID {
	bench, _ := w.desk.Who()
	return bench
}

// fold makes of the entries what they come to.
func (w *watcher) fold() {
	if !w.dirty {
		return
	}
	w.dirty = false
	steps := w.clocks
	bench := w.bench
	if w.pending != nil {
		steps = append(slices.Clip(steps), w.pending.entry)
		bench = append(slices.Clip(bench), w.pending.entry)
	}
	w.hearth = schedule.FoldBench(w.id(), bench)
	for _, p := range w.pieces {
		p.state = schedule.FoldIn(w.desk.Book(), slices.Concat(steps, p.Entries))
		p.others, _ = w.desk.Others(p.ID, &p.state) // without them the forecast is less sharp, and errs early
		p.state.Learn(p.others)
		p.advice = p.state.Advise(w.now, p.others)
	}
	slices.SortStableFunc(w.pieces, func(x, y *watched) int {
		return cmp.Or(cmp.Compare(haste(x), haste(y)), cmp.Compare(y.advice.Spent, x.advice.Spent), strings.Compare(x.Name, y.Name))
	})
}

// hasty are the verdicts of pieces from what cannot wait to what can. Among the zones
// of one piece a heat under way comes first; among pieces, metal that will split.
var hasty = []schedule.Verdict{schedule.VerdictSoak, schedule.VerdictHeating, schedule.VerdictWait, schedule.VerdictFileCrack,
	schedule.VerdictAnnealNow, schedule.VerdictProve, schedule.VerdictPickle, schedule.VerdictAnnealSoon, schedule.VerdictUnknown,
	schedule.VerdictCarryOn, schedule.VerdictNoAnneal, schedule.VerdictFinished}

func haste(p *watched) int { return slices.Index(hasty, p.advice.Verdict) }

func (w *watcher) tells(id schedule.ID) bool { return w.only == "" || id == w.only || id == w.id() }

// told are the pieces that are told of, what cannot wait first.
func (w *watcher) told() (some []*watched) {
	for _, p := range w.pieces {
		if w.tells(p.ID) {
			some = append(some, p)
		}
	}
	return some
}

func (w *watcher) line(word, what string) line {
	return line{at: w.now, word: word, what: what, say: w.say}
}
