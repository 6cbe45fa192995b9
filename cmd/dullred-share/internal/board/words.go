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

// link says how it stands with the shared record; nothing is said while it can be read.
func (p *Picture) link(zone *time.Location) string {
	if p.Alone.IsZero() {
		return ""
	}
	text := "alone since " + clock(p.Alone, zone) + ": " + say.Clean(p.Why)
	if p.Read.IsZero() {
		return text
	}
	return text + "; below is what was known at " + clock(p.Read, zone)
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

// line is a row in words that are safe to print.
type line struct {
	Share, State, Marks, Title, Alloy, Bench, Left, Hot, Last string

	Alerts []string // whole sentences
	Level  string   // danger, press or rest: how it is set off
}

func lineOf(r board.Row, now time.Time) line {
	l := line{Share: r.Share(), State: r.State(), Marks: r.Priority().Marks(), Title: say.Clean(r.Title()), Alloy: say.Clean(r.Alloy),
		Bench: say.Clean(r.Bench), Left: r.Left(), Last: moment(r.Last, now), Level: "rest"}
	if r.Piece == "" {
		l.Share, l.Title = "", "the bench itself"
	}
	if !r.Hot.IsZero() {
		l.Hot = "since " + moment(r.Hot, now)
	}
	for _, a := range r.Alerts {
		l.Alerts = append(l.Alerts, say.Clean(a.Sentence()))
	}
	switch {
	case l.Marks == "!!!":
		l.Level = "danger"
	case r.Presses():
		l.Level = "press"
	}
	return l
}

// news are the sentences that tell what changed between two pictures, as one text.
func news(before, after *Picture, zone *time.Location) string {
	switch alone := !after.Alone.IsZero(); {
	case alone && before.Alone.IsZero():
		return "The board is alone since " + clock(after.Alone, zone) + "."
	case !alone && !before.Alone.IsZero():
		return "The board is with the shared record again."
	case before.Read.IsZero():
		return "" // all of it is new
	}
	return say.Clean(strings.Join(board.News(before.Rows, after.Rows), " "))
}
