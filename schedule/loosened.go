package schedule

import (
	"errors"
	"fmt"
	"strings"

	"dullred/alloys"
)

// KindLoosened is a word on how far the limit of a stock may go.
const KindLoosened Kind = "limit loosened"

// Loosened is the smith's word that the limit learned of a stock may go beyond the
// published one, or that it may not any more. Who said so and when stands in the
// envelope. It is an entry of the bench; it counts for the stock, wherever it is worked.
type Loosened struct {
	Alloy     string           `json:"alloy"`
	Stock     string           `json:"stock"`
	Condition alloys.Condition `json:"condition"`
	Held      bool             `json:"held,omitempty"` // taken back: no further than the published limit
}

// Kind is KindLoosened.
func (Loosened) Kind() Kind { return KindLoosened }

func (l Loosened) check() error {
	if l.Alloy == "" || l.Stock == "" {
		return errors.New("a limit of no stock")
	}
	if l.Condition != alloys.Cast && l.Condition != alloys.Wrought {
		return fmt.Errorf("%.60q is not a condition of metal", string(l.Condition))
	}
	return errors.Join(checkText(l.Alloy), checkMark(l.Stock))
}

func (l Loosened) detail() string {
	text := fmt.Sprintf("%s from %s, %s: as far as it was learned", l.Alloy, l.Stock, l.Condition)
	if l.Held {
		text = fmt.Sprintf("%s from %s, %s: no further than published", l.Alloy, l.Stock, l.Condition)
	}
	return text
}

// of reports whether the word is about a stock, named in any case.
func (l Loosened) of(k origin) bool {
	return l.Alloy == k.alloy && l.Condition == k.condition && strings.EqualFold(l.Stock, k.name)
}

// origin is metal from one source in one condition. Metal of which nobody said
// where it is from has no name.
type origin struct {
	alloy, name string
	condition   alloys.Condition
}

// of reports whether an interval is of a stock, named in any case.
func (i Interval) of(k origin) bool {
	return i.Alloy == k.alloy && i.Condition == k.condition && strings.EqualFold(i.Stock, k.name)
}

// lastWord is the last word on the limit of a stock that stands; false where nobody
// said anything.
func lastWord(entries []Entry, of origin) (last Entry, ok bool) {
	for _, e := range effective(sorted(entries)) {
		if l, is := e.Body.(Loosened); is && l.of(of) {
			last, ok = e, true
		}
	}
	return last, ok
}

// LastWord is the last word on the limit of a stock among entries, in any order;
// false where nobody said anything.
func LastWord(entries []Entry, alloy, stock string, c alloys.Condition) (Entry, bool) {
	return lastWord(entries, origin{alloy, stock, c})
}
