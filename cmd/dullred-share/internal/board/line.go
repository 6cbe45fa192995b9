package board

import (
	"cmp"
	"fmt"
	"strings"
	"time"
	"unicode"

	"github.com/rivo/uniseg"

	"dullred/cmd/internal/say"
	"dullred/schedule/board"
)

// line is a row in words that are safe to print.
type line struct {
	ID, Share, Sign, State, Marks, Title, Alloy, Bench, Left, Hot, Last string

	Dark   bool     // it is hot, and out of the flame
	Heat   bool     // it is hot, and the sign does not say so
	Press  bool     // it does not wait
	Alerts []string // whole sentences
	Level  string   // danger, stop, hot, unseen or calm: how it is set off

	ShortBench, ShortTitle, More string // of a tile: where, what, and in small letters why
}

// levels are the names of the ranks.
var levels = [...]string{board.Danger: "danger", board.Stop: "stop", board.Hot: "hot", board.Unseen: "unseen", board.Calm: "calm"}

func lineOf(r board.Row, now time.Time) line {
	l := line{ID: string(r.ID), Share: r.Share(), Sign: r.Sign(), State: r.State(), Marks: r.Priority().Marks(), Title: say.Clean(r.Title()),
		Alloy: say.Clean(r.Alloy), Bench: say.Clean(r.Bench), Left: r.Left(), Last: moment(r.Last, now),
		Press: r.Rank() < board.Calm, Level: levels[r.Rank()]}
	if r.Piece == "" {
		l.Share, l.Title = "", called(r)
	}
	if !r.Hot.IsZero() {
		l.Dark, l.Heat = r.Dark, l.Sign != "HOT"
		l.Hot = moment(r.Hot, now)
	}
	for _, a := range r.Alerts {
		l.Alerts = append(l.Alerts, say.Clean(a.Sentence()))
	}
	l.ShortBench, l.ShortTitle, l.More = clip(l.Bench, mostBench), clip(l.Title, mostTitle), l.more(r)
	return l
}

// called is what is to be read of a bench where another row has its piece: what about it
// is not as it should be.
func called(r board.Row) string {
	if len(r.Alerts) == 0 {
		return "the bench itself"
	}
	return cmp.Or(string(r.Alerts[0].Cause), "an alert")
}

// How many cells of a name are in a tile; the table below has all of it.
const (
	mostBench = 28
	mostTitle = 20
)

// more is what a tile says in small letters of how it stands.
func (l line) more(r board.Row) string {
	var parts []string
	switch {
	case len(r.Alerts) == 0:
	case r.Rank() == board.Stop, r.Piece == "":
		parts = append(parts, "unseen")
	case r.Rank() == board.Danger:
		parts = append(parts, string(r.Alerts[0].Cause))
	default:
		parts = append(parts, cmp.Or(string(r.Alerts[0].Cause), "an alert")+", unseen")
	}
	if n := len(r.Alerts); n > 1 {
		parts = append(parts, fmt.Sprint("and ", n-1, " more"))
	}
	switch {
	case l.Dark && r.Rank() == board.Danger:
		parts = append(parts, "not glowing")
	case l.Dark:
		parts = append(parts, "not glowing "+l.Hot)
	case l.Hot != "":
		parts = append(parts, "in the flame "+l.Hot)
	case l.Sign == "ANNEAL" && r.Spent >= 0:
		parts = append(parts, l.Share+" of the limit")
	}
	return strings.Join(parts, ", ")
}

// Lengths in cells for which a tile has letters: a word of three and a name of three at
// least, two names and all that can be said of them at most.
const leastFit, mostFit = 7, 80

// fits are all of them.
func fits() (all []int) {
	for n := leastFit; n <= mostFit; n++ {
		all = append(all, n)
	}
	return all
}

func fit(cells int) int { return min(max(cells, leastFit), mostFit) }

// OneCells is for how many cells the first line of the tile is set: in twentieths, a capital
// of a bold face takes 24 of one, a blank 10 and any other letter 19.
func (l line) OneCells() int {
	text := l.Sign + " " + l.ShortBench
	twentieths := 19 * uniseg.StringWidth(text)
	for _, r := range text {
		switch {
		case unicode.IsUpper(r):
			twentieths += 5
		case r == ' ':
			twentieths -= 9
		}
	}
	return fit((twentieths + 19) / 20)
}

// TwoCells is for how many cells the second line of the tile is set, of which the small
// letters take half.
func (l line) TwoCells() int {
	cells := uniseg.StringWidth(l.ShortTitle) + (uniseg.StringWidth(l.More)+3)/2
	if l.Heat {
		cells += len("HOT  ")
	}
	return fit(cells)
}
