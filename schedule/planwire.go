package schedule

import (
	"encoding/json"
	"fmt"

	"dullred/alloys"
	"dullred/alloys/unit"
	"dullred/schedule/coldwork"
	"dullred/schedule/heat"
	"dullred/schedule/stock"
)

// planJSON is how a plan is kept: sizes and the shape as they are typed, so that
// the form outlives the types behind it. Keys are never renamed.
type planJSON struct {
	Version int            `json:"v"`
	Job     planJobJSON    `json:"job"`
	Anneals int            `json:"anneals"`
	Steps   []planStepJSON `json:"steps"`
	Limit   planLimitJSON  `json:"limit"`
	First   *planLimitJSON `json:"first,omitempty"`
	Minutes float64        `json:"minutes,omitempty"`
	Bar     unit.Gram      `json:"bar_g,omitempty"`
	Piece   unit.Gram      `json:"finished_g,omitempty"`
	Spare   unit.Gram      `json:"spare_g,omitempty"`
	Coarse  bool           `json:"coarse,omitempty"`
	Notes   []string       `json:"notes,omitempty"`
}

// planVersion is of the form.
const planVersion = 1

type planJobJSON struct {
	Alloy  string          `json:"alloy"`
	Cast   bool            `json:"cast,omitempty"`
	Bar    string          `json:"bar"`
	Length unit.Millimetre `json:"length_mm,omitempty"`
	Shape  string          `json:"shape,omitempty"`
	Bowl   string          `json:"bowl,omitempty"`
	Disc   unit.Millimetre `json:"disc_mm,omitempty"`
	Sunk   bool            `json:"sunk,omitempty"`
	Turns  float64         `json:"turns,omitempty"`
	Over   unit.Millimetre `json:"over_mm,omitempty"`
	Stamp  bool            `json:"stamp,omitempty"`
	Bend   unit.Millimetre `json:"bend_mm,omitempty"`
	Joints []planJointJSON `json:"joints,omitempty"`
	Temper PlanTemper      `json:"temper,omitempty"`
	Limit  string          `json:"limit,omitempty"`
}

type planJointJSON struct {
	Name    string       `json:"name,omitempty"`
	Solder  string       `json:"solder"`
	Solidus unit.Celsius `json:"solidus_c"`
}

type planLimitJSON struct {
	Strain     unit.Strain       `json:"strain"`
	Text       string            `json:"text"`
	Condition  alloys.Condition  `json:"condition,omitempty"`
	School     string            `json:"school,omitempty"`
	Source     string            `json:"source,omitempty"`
	Confidence alloys.Confidence `json:"confidence,omitempty"`
	Note       string            `json:"note,omitempty"`
	Own        bool              `json:"own,omitempty"`
	Learned    string            `json:"learned,omitempty"`
}

type planStepJSON struct {
	Act     PlanAct                 `json:"act"`
	Zone    string                  `json:"zone"`
	Zones   []string                `json:"zones"`
	Process coldwork.Process        `json:"process,omitempty"`
	StopAt  string                  `json:"stop_at,omitempty"`
	Ring    unit.Millimetre         `json:"ring_mm,omitempty"`
	Turns   float64                 `json:"turns,omitempty"`
	Worked  unit.ThicknessReduction `json:"worked"`
	Spent   float64                 `json:"limit_spent"`
	HV      *planBandJSON           `json:"hardness_hv,omitempty"`
	Courses int                     `json:"courses,omitempty"`
	Minutes float64                 `json:"minutes,omitempty"`
	Flame   float64                 `json:"flame_minutes,omitempty"`
	Low     unit.Celsius            `json:"anneal_low_c,omitempty"`
	High    unit.Celsius            `json:"anneal_high_c,omitempty"`
	Solidus unit.Celsius            `json:"solidus_c,omitempty"`
	Text    string                  `json:"text,omitempty"`
}

type planBandJSON struct {
	Low    float64     `json:"low"`
	High   float64     `json:"high"`
	Source string      `json:"source"`
	Form   alloys.Form `json:"form"`
}

// MarshalJSON is the form in which a plan is kept. Its zones are those of its shape.
func (p Plan) MarshalJSON() ([]byte, error) {
	j := planJSON{Version: planVersion, Job: p.Job.wire(), Anneals: p.Anneals, Limit: planLimitJSON(p.Limit), Minutes: p.Minutes,
		Bar: p.Mass.Bar, Piece: p.Mass.Finished, Spare: p.Mass.Spare, Coarse: p.Coarse, Notes: p.Notes}
	if p.First.Known() {
		j.First = new(planLimitJSON(p.First))
	}
	for _, s := range p.Steps {
		j.Steps = append(j.Steps, s.wire())
	}
	return json.Marshal(j)
}

