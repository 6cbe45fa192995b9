package split

import (
	"fmt"
	"math"

	"dullred/alloys/unit"
)

// Interval is one stretch of work from soft metal: the strain that it was given,
// and whether it split or cracked there or was still whole when it was annealed.
type Interval struct {
	Strain unit.Strain
	Split  bool
}

// Most is more strain than any hammer gives between two anneals: 97 % off the
// thickness. The largest industrial figure that was read is 95 %. A judgement.
const Most unit.Strain = 4

// Least is the strain below which a split is no matter of the strain: the metal
// had a flaw, or was not soft. It is about what a calliper can tell on a bar of
// 8 mm. A judgement.
const Least unit.Strain = 0.02

// Doubtful says why an interval is left out of what is learned; empty for one
// that counts. It is never averaged in.
func Doubtful(i Interval) string {
	switch e := float64(i.Strain); {
	case math.IsNaN(e):
		return "the strain is not a number"
	case e < 0:
		return fmt.Sprintf("a strain of %v is below nothing", i.Strain)
	case i.Split && e == 0:
		return "split without any strain: it was not the hammer that split it"
	case e == 0:
		return "no strain: whole metal that was not worked says nothing"
	case i.Strain > Most:
		return fmt.Sprintf("a strain of %v is more than any hammer gives between two anneals", i.Strain)
	case i.Split && i.Strain < Least:
		return fmt.Sprintf("split at a strain of %v: a flaw, or metal that was not soft", i.Strain)
	}
	return ""
}
