package tui

import (
	"cmp"
	"slices"
	"sync/atomic"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/tui/view"
)

// Bench is the bench screen without a screen. Its methods are called from one
// goroutine.
type Bench struct {
	desk     Desk
	demo     func() Desk // what an empty bench offers to look at; nil for nothing
	line     line
	location *time.Location

	pieces  []*piece
	hands   map[schedule.ID]string
	benches map[schedule.ID]string // other ones
	hearth  []schedule.Entry       // of the bench as a whole
	clocks  []schedule.Entry
	others  map[schedule.ID]*schedule.Observed // by piece, as far as they were asked for

	shown   schedule.ID      // the piece on the screen
	zone    string           // chosen; empty is the whole piece
	process coldwork.Process // chosen; empty is as the course before
	against string           // the step of the plan that it was chosen against; empty for none
	page    view.Page
	scroll  int
	curve   curved
	with    map[schedule.ID]bool // pieces that go into one heat
	met     map[schedule.ID]bool // pieces that wait and that n has come to
	theme   view.Theme
	picked  bool       // the smith chose the theme
	light   heat.Light // of the room, until one is logged
	shade   float64    // of the filter before the eyes
	style   unit.Style // of the figures on the screen

	limits   alert.Limits
	since    time.Time           // when somebody could first look, or look again
	expected time.Duration       // since boot, when the screen is to be woken; 0 for not
	told     map[string]*telling // by the key of the alert
	unsaved  []schedule.Entry    // alerts that could not be written
	derived  derived

	lookout Lookout                 // nil for none
	sharing atomic.Pointer[Sharing] // set by another goroutine

	drill    *drilling // nil but in a lesson
	lead     lead
	form     form // nil for none
	opened   bool // by the last key
	ask      *question
	toast    toast
	later    []string // what is to be said once no answer stands
	bounced  bounce
	done     []deed // what can be undone, the last at the end
	occasion string // of the caution that was shown last
	caution  string
	width    int
	height   int
	quit     bool
}

// Config is what a Bench is made of.
type Config struct {
	Desk     Desk
	Demo     func() Desk // offered when the desk is empty; nil for nothing
	Clock    Clock
	Location *time.Location // of the times that are shown

	Limits alert.Limits // zero for the usual ones
	Light  heat.Light   // of the room, until one is logged
	Shade  float64      // of the filter before the smith's eyes; 0 for none
	Theme  view.Theme   // the look to begin with
	Style  unit.Style   // how figures are written; the zero one as they are

	Sharing Lookout // nil for a record that nobody shares

	Drill Lesson // to be given on an empty desk; nil for none
}

// NewBench loads a desk.
func NewBench(c Config) (*Bench, error) {
	b := &Bench{desk: c.Desk, demo: c.Demo, line: line{clock: c.Clock}, location: c.Location,
		with: map[schedule.ID]bool{}, met: map[schedule.ID]bool{}, limits: c.Limits, light: c.Light, shade: c.Shade, style: c.Style, theme: c.Theme, picked: c.Theme != view.Dark, lookout: c.Sharing}
	if b.limits == (alert.Limits{}) {
		b.limits = alert.Usual()
	}
	b.line.look()
	if err := b.load(); err != nil {
		return nil, err
	}
	b.since = b.now()
	if c.Drill != nil {
		d, err := newDrilling(b, c.Drill)
		if err != nil {
			return nil, err
		}
		b.drill = d
	}
	b.raise()
	return b, nil
}

// load takes all that is on the desk. What was chosen stays chosen.
func (b *Bench) load() error {
	contents, err := b.desk.Load()
	if err != nil {
		return err
	}
	if len(contents.Clocks) > len(b.clocks) {
		b.line.settle() // another program wrote the jump that this one would find
	}
	b.derived = derived{}
	b.hearth, b.clocks = contents.Bench, contents.Clocks
	b.hands, b.benches = contents.Hands, contents.Others
	b.others = map[schedule.ID]*schedule.Observed{}
	b.pieces = nil
	for _, l := range contents.Pieces {
		b.pieces = append(b.pieces, newPiece(b.book(), l, b.clocks))
	}
	b.findLine()
	b.sortPieces()
	if b.current() == nil {
		b.choose(b.first())
	}
	return nil
}

func (b *Bench) book() *alloys.Book { return b.desk.Book() }

// findLine goes on with the line of time that the record has. A record whose
// last entry of this bench lies ahead of the clock tells that the clock was set
// back while the program was not running: the line goes on from that entry.
func (b *Bench) findLine() {
	bench, _ := b.desk.Who()
	wall := b.line.clock.Wall()
	b.line.ahead = schedule.Ahead(b.clocks, bench, wall)
	if last := b.lastEntry(bench); last.After(b.line.now().Add(schedule.LeastJump)) {
		b.setClock(b.line.now().Sub(last))
	}
}

