package schedule

import (
	"fmt"
	"math"
	"time"
)

// Noise is how loud the hammering is at the ear, as somebody measured and typed
// it; 0 dB is that it has stopped.
type Noise struct {
	Level float64 `json:"dba"` // dB(A)
}

// Kind is KindNoise.
func (Noise) Kind() Kind { return KindNoise }

// loudest is the peak that no ear should meet, in dB (NIOSH 98-126, as quoted).
const loudest = 140

func (n Noise) check() error {
	if !(n.Level == 0 || n.Level >= 40 && n.Level <= loudest) {
		return fmt.Errorf("a level of %g dB(A) is not believable: 40 to %d, or 0 for quiet", n.Level, loudest)
	}
	return nil
}

func (n Noise) detail() string {
	if n.Level == 0 {
		return "quiet"
	}
	return fmt.Sprintf("%g dB(A)", n.Level)
}

// Allowed is how long a day an ear may be in the noise without protection: 8 hours
// at 85 dB(A), half as long for every 3 dB more (NIOSH 98-126, T = 480 / 2^((L-85)/3)
// minutes); 0 when there is no noise to speak of.
func (n Noise) Allowed() time.Duration {
	if n.Level < 80 {
		return 0
	}
	minutes := 480 / math.Pow(2, (n.Level-85)/3)
	return time.Duration(minutes * float64(time.Minute)).Round(time.Second)
}
