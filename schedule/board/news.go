package board

import (
	"fmt"
	"slices"
	"strings"

	"dullred/schedule"
	"dullred/schedule/alert"
)

// mostNews is how many changes are told one by one.
const mostNews = 3

// News are the sentences that tell what came to press between two looks, those of danger
// apart: alerts that call for an act, and pieces at which no more blows are to fall. All
// else is no news for a whole class: it stands on the board.
func News(before, after []Row) (danger, other []string) {
	was := map[schedule.ID]Row{}
	for _, r := range before {
		was[r.ID] = r
	}
	for _, r := range after {
		old, known := was[r.ID]
		urgent, called := r.raisedSince(old)
		danger, other = append(danger, urgent...), append(other, called...)
		if stops := r.Rank() == Stop && (!known || old.Rank() != Stop); stops && len(urgent)+len(called) == 0 {
			other = append(other, r.sentence())
		}
	}
	return few(danger), few(other)
}

// few tells of many that there are more.
func few(told []string) []string {
	if more := len(told) - mostNews; more > 0 {
		told = append(told[:mostNews], fmt.Sprintf("And %d more.", more))
	}
	return told
}

// raisedSince are the sentences of alerts that call for an act and that an earlier row
// did not have.
func (r Row) raisedSince(old Row) (danger, other []string) {
	for _, a := range r.Alerts {
		known := slices.ContainsFunc(old.Alerts, func(o alert.Standing) bool { return o.Raised.ID == a.Raised.ID })
		switch text := r.Bench + ": " + a.Sentence(); {
		case known:
		case a.Priority() == alert.Danger:
			danger = append(danger, text)
		case a.Priority() == alert.Call:
			other = append(other, text)
		}
	}
	return danger, other
}

// sentence is how a piece stands, with the bench: "Bench 3: spoon: anneal now, 102 % of
// the limit."
func (r Row) sentence() string {
	text := []string{r.Bench + ": " + r.Title() + ": " + r.State()}
	if r.Spent >= 0 && r.Hot.IsZero() {
		text = append(text, r.Share()+" of the limit")
	}
	return strings.Join(text, ", ") + "."
}