// lastEntry is when the last entry of a bench was, by the clock of that bench. An alert
// has the time of its cause, which another bench may have dated ahead of this one.
func (b *Bench) lastEntry(bench schedule.ID) (last time.Time) {
	look := func(entries []schedule.Entry) {
		for i := range entries {
			if e := &entries[i]; e.Bench == bench && e.At.After(last) && !e.At.After(e.Written) {
				last = e.At
			}
		}
	}
	look(b.hearth)
	for _, p := range b.pieces {
		look(p.entries)
	}
	return last
}

// sortPieces puts the piece that was worked last first.
func (b *Bench) sortPieces() {
	slices.SortStableFunc(b.pieces, func(x, y *piece) int { return y.state().Last.Compare(x.state().Last) })
}

// first is the piece that cannot wait: hot or timing, else the one worked last that is
// not finished; those of this bench before those of others.
func (b *Bench) first() *piece {
	timing := func(p *piece) bool { return len(p.timers(b.now())) > 0 }
	open := func(p *piece) bool { return !p.state().Done() }
	here := slices.DeleteFunc(slices.Clone(b.pieces), func(p *piece) bool { return b.place(p) != "" })
	for _, pieces := range [][]*piece{here, b.pieces} {
		for _, fits := range []func(*piece) bool{timing, open} {
			if i := slices.IndexFunc(pieces, fits); i >= 0 {
				return pieces[i]
			}
		}
	}
	if len(b.pieces) > 0 {
		return b.pieces[0]
	}
	return nil
}

// current is the piece on the screen; nil when there is none.
func (b *Bench) current() *piece {
	i := slices.IndexFunc(b.pieces, func(p *piece) bool { return p.id == b.shown })
	if i < 0 {
		return nil
	}
	return b.pieces[i]
}

// choose puts a piece on the screen, as a whole.
func (b *Bench) choose(p *piece) {
	b.shown, b.zone, b.process, b.against, b.scroll = "", "", "", "", 0
	if p != nil {
		b.shown = p.id
		delete(b.others, p.id) // what others did meanwhile counts
	}
}

func (b *Bench) now() time.Time { return b.line.now() }

// observed is what the hands of a piece did on other pieces. What cannot be read is
// done without: the forecast is then less sharp, and errs early.
func (b *Bench) observed(p *piece) *schedule.Observed {
	if known, ok := b.others[p.id]; ok {
		return known
	}
	seen, err := b.desk.Others(p.id, p.state())
	if err != nil {
		b.refuse(err)
	}
	b.others[p.id] = seen
	p.state().Learn(seen)
	p.running, p.onPlan, p.why = nil, nil, nil
	return seen
}

// advice is the advice for the piece on the screen, in the zone that was chosen.
// Only the page read close has words in it that change with time.
func (b *Bench) advice(p *piece) schedule.Advice {
	if b.zone == "" && b.page != view.Near {
		return b.judged(p)
	}
	return p.state().AdviseOn(b.zone, b.now(), b.observed(p))
}

// Reload reads the desk again, because others have written to it.
func (b *Bench) Reload() {
	if err := b.load(); err != nil {
		b.refuse(err)
	}
}

// Resize tells how large the screen is.
func (b *Bench) Resize(width, height int) { b.width, b.height = width, height }

// Theme is the look that was chosen, or the one that suits the light.
func (b *Bench) Theme() view.Theme {
	if !b.picked && b.hearthState().Light == heat.LightDark {
		return view.Hearth
	}
	return b.theme
}

func (b *Bench) hearthState() schedule.Bench {
	if b.derived.hearth == nil {
		bench, _ := b.desk.Who()
		state := schedule.FoldBench(bench, b.hearth)
		state.Light, state.Watch = cmp.Or(state.Light, b.light), b.limits.FireWatch
		b.derived.hearth = &state
	}
	return *b.derived.hearth
}

// derived is what the entries come to, kept until one is added. What depends on
// the moment as well is kept with its moment.
type derived struct {
	hearth *schedule.Bench

	at    time.Time
	since time.Time
	stand []alert.Standing
	known bool
}

// Quit reports whether the smith has ended the program.
func (b *Bench) Quit() bool { return b.quit }

// Timing reports whether a step of a heat, a pickle or the torch runs.
func (b *Bench) Timing() bool { return len(b.busy()) > 0 }

// busy names what is hot or timing.
func (b *Bench) busy() (names []string) {
	for _, p := range b.pieces {
		switch timers := p.timers(b.now()); {
		case p.hot():
			names = append(names, p.name+" is HOT")
		case len(timers) > 0:
			names = append(names, p.name+": "+string(timers[0].Step))
		}
	}
	if !b.hearthState().Torch.IsZero() {
		names = append(names, "the torch is lit")
	}
	return names
}
