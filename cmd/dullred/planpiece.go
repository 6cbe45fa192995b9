package main

import (
	"errors"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/record"
)

// planPiece keeps a plan with a piece, or shows how far a piece is on the one it has.
func (a *app) planPiece(name string, flags planFlags) error {
	if flags.pieces != 1 || flags.against != "" {
		return refuse("leave the NAME away to plan a batch or to compare", "--pieces and --against plan no piece of the record")
	}
	return a.onBench(func(b *bench) error { return a.planNamed(b, name, flags) })
}

func (a *app) planNamed(b *bench, name string, flags planFlags) error {
	_, found, err := b.rec.LabelNamed(record.PieceClass, name)
	if err != nil {
		return err
	}
	if !found && (flags.shape != "" && flags.bar != "" || flags.bowl != "") {
		return a.startPlanned(b, name, flags)
	}
	if !found && !flags.given() && !flags.makes() {
		return missing(`start it with its plan: `+planExampleOf("NAME")+`; dullred piece list shows those there are`, "there is no piece named %.60q", name)
	}
	p, err := b.find(name)
	switch {
	case err != nil:
		return err
	case !flags.makes() && flags.given():
		return refuse("give the shape too, or the NAME alone to see how far it is", "a plan needs --shape or --bowl")
	case !flags.makes():
		return a.showPlan(b, p)
	case flags.alloy+flags.bar+flags.thick+flags.disc != "" || flags.cast:
		return refuse("leave --alloy, --bar, --thick, --disc and --cast away: the plan starts from where the metal is", "%s is there already and has a metal and a section", p.name)
	}
	return a.keepPlan(b, p, flags)
}

// makes reports whether it was said what is to be made.
func (f planFlags) makes() bool { return f.shape+f.bowl != "" }

// given reports whether anything was said of what is to be made.
func (f planFlags) given() bool {
	return f.alloy+f.bar+f.bend+f.inside+f.temper+f.limit+f.thick+f.disc+f.twist != "" || len(f.joints)+len(f.tangs) > 0 || f.cast || f.stamp || f.sunk
}

// startPlanned starts a piece with its bar and its plan, both or neither.
func (a *app) startPlanned(b *bench, name string, flags planFlags) error {
	if err := schedule.CheckName(name); err != nil {
		return refuse("give a short name such as spoon-1", "a piece cannot be named so: %w", err)
	}
	job, err := flags.job(b.book)
	if err != nil {
		return err
	}
	body := schedule.Started{Alloy: job.Alloy, Reading: readingOf(job.Bar), Length: job.Length, Cast: job.Cast, Limit: job.Limit}
	alloy, err := b.book.Find(job.Alloy)
	if err != nil {
		return err
	}
	if body.Calliper, err = unit.ParseLength(defaultCalliper); err != nil {
		return err
	}
	if err := checkLimit(alloy, body); err != nil {
		return err
	}
	begin := a.entryFor(b, schedule.NewID(), body)
	if err := schedule.AcceptIn(b.book, nil, begin, a.now()); err != nil {
		return asRefusal(err)
	}
	p := &piece{id: begin.Piece, name: name, entries: []schedule.Entry{begin}}
	p.state = b.fold(p.entries)
	kept, err := a.planEntry(b, p, job)
	if err != nil {
		return err
	}
	err = b.append([]record.Label{{ID: string(p.id), Class: record.PieceClass, Text: name}}, begin, kept)
	if errors.Is(err, record.ErrNameTaken) {
		return nameTaken(name)
	}
	if err != nil {
		return err
	}
	return a.showPlan(b, p)
}

// readingOf is the reading of a bar, or of a disc and its edge.
func readingOf(z unit.Size) schedule.Reading {
	if z.Shape != unit.Sheet {
		return schedule.Reading{Size: z}
	}
	ring := z.Diameter
	z.Diameter = 0
	return schedule.Reading{Size: z, Ring: ring}
}

// keepPlan plans a piece from where it is and keeps the plan with it.
func (a *app) keepPlan(b *bench, p *piece, flags planFlags) error {
	job, err := flags.work(b.book)
	if err != nil {
		return err
	}
	kept, err := a.planEntry(b, p, job)
	if err != nil {
		return err
	}
	if err := b.append(nil, kept); err != nil {
		return err
	}
	return a.showPlan(b, p)
}

// planEntry is the entry of a plan for a piece, which has it then.
func (a *app) planEntry(b *bench, p *piece, job schedule.PlanJob) (e schedule.Entry, err error) {
	known, err := b.knownBy(b.here.hand, p.id)
	if err != nil {
		return e, err
	}
	plan, err := p.state.PlanOn(job, known)
	if err != nil {
		return e, noPlan(err)
	}
	e = a.entryFor(b, p.id, schedule.Planned{Plan: plan})
	if err := schedule.AcceptIn(b.book, p.entries, e, a.now()); err != nil {
		return e, asRefusal(err)
	}
	p.entries = append(p.entries, e)
	p.state = b.fold(p.entries)
	return e, nil
}

// entryFor is an entry of this bench and hand, made now.
func (a *app) entryFor(b *bench, piece schedule.ID, body schedule.Body) schedule.Entry {
	now := schedule.Moment(a.now())
	return schedule.Entry{ID: schedule.NewID(), At: now, Written: now, Bench: b.here.bench, Hand: b.here.hand, Piece: piece,
		Version: 1, Body: body}
}

// followedJSON is a plan with how far a piece is on it. Steps are counted from 1;
// after the last one step is one more than there are.
type followedJSON struct {
	Piece   string `json:"piece"`
	Step    int    `json:"step"`
	Again   bool   `json:"planned_again"`
	Changed string `json:"changed,omitempty"`
	Lost    string `json:"lost,omitempty"`
	ToGo    []toGo `json:"to_go"`
	planJSON
}

type toGo struct {
	Zone  string  `json:"zone"`
	Now   string  `json:"now"`
	Thick float64 `json:"thick_mm"` // above the stop
	Wide  float64 `json:"wide_mm"`
}

// showPlan shows the plan of a piece and how far it is.
func (a *app) showPlan(b *bench, p *piece) error {
	if p.state.Plan == nil {
		return refuse(`dullred plan `+p.name+` --shape "0:6x3 95:18x3 190:6x3"`, "%s has no plan", p.name)
	}
	if _, err := a.adviceOn(b, p, a.now()); err != nil {
		return err
	}
	if p.on == nil {
		return refuse("dullred advise "+asWord(p.name), "the entries of %s cannot all be read, so that it cannot be set against its plan", p.name)
	}
	f := *p.on
	j := followedJSON{Piece: p.name, Step: f.At + 1, Again: f.Again, Changed: f.Changed, Lost: f.Lost, ToGo: []toGo{}, planJSON: planJSONOf(f.Plan)}
	for _, t := range f.ToGo {
		j.ToGo = append(j.ToGo, toGo{t.Zone, schedule.StopText(t.Now), figure(float64(t.Thick)), figure(float64(t.Wide))})
	}
	return a.answer(j, planText(f.Plan, &f)+sourceLine(b.book, f.Plan)+workedLine("next", f.Text()))
}

// followPlan sets a piece against its plan, if it has one that can be followed.
func (p *piece) followPlan(others *schedule.Observed) error {
	p.on = nil
	if p.state.Plan == nil {
		return nil
	}
	f, err := p.state.Following(schedule.PlanKnown{Hand: p.state.Zones[0].Hand, Others: others})
	if errors.Is(err, schedule.ErrNoPlan) {
		return nil // its log cannot be read, which the advice says
	}
	p.on = &f
	return err
}
