package alloys

// Cooling is how an alloy is advised to be cooled after a heat: its first
// default quench rule, in one word that a program can act on.
type Cooling string

// The ways of cooling.
const (
	CoolUnknown  Cooling = ""                // nothing is said: let it cool in the air
	CoolDark     Cooling = "water once dark" // wait until the glow has gone, then water
	CoolEither   Cooling = "water or air"    // as soft either way
	CoolWhileRed Cooling = "water while red" // at once: cooled slowly it hardens or cracks
	CoolAir      Cooling = "air"
	CoolSlow     Cooling = "slow" // buried in dry ash or sand
)

// Coolings are all the ways of cooling that a table may name.
func Coolings() []Cooling {
	return []Cooling{CoolDark, CoolEither, CoolWhileRed, CoolAir, CoolSlow}
}

// Cooling is how the alloy is advised to be cooled; CoolUnknown if no rule says.
func (a Alloy) Cooling() Cooling {
	for _, r := range a.Rules(RuleCooling) {
		if r.Use == UseDefault {
			return Cooling(r.Text)
		}
	}
	return CoolUnknown
}

// Quenched reports whether the advised cooling goes into water.
func (c Cooling) Quenched() bool { return c == CoolDark || c == CoolEither || c == CoolWhileRed }
