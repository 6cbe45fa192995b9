package board

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/coldwork"
)

// Row is a piece as it stands, by the zone that decides; or a bench that has an alert of
// its own, such as a torch that was left lit, with no piece.
type Row struct {
	ID       schedule.ID // of the piece, or of the bench
	Bench    string      // where it was last
	Piece    string
	Alloy    string
	Zone     string // empty for a piece that is one zone
	Verdict  schedule.Verdict
	Spent    float64          // share of the limit; negative when none is known
	Courses  coldwork.Courses // that are left
	Forecast bool             // whether Courses is known
	Hot      time.Time        // since when some of it is hot; zero when it is not
	Dark     bool             // some of it is hot and out of the flame, where soon nothing glows
	Alerts   []alert.Standing // raised and not acknowledged, the most urgent first
	Last     time.Time        // of its last entry
}

// row is a piece as it stands.
func (b *Board) row(p *piece, now time.Time) Row {
	a, state := p.advice, &p.folded.State
	r := Row{ID: schedule.ID(p.id), Bench: b.named(p.bench, "bench"), Piece: b.named(schedule.ID(p.id), "piece"), Alloy: state.Alloy.Name,
		Verdict: a.Verdict, Spent: -1, Courses: a.Courses, Forecast: a.Forecast, Hot: p.hot(), Dark: p.dark(), Alerts: p.latched(now), Last: p.last}
	if a.Zone != schedule.Whole {
		r.Zone = a.Zone
	}
	if a.Limit.Known() {
		r.Spent = a.Spent
	}
	for i := range r.Alerts {
		r.Alerts[i].Name = r.Piece
	}
	return r
}

// Presses reports whether it is hot, or an alert waits.
func (r Row) Presses() bool { return !r.Hot.IsZero() || len(r.Alerts) > 0 }

// Priority is that of its most urgent alert; a prompt where none waits.
func (r Row) Priority() (p alert.Priority) {
	for _, a := range r.Alerts {
		p = max(p, a.Priority())
	}
	return p
}

// hasty are the verdicts from what cannot wait to what can, in the order in which
// dullred watch tells of pieces.
var hasty = []schedule.Verdict{schedule.VerdictSoak, schedule.VerdictHeating, schedule.VerdictWait, schedule.VerdictFileCrack,
	schedule.VerdictAnnealNow, schedule.VerdictProve, schedule.VerdictPickle, schedule.VerdictAnnealSoon, schedule.VerdictUnknown,
	schedule.VerdictCarryOn, schedule.VerdictNoAnneal, schedule.VerdictFinished}

// nearest orders rows: their rank, hot metal that nobody sees glow, what cannot wait, the
// share of the limit.
func nearest(x, y Row) int {
	return cmp.Or(cmp.Compare(x.Rank(), y.Rank()), -compare(x.Dark, y.Dark),
		cmp.Compare(slices.Index(hasty, x.Verdict), slices.Index(hasty, y.Verdict)), cmp.Compare(y.Spent, x.Spent),
		strings.Compare(x.Piece, y.Piece), cmp.Compare(x.ID, y.ID))
}

// compare puts false before true.
func compare(x, y bool) int {
	switch {
	case x == y:
		return 0
	case y:
		return -1
	}
	return 1
}

// Title is the piece with the zone that decides; nothing for a row of a bench.
func (r Row) Title() string {
	if r.Zone == "" {
		return r.Piece
	}
	return r.Piece + ", " + r.Zone
}

// State is how it stands in a few words: "anneal soon", "HOT, soak", "anneal now, HOT"
// where another zone is hot; nothing for a row of a bench, whose alerts say it.
func (r Row) State() string {
	verdict := r.Verdict.String()
	switch {
	case r.Piece == "":
		return ""
	case r.Hot.IsZero():
		return verdict
	case r.Rank() == Stop:
		return verdict + ", " + r.heat()
	case r.Verdict == schedule.VerdictSoak || r.Verdict == schedule.VerdictHeating:
		return "HOT, " + verdict
	}
	return r.heat()
}

// heat is that it is hot, and whether that can be seen.
func (r Row) heat() string {
	if r.Dark {
		return "HOT, not glowing"
	}
	return "HOT"
}

// Share is the share of the limit, "87 %"; a dash where no limit is known.
func (r Row) Share() string {
	if r.Spent < 0 {
		return "-"
	}
	return fmt.Sprintf("%.0f %%", 100*r.Spent)
}

// Left is how many courses are left, "2 to 4"; nothing where it says nothing: without a
// forecast, and while a heat or a crack comes first.
func (r Row) Left() string {
	switch r.Verdict {
	case schedule.VerdictCarryOn, schedule.VerdictAnnealSoon, schedule.VerdictAnnealNow:
	default:
		return ""
	}
	switch c := r.Courses; {
	case !r.Forecast:
		return ""
	case c.Low == c.High:
		return fmt.Sprint(c.Low)
	default:
		return fmt.Sprintf("%d to %d", c.Low, c.High)
	}
}
