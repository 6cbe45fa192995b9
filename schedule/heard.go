package schedule

import (
	"fmt"
	"math"
	"slices"
)

// Heard is a sign with the share of the limit that was spent by the sums when it
// came, in the zone that had spent most of those it was about.
type Heard struct {
	Sign  Sign
	Hand  ID
	Alloy string
	Share float64
}

// hear keeps what a sign came with. Metal that is hot, or of which no limit is
// known, teaches nothing.
func (s *State) hear(e Entry, at []int, b Signalled) {
	share := math.Inf(-1)
	for _, i := range at {
		z := s.Zones[i]
		if limit := s.published(z.Condition); limit.Known() && z.Heat.Phase == Cold && z.Tally.Section().Known() {
			spent := float64(s.Worked(z, nil).Strain / limit.Strain)
			share = max(share, spent)
			s.Zones[i].Sign, s.Zones[i].SignAt = b.Sign, spent
		}
	}
	if !math.IsInf(share, -1) {
		s.Heard = append(s.Heard, Heard{Sign: b.Sign, Hand: e.Hand, Alloy: s.AlloyID, Share: share})
	}
}

// fewHeard is how many of a sign give its whole range; of more, four in five.
const fewHeard = 5

// Means is what a sign has meant: between which shares of the limit it came, and how
// often that was seen. Of five and more the lowest and the highest tenth are left out.
func Means(heard []Heard, sign Sign) (low, high float64, n int) {
	var shares []float64
	for _, h := range heard {
		if h.Sign == sign {
			shares = append(shares, h.Share)
		}
	}
	if n = len(shares); n == 0 {
		return 0, 0, 0
	}
	slices.Sort(shares)
	cut := 0
	if n >= fewHeard {
		cut = int(math.Round(float64(n) / 10))
	}
	return shares[cut], shares[n-1-cut], n
}

// Meaning is what Means gives, in words.
func Meaning(sign Sign, low, high float64, n int) string {
	often := "once"
	if n != 1 {
		often = fmt.Sprintf("%d times", n)
	}
	return fmt.Sprintf("your %q has meant %.0f to %.0f %% of the limit, heard %s", sign, 100*low, 100*high, often)
}
