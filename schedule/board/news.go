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

// News are the sentences that tell what came to stand otherwise between two looks:
// alerts, and verdicts that changed. A piece that came onto the board and can wait is no
// news, and a piece that left it neither.
func News(before, after []Row) (told []string) {
	was := map[schedule.ID]Row{}
	for _, r := range before {
		was[r.ID] = r
	}
	for _, r := range after {
		old, known := was[r.ID]
		alerts := r.raisedSince(old)
		told = append(told, alerts...)
		if len(alerts) == 0 && r.Piece != "" && (known && old.State() != r.State() || !known && r.Presses()) {
			told = append(told, r.sentence())
		}
	}
	if more := len(told) - mostNews; more > 0 {
		told = append(told[:mostNews], fmt.Sprintf("And %d more.", more))
	}
	return told
}

// raisedSince are the sentences of alerts that an earlier row did not have.
func (r Row) raisedSince(old Row) (told []string) {
	for _, a := range r.Alerts {
		if i := slices.IndexFunc(old.Alerts, func(o alert.Standing) bool { return o.Raised.ID == a.Raised.ID }); i < 0 {
			told = append(told, r.Bench+": "+a.Sentence())
		}
	}
	return told
}

// sentence is how a piece stands, with the bench: "Bench 3: spoon: anneal soon, 92 % of
// the limit."
func (r Row) sentence() string {
	text := []string{r.Bench + ": " + r.Title() + ": " + r.State()}
	if r.Spent >= 0 && r.Hot.IsZero() {
		text = append(text, r.Share()+" of the limit")
	}
	return strings.Join(text, ", ") + "."
}
