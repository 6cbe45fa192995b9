package coldwork

import (
	"fmt"
	"slices"
	"strings"

	"dullred/alloys/unit"
)

// Process is what a course does to the metal, in the trade's word.
type Process string

// The processes of the bench.
const (
	Lengthen Process = "lengthen" // cross peen: draws the bar out
	Widen    Process = "widen"    // blows turned 90°: spreads it
	Flatten  Process = "flatten"  // face of the hammer
	Roll     Process = "roll"     // one trip through the mill
	Draw     Process = "draw"     // one hole of the drawplate
	Bending  Process = "bend"     // round a former
	Twisting Process = "twist"
	Stamp    Process = "stamp"   // punches: local work
	Sink     Process = "sink"    // into a hollow from inside
	Raise    Process = "raise"   // over a stake from outside
	Planish  Process = "planish" // light even blows to smooth
	Caulk    Process = "caulk"   // rim thickened by blows on the edge
)

// Processes lists every process, in the order of the help text.
func Processes() []Process {
	return []Process{Lengthen, Widen, Flatten, Roll, Draw, Bending, Twisting, Stamp, Sink, Raise, Planish, Caulk}
}

// ParseProcess reads a process by name, any case.
func ParseProcess(s string) (Process, error) {
	p := Process(strings.ToLower(strings.TrimSpace(s)))
	if !slices.Contains(Processes(), p) {
		names := make([]string, 0, len(Processes()))
		for _, known := range Processes() {
			names = append(names, string(known))
		}
		return "", fmt.Errorf("%.60q is not a process; expected one of %s", s, strings.Join(names, ", "))
	}
	return p, nil
}

// Shaped reports whether the strain of this process is read from its own
// geometry (a bend, a twist) and not from the section.
func (p Process) Shaped() bool { return p == Bending || p == Twisting }

// Local reports work that stays under the tool and outside the sum of the
// section: stamping. The metal should be soft before it.
func (p Process) Local() bool { return p == Stamp }

// expected is the strain a course of this process is taken to put in before
// anything has been measured: the median of the prior. All are judgements. A
// hammer course of 0.11 lies under the two published ones (16.7 % and 28.6 % of
// area, strain 0.18 and 0.34, taken as a heavy hand on thin rod); a hole of the
// drawplate is about one Brown & Sharpe number (strain 0.23); planishing and
// caulking only touch the skin and the rim.
func (p Process) expected() unit.Strain {
	switch p {
	case Draw:
		return 0.20
	case Planish, Caulk:
		return 0.05
	}
	return 0.11
}
