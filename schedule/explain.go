package schedule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
)

// Explanation is the arithmetic of an advice, so that it can be done again with a
// pocket calculator.
type Explanation struct {
	Zone    string   // which zone it is about; empty when nothing can be advised
	Lines   []Why    // in the order in which the sum is done
	Picture []string // hardness over work, at most 64 by 12 plain characters; none where nothing is published
}

// Why is one step of the sum.
type Why struct {
	Head string `json:"head"` // one word: step, bend, total, limit, share, ...
	Text string `json:"text"`
}

// Explain is the sum behind the advice for one zone, or for the one that decides
// when the name is not one of the piece. Its figures are those of Advise with the
// same observations. Bends and twists come as one figure: see ExplainFrom.
func (s *State) Explain(zone string, others *Observed) Explanation {
	return s.ExplainFrom(nil, zone, others)
}

// ExplainFrom is Explain with the entries that the state was folded from, in any
// order: bends, twists and courses that no reading shows come one by one.
func (s *State) ExplainFrom(entries []Entry, zone string, others *Observed) Explanation {
	if len(s.Silenced) > 0 || !s.Started {
		return s.unexplained()
	}
	advice := Advice{}
	for _, z := range s.Zones {
		advice.Zones = append(advice.Zones, s.adviseZone(z, others))
	}
	advice.ZoneAdvice = slices.MaxFunc(advice.Zones, urgency)
	if i := slices.IndexFunc(advice.Zones, func(z ZoneAdvice) bool { return z.Zone == zone }); i >= 0 {
		advice.ZoneAdvice = advice.Zones[i]
	}
	z, _ := s.Zone(advice.Zone)
	e := explainer{words: words{state: s, zone: z, advice: &advice}, others: others}
	e.terms = e.addends(entries)
	e.digits = e.enough()
	return e.explain()
}

// Explain is that of the state, with every bend and twist by itself.
func (p *Piece) Explain(zone string, others *Observed) Explanation {
	return p.State.ExplainFrom(p.entries, zone, others)
}

func (s *State) unexplained() Explanation {
	var out Explanation
	for _, reason := range s.silent().Reasons {
		out.Lines = append(out.Lines, Why{"unknown", reason})
	}
	return out
}

// explainer writes the sum of one zone.
type explainer struct {
	words
	others *Observed
	terms  []term
	digits int // decimals of a strain
	out    Explanation
}

func (e *explainer) say(head, format string, args ...any) {
	e.out.Lines = append(e.out.Lines, Why{head, fmt.Sprintf(format, args...)})
}

// addends are the work since the zone was last soft.
func (e *explainer) addends(entries []Entry) (terms []term) {
	t := e.zone.Tally
	for _, c := range t.Changes() {
		if !c.Broken || c.From != c.To {
			terms = append(terms, changeTerm(c))
		}
	}
	terms = append(terms, e.state.apart(e.zone, entries)...)
	if len(t.Pending()) == 0 {
		return terms
	}
	return append(terms, struck{t.Pending(), float64(t.Measured(e.state.Calliper).Strain), func(p coldwork.Process) coldwork.Hand {
		return e.state.HandOf(e.zone, p, e.others)
	}}.term())
}

func (e *explainer) explain() Explanation {
	e.out.Zone = e.zone.Name
	if len(e.advice.Zones) > 1 {
		e.say("zone", "%s is explained here; %s", e.zone.Name, e.zones())
	}
	e.tellWork()
	e.tellShare()
	e.tellForecast()
	e.say("verdict", "%v: %s", e.advice.Verdict, e.because())
	e.tellCurve()
	return e.out
}

