package schedule

import "fmt"

// Verdict is the advice in one or two words. The zero Verdict is unknown.
type Verdict uint8

// The verdicts, mildest first where they speak of work.
const (
	VerdictUnknown    Verdict = iota
	VerdictNoAnneal           // a metal that needs no anneal
	VerdictCarryOn            // at least one more course is safe
	VerdictAnnealSoon         // the next course has 1 chance in 10 of crossing the limit
	VerdictAnnealNow          // the limit is spent
	VerdictHeating            // in the flame
	VerdictSoak               // at heat
	VerdictWait               // out of the flame, hot
	VerdictProve              // cooled, to be bent and felt
	VerdictFileCrack          // a crack is open
	VerdictPickle             // in the pickle
	VerdictFinished           // nothing more is to be done
)

var verdictNames = [...]string{"unknown", "no anneal", "carry on", "anneal soon", "anneal now",
	"heating", "soak", "wait", "prove", "file crack", "pickle", "finished"}

// String is the verdict in words, as the screen and JSON show it.
func (v Verdict) String() string {
	if int(v) >= len(verdictNames) {
		return verdictNames[VerdictUnknown]
	}
	return verdictNames[v]
}

// MarshalText writes the words.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads the words back.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, name := range verdictNames {
		if name == string(text) {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a verdict", text)
}
