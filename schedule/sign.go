package schedule

import (
	"fmt"
	"slices"
	"strings"
)

// Sign is what the metal says under the hammer.
type Sign string

// The signs by which smiths tell that metal has hardened (common practice), and
// the one that it has not.
const (
	SignRings   Sign = "rings"             // a bright clang where it thudded
	SignBounces Sign = "bounces"           // the hammer comes back
	SignSprings Sign = "springs back"      // bent a little, it returns
	SignStops   Sign = "will not move"     // the blow no longer moves it
	SignDead    Sign = "dead"              // a dull thud, it stays where it is put
	SignHard    Sign = "signs of hardness" // one or more of the first four, not said which
)

// Signs are all the signs.
func Signs() []Sign {
	return []Sign{SignHard, SignRings, SignBounces, SignSprings, SignStops, SignDead}
}

// ParseSign reads a sign by its name or the beginning of it.
func ParseSign(text string) (Sign, error) {
	var names []string
	start := strings.ToLower(strings.TrimSpace(text))
	for _, s := range Signs() {
		if start != "" && strings.HasPrefix(string(s), start) {
			return s, nil
		}
		names = append(names, string(s))
	}
	return "", fmt.Errorf("%.60q is not a sign: expected one of %s", text, strings.Join(names, ", "))
}

// Signalled is a sign that somebody saw, heard or felt in a zone.
type Signalled struct {
	Sign Sign `json:"sign"`
}

// Kind is KindSign.
func (Signalled) Kind() Kind { return KindSign }

func (s Signalled) check() error {
	if !slices.Contains(Signs(), s.Sign) {
		return fmt.Errorf("%.60q is not a sign", s.Sign)
	}
	return nil
}
