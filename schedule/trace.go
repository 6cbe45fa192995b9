package schedule

import (
	"errors"
	"fmt"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// Trace is what a thermocouple read in one heat, logged when it was over. Curve is
// the compact text of the probe package; what follows from it stands beside it, so
// that a fold need not read it.
type Trace struct {
	Curve string        `json:"curve"`
	Max   unit.Celsius  `json:"max"`
	Hot   time.Duration `json:"hot"`   // above 500 °C
	Steps []TraceStep   `json:"steps"` // the curve in few steps, for what it softened
}

// TraceStep is one temperature for a while.
type TraceStep struct {
	Temp unit.Celsius  `json:"temp"`
	For  time.Duration `json:"for"`
}

// spans are the steps as the heat package takes them.
func (t Trace) spans() (all []heat.Span) {
	for _, s := range t.Steps {
		all = append(all, heat.Span(s))
	}
	return all
}

// The most that is believed of one trace.
const (
	mostCurve = 256 << 10 // bytes
	mostSteps = 512
)

// Kind is KindTrace.
func (Trace) Kind() Kind { return KindTrace }

func (t Trace) check() error {
	if t.Curve == "" || len(t.Curve) > mostCurve || len(t.Steps) > mostSteps {
		return errors.New("a trace that is empty or longer than a day")
	}
	if t.Hot < 0 || t.Hot > 7*24*time.Hour {
		return fmt.Errorf("%v above 500 °C is not believable", t.Hot)
	}
	for _, s := range t.Steps {
		if err := temperature(s.Temp); err != nil || s.For < 0 || s.For > 7*24*time.Hour {
			return fmt.Errorf("a trace of %v for %v is not believable", s.Temp, s.For)
		}
	}
	return temperature(t.Max)
}

func (t Trace) detail() string {
	return fmt.Sprintf("at most %.0f °C, %s above 500 °C", float64(t.Max), unit.FormatDuration(t.Hot.Round(time.Second)))
}
