package coldwork

import (
	"dullred/alloys"
	"dullred/alloys/unit"
)

// Sum is one change of section reckoned by itself, without a record.
type Sum struct {
	Alloy     alloys.Alloy
	From, To  Section
	Passes    int             // courses it took; 0 when not known
	Calliper  unit.Millimetre // error of each reading
	Condition alloys.Condition
	Limit     string // as LimitOf's choice
}

// Result is what a Sum comes to.
type Result struct {
	Reduction, ReductionLow, ReductionHigh unit.AreaReduction
	Strain                                 Estimate
	Worked                                 unit.ThicknessReduction
	Limit                                  Limit
	Spent                                  float64 // share of the limit; 0 without one
	Temper                                 Temper
	Courses                                Courses
	CoursesKnown                           bool
}

// Reckon does the sum. The courses left spread the strain evenly over the
// passes: what comes next is taken to be like the average so far.
func (s Sum) Reckon() (Result, error) {
	if err := s.From.CheckChange(s.To, s.Calliper); err != nil {
		return Result{}, err
	}
	limit, err := LimitOf(s.Alloy, s.Condition, s.Limit)
	if err != nil {
		return Result{}, err
	}
	r := Result{Strain: Chain([]Section{s.From, s.To}, s.Calliper), Limit: limit}
	r.Reduction, r.ReductionLow, r.ReductionHigh, _ = Reduction(s.From, s.To, s.Calliper)
	r.Worked = r.Strain.Strain.Worked()
	r.Temper = TemperOf(s.Alloy, FormOf(s.To), r.Strain)
	if !limit.Known() {
		return r, nil
	}
	r.Spent = float64(r.Strain.Strain / limit.Strain)
	if r.CoursesKnown = s.Passes > 0 && r.Strain.Strain > 0; r.CoursesKnown {
		r.Courses = Even(r.Strain.Strain, s.Passes).Left(r.Strain, limit.Strain)
	}
	return r, nil
}