func (j PlanJob) wire() planJobJSON {
	w := planJobJSON{Alloy: j.Alloy, Cast: j.Cast, Bar: j.Bar.String(), Length: j.Length, Stamp: j.Stamp, Bend: j.Bend,
		Temper: j.Temper, Limit: j.Limit, Turns: j.Turns, Over: j.Over}
	if j.ofBowl() {
		w.Bar, w.Disc = ringless(j.Bar)
		w.Bowl, w.Sunk = j.Bowl.String(), j.Sunk
	} else {
		w.Shape = j.Shape.String()
	}
	for _, o := range j.Joints {
		w.Joints = append(w.Joints, planJointJSON(o))
	}
	return w
}

func (s PlanStep) wire() planStepJSON {
	w := planStepJSON{Act: s.Act, Zone: s.Zone, Zones: s.Zones, Process: s.Process, Worked: s.Worked, Spent: s.LimitSpent,
		Courses: s.Courses, Minutes: s.Minutes, Flame: s.Flame, Low: s.Low, High: s.High, Solidus: s.Solidus, Turns: s.Turns, Text: s.Text}
	if s.StopAt.Shape != unit.Unshaped {
		w.StopAt, w.Ring = ringless(s.StopAt)
	}
	if h := s.Hardness; h.OK {
		w.HV = &planBandJSON{h.Low, h.High, h.Source, h.Form}
	}
	return w
}

// ringless is a size as it is typed, and the ring at which the wall of a bowl is
// read beside it.
func ringless(z unit.Size) (text string, ring unit.Millimetre) {
	if isVessel(coldwork.Section(z)) {
		ring, z.Diameter = z.Diameter, 0
	}
	return z.String(), ring
}

// ringed is the size that ringless gave.
func ringed(text string, ring unit.Millimetre) (unit.Size, error) {
	z, err := unit.ParseSize(text, unit.Unshaped)
	if z.Shape == unit.Sheet {
		z.Diameter = ring
	}
	return z, err
}

// UnmarshalJSON reads a plan that was kept. A form of a later version is an error.
func (p *Plan) UnmarshalJSON(data []byte) error {
	var j planJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	if j.Version != planVersion {
		return fmt.Errorf("a plan of form %d cannot be read, only of form %d", j.Version, planVersion)
	}
	job, err := j.Job.job()
	if err != nil {
		return err
	}
	out := Plan{Job: job, Anneals: j.Anneals, Limit: coldwork.Limit(j.Limit), Minutes: j.Minutes,
		Mass: PlanMass{j.Bar, j.Piece, j.Spare}, Coarse: j.Coarse, Notes: j.Notes}
	if j.First != nil {
		out.First = coldwork.Limit(*j.First)
	}
	for _, z := range job.zones() {
		out.Zones = append(out.Zones, z.PlanZone)
	}
	for _, w := range j.Steps {
		s, err := w.step()
		if err != nil {
			return err
		}
		out.Steps = append(out.Steps, s)
	}
	*p = out
	return nil
}

func (w planJobJSON) job() (j PlanJob, err error) {
	j = PlanJob{Alloy: w.Alloy, Cast: w.Cast, Length: w.Length, Stamp: w.Stamp, Bend: w.Bend, Temper: w.Temper, Limit: w.Limit, Sunk: w.Sunk, Turns: w.Turns, Over: w.Over}
	if j.Bar, err = ringed(w.Bar, w.Disc); err != nil {
		return j, err
	}
	for _, o := range w.Joints {
		j.Joints = append(j.Joints, heat.Joint(o))
	}
	if w.Bowl != "" {
		j.Bowl, err = stock.ParseBowl(w.Bowl)
		return j, err
	}
	j.Shape, err = stock.ParseShape(w.Shape)
	return j, err
}

func (w planStepJSON) step() (s PlanStep, err error) {
	s = PlanStep{Act: w.Act, Zone: w.Zone, Zones: w.Zones, Process: w.Process, Worked: w.Worked, LimitSpent: w.Spent,
		Courses: w.Courses, Minutes: w.Minutes, Flame: w.Flame, Low: w.Low, High: w.High, Solidus: w.Solidus, Turns: w.Turns, Text: w.Text}
	if w.HV != nil {
		s.Hardness = coldwork.Band{Low: w.HV.Low, High: w.HV.High, Source: w.HV.Source, Form: w.HV.Form, OK: true}
	}
	if w.StopAt != "" {
		s.StopAt, err = ringed(w.StopAt, w.Ring)
	}
	return s, err
}