// tellWork is the sum up to the total.
func (e *explainer) tellWork() {
	d, done := e.digits, e.advice.Done
	e.say("soft", "the sum starts at %v, where the metal was started or last proved soft", e.zone.Tally.SoftAt())
	if n := e.zone.Unproven; n > 0 {
		e.say("heat", "%s not proved soft: the sum goes on", count(n, "heat"))
	}
	var parts []string
	for _, t := range e.terms {
		text, _ := t.write(d)
		e.say(t.head, "%s", text)
		if t.value > 0 {
			parts = append(parts, fixed(t.value, d))
		}
	}
	e.say("total", "strain %s", e.joined(parts))
	worked := 100 * float64(e.advice.Worked())
	e.say("rolled", "1 - e^(-(sqrt 3)/2 x %s) = %s %%: as if so much of the thickness had been rolled off",
		fixed(float64(done.Strain), d), fixed(worked, untied(worked, 1)))
	if done.Sigma > 0 {
		e.say("error", "it is known as %s to %s: each reading is moved by the calliper's %v alone, the changes of the total are squared and added, and the root is taken%s",
			fixed(float64(done.Low()), d), fixed(float64(done.High()), d), e.state.Calliper, e.vague())
	}
	if e.zone.Stamped > 0 {
		e.say("stamped", "%s of stamping: local work, not in the sum; anneal before bending", count(e.zone.Stamped, "course"))
	}
}

// vague says what else the total may be wrong by.
func (e *explainer) vague() string {
	if e.zone.Tally.Apart().Sigma == 0 && len(e.zone.Tally.Pending()) == 0 {
		return ""
	}
	return ", with what a twist of a square bar and courses that were not read may differ by"
}

// joined writes the addends with their total. Where their rounding adds up to
// another last digit, both are told.
func (e *explainer) joined(parts []string) string {
	d, sum := e.digits, fixed(float64(e.advice.Done.Strain), e.digits)
	if len(parts) < 2 {
		return sum
	}
	if !e.addsUp(d) {
		sum = fixed(e.added(d), d) + ", and before they were rounded " + sum
	}
	return strings.Join(parts, " + ") + " = " + sum
}

// tellShare sets the total against the limit.
func (e *explainer) tellShare() {
	l := e.advice.Limit
	if !l.Known() {
		e.say("limit", "%s: there is no share and no count of courses left", strings.TrimSuffix(strings.TrimPrefix(e.limit(), "limit: "), "."))
		return
	}
	if l.Learned != "" {
		e.say("limit", "%s between anneals, %s: strain = %s", l.Text, l.Learned, fixed(float64(l.Strain), e.digits))
	} else {
		e.say("limit", "%s between anneals (%s): %s = %s", l.Text, e.whose(), limitSum(l), fixed(float64(l.Strain), e.digits))
	}
	if e.zone.Condition == alloys.Cast {
		e.say("cast", "as cast: a first, cautious limit against cracks")
	}
	spent := 100 * e.advice.Spent
	e.say("share", "total / limit = %s / %s = %s %% of the limit spent",
		fixed(float64(e.advice.Done.Strain), e.digits), fixed(float64(l.Strain), e.digits), fixed(spent, untied(spent, 0)))
}

// whose says who set the limit.
func (e *explainer) whose() string {
	l := e.advice.Limit
	switch {
	case l.School == coldwork.OwnSchool:
		return e.ownLimit(l)
	case l.Own:
		return l.OwnFigure()
	case l.Confidence == alloys.ConfidenceJudgement:
		return l.School + ", a judgement: no hand-working figure is published"
	case l.Confidence == alloys.ConfidencePractice:
		return l.School + ", common practice" + e.citing(l.Source)
	}
	return l.School + ", " + string(l.Confidence) + e.citing(l.Source)
}

// citing names a source that the table has.
func (e *explainer) citing(key string) string {
	if src, ok := e.state.tables().SourceOf(key); ok {
		return " in " + src.Key
	}
	return ""
}

// limitSum is the formula of a limit with its figures.
func limitSum(l coldwork.Limit) string {
	kind, err := unit.ParseReduction(l.Text, unit.ThicknessKind)
	switch {
	case err != nil: // "30 % longer"
		return fmt.Sprintf("ln(1 + %s)", fraction(math.Expm1(float64(l.Strain))))
	case kind.Kind == unit.AreaKind:
		return fmt.Sprintf("ln(1/(1 - %s))", fraction(float64(l.Strain.AreaReduction())))
	}
	return fmt.Sprintf("(2/sqrt 3) x ln(1/(1 - %s))", fraction(float64(l.Strain.Worked())))
}

// fraction prints a fraction that was typed or published, which has few digits.
func fraction(f float64) string {
	text := strings.TrimRight(fixed(f, 10), "0")
	return strings.TrimSuffix(text, ".")
}
