package board

import (
	"fmt"
	"strings"
	"time"

	"dullred/cmd/internal/say"
	"dullred/schedule/board"
)

// head counts what is on the board: "12 pieces at 4 benches".
func head(p *Picture) string {
	if p.Read.IsZero() {
		return "nothing was read yet"
	}
	benches, pieces := map[string]bool{}, 0
	for _, r := range p.Rows {
		benches[r.Bench] = true
		if r.Piece != "" {
			pieces++
		}
	}
	return counted(pieces, "piece", "pieces") + " at " + counted(len(benches), "bench", "benches")
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// alone says since when the shared record cannot be read, in a few words that are read
// from afar; nothing is said while it can be.
func (p *Picture) alone(zone *time.Location) string {
	if p.Alone.IsZero() {
		return ""
	}
	return "OLD since " + clock(p.Alone, zone)
}

// why is why it cannot be read, and of when what is shown is.
func (p *Picture) why(zone *time.Location) string {
	text := "The board is alone: " + say.Clean(p.Why)
	if p.Read.IsZero() {
		return text + "."
	}
	return text + "; below is what was known at " + clock(p.Read, zone) + "."
}

// clock is a time of the day; of another day than today's the board is not asked often.
func clock(t time.Time, zone *time.Location) string { return t.In(zone).Format("15:04") }

// moment is a time with its day, where that is another one than that of now.
func moment(t, now time.Time) string {
	t = t.In(now.Location())
	if t.Format(time.DateOnly) == now.Format(time.DateOnly) {
		return t.Format("15:04")
	}
	return t.Format("2 Jan 15:04")
}

// news are the sentences that tell what changed between two pictures, those of danger
// apart, each as one text.
func news(before, after *Picture, zone *time.Location) (danger, other string) {
	switch alone := !after.Alone.IsZero(); {
	case alone && before.Alone.IsZero():
		return "", "The board is alone since " + clock(after.Alone, zone) + "."
	case !alone && !before.Alone.IsZero():
		return "", "The board is with the shared record again."
	case before.Read.IsZero():
		return "", "" // all of it is new
	}
	urgent, others := board.News(before.Rows, after.Rows)
	return say.Clean(strings.Join(urgent, " ")), say.Clean(strings.Join(others, " "))
}

// nothing is what is said where there is no row.
func nothing(p *Picture) string {
	if p.Read.IsZero() {
		return "Nothing is known of any piece."
	}
	return "No piece is worked at. Each bench that is to be here needs dullred-share run beside it."
}
