package trial

import (
	"fmt"
	"strings"
)

// Table is the comparison as text: pieces split per thousand at equal heats per
// piece, then how the forecasts and the limits turned out. It is empty for the
// zero Result.
func (r Result) Table() string {
	if len(r.Policies) == 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %d pieces: split per 1,000 at equal heats per piece\n", r.Shop.Name, r.Shop.Pieces)
	fmt.Fprintf(&b, "%-29s", "heats per piece")
	for _, h := range r.Shop.columns() {
		fmt.Fprintf(&b, "%7.2f", h)
	}
	fmt.Fprintf(&b, "%7s%7s\n", "worst", "best")
	for _, c := range r.Compared {
		b.WriteString(r.row(c))
	}
	b.WriteString("worst and best are the ratio to the measured reduction; - is out of reach\n\n")
	b.WriteString(r.Calibration.table())
	return b.String()
}

// columns are the heats that the table shows.
func (s Shop) columns() (all []float64) {
	for i := range 5 {
		all = append(all, s.From+(s.To-s.From)*float64(i)/4)
	}
	return all
}

func (r Result) row(c Comparison) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-29s", c.Policy)
	for _, h := range r.Shop.columns() {
		if split, ok := r.Policy(c.Policy).At(h); ok {
			fmt.Fprintf(&b, "%7.0f", split)
		} else {
			fmt.Fprintf(&b, "%7s", "-")
		}
	}
	if len(c.Ratios) == 0 {
		return b.String() + "\n"
	}
	return b.String() + fmt.Sprintf("%7.2f%7.2f\n", c.Worst, c.Best)
}

func (c Calibration) table() string {
	var b strings.Builder
	c.Forecasts.write(&b, "forecast")
	for _, l := range c.Limits {
		fmt.Fprintf(&b, "%-29s learned limit %.3f on average, true risk %.1f %%\n", l.Policy, float64(l.Limit), 100*l.True)
	}
	return b.String()
}

func (f Forecasts) write(b *strings.Builder, name string) {
	fmt.Fprintf(b, "%-29s 5 to 15 %% said, mean %.1f: %.1f came true (%d)\n", name, 100*f.Predicted, 100*f.Crossed, f.Predictions)
	fmt.Fprintf(b, "%-29s %.0f %% of its ranges held (%d)\n", "", 100*f.Contained, f.Ranges)
}
