package schedule

import (
	"slices"
	"time"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// Advice is what to do with a piece at a moment. The zone that decides gives
// the figures; Zones has them all.
type Advice struct {
	ZoneAdvice
	Stop     string   // which zones to stop drawing, by the plan; empty without any
	Next     string   // the next step, in words
	Reasons  []string // why, with the numbers
	Cautions []string // what can hurt now
	Sources  []string // where the figures come from
	Zones    []ZoneAdvice

	tables *alloys.Book // it was given on; their version is reckoned for who keeps it
}

// ZoneAdvice is the state of one zone against its limit.
type ZoneAdvice struct {
	Zone     string
	Verdict  Verdict
	Done     coldwork.Estimate // strain since it was last soft
	Limit    coldwork.Limit
	Spent    float64 // share of the limit; 0 without one
	Courses  coldwork.Courses
	Forecast bool // whether Courses is known
	Hand     coldwork.Hand
}

// Worked is the rolling reduction that would have put in the same strain.
func (z ZoneAdvice) Worked() unit.ThicknessReduction { return z.Done.Strain.Worked() }

// soonChance is the chance that the next course crosses the limit from which
// the advice is to anneal soon.
const soonChance = 0.10

// Advise says what to do at a moment. Observations of the same hands on other
// pieces sharpen the forecast.
func (s *State) Advise(now time.Time, others *Observed) Advice {
	return s.AdviseOn("", now, others)
}

// AdviseOn is Advise with the figures and words of one zone, whichever decides;
// a name that the piece does not have leaves it to the one that does.
func (s *State) AdviseOn(name string, now time.Time, others *Observed) Advice {
	if len(s.Silenced) > 0 || !s.Started {
		return s.silent()
	}
	a := Advice{tables: s.tables()}
	for _, z := range s.Zones {
		a.Zones = append(a.Zones, s.adviseZone(z, others))
	}
	a.ZoneAdvice = slices.MaxFunc(a.Zones, urgency)
	if i := slices.IndexFunc(a.Zones, func(z ZoneAdvice) bool { return z.Zone == name }); i >= 0 {
		a.ZoneAdvice = a.Zones[i]
	}
	zone, _ := s.Zone(a.Zone)
	w := words{state: s, zone: zone, advice: &a, now: now}
	if a.Verdict != VerdictFinished {
		a.Stop = s.stopNear()
	}
	a.Next = w.next()
	a.Reasons = w.reasons()
	a.Cautions = w.cautions()
	a.Sources = w.sources()
	return a
}

// silent is the advice of a piece whose entries cannot all be read.
func (s *State) silent() Advice {
	a := Advice{Reasons: slices.Clone(s.Silenced), tables: s.tables()}
	if !s.Started {
		a.Reasons = append(a.Reasons, "the piece was never started")
	}
	a.Next = "look at the log of this piece; void what is wrong, or read the record with the version that wrote it"
	a.Cautions = []string{"No advice is not a carry on: judge by hand and ear, and anneal when in doubt."}
	return a
}

func (s *State) adviseZone(z Zone, others *Observed) ZoneAdvice {
	a := ZoneAdvice{Zone: z.Name, Done: s.Worked(z, others), Limit: s.limit(z.Condition, others)}
	if a.Limit.Known() {
		a.Spent = float64(a.Done.Strain / a.Limit.Strain)
		process := z.Process
		if process == "" {
			process = coldwork.Lengthen
		}
		a.Hand = s.HandOf(z, process, others)
		known, unread := z.Tally.Unread(process)
		a.Courses = a.Hand.LeftUnread(s.worked(z, known, others), unread, a.Limit.Strain)
		a.Forecast = true
	}
	a.Verdict = s.verdict(z, a)
	if a.Verdict == VerdictFinished { // there is nothing to forecast
		return ZoneAdvice{Zone: a.Zone, Verdict: a.Verdict, Done: a.Done}
	}
	return a
}

// verdict is never carry on without a limit and a section, and never while a
// crack is open.
func (s *State) verdict(z Zone, a ZoneAdvice) Verdict {
	switch z.Heat.Phase {
	case InFlame:
		return VerdictHeating
	case AtHeat:
		return VerdictSoak
	case OutOfFlame:
		return VerdictWait
	}
	switch {
	case !z.Pickle.In.IsZero():
		return VerdictPickle
	case s.Done():
		return VerdictFinished
	case z.Crack == CrackOpen:
		return VerdictFileCrack // before the bend check, which would drive it on
	case z.Heat.Phase == Cooled:
		return VerdictProve
	case !z.Tally.Section().Known():
		return VerdictUnknown
	case s.Alloy.SelfSoftening:
		return VerdictNoAnneal
	case s.Test:
		return VerdictCarryOn // to the split, which is what it is for
	case !a.Limit.Known():
		return VerdictUnknown
	case a.Done.Strain >= a.Limit.Strain:
		return VerdictAnnealNow
	case a.Courses.NextCrosses >= soonChance && a.Done.Strain > 0:
		return VerdictAnnealSoon
	}
	return VerdictCarryOn // metal with no work in it gains nothing from an anneal
}

// urgency orders zones by what cannot wait: a heat under way, a crack, a heat to
// be proved, then the work by how much of the limit is spent.
func urgency(a, b ZoneAdvice) int {
	if d := a.Verdict.rank() - b.Verdict.rank(); d != 0 {
		return d
	}
	switch {
	case a.Spent > b.Spent:
		return 1
	case a.Spent < b.Spent:
		return -1
	}
	return 0
}

func (v Verdict) rank() int {
	return slices.Index([]Verdict{VerdictFinished, VerdictNoAnneal, VerdictCarryOn, VerdictAnnealSoon, VerdictUnknown,
		VerdictAnnealNow, VerdictProve, VerdictFileCrack, VerdictPickle, VerdictWait, VerdictHeating, VerdictSoak}, v)
}
