package view

import (
	"fmt"

	"dullred/schedule"
)

// Row is a piece on the board.
type Row struct {
	Name, Mark string // Mark is what is chalked on it
	Section    string
	Verdict    schedule.Verdict
	Spent      float64 // share of the limit; negative when none is known
	Timer      *schedule.Timer
	Waits      bool // an alert waits
	Shown      bool // the cursor is on it
	With       bool // it goes into the same heat
}

// drawBoard is all pieces, one line each, those nearest to splitting first.
func drawBoard(f *Frame, s Scene) {
	drawTitle(f, s)
	name := max(12, min(30, f.w-52))
	f.Text(4, 1, "mark", Dim)
	f.Text(10, 1, "piece", Dim)
	f.Text(10+name+1, 1, "limit spent", Dim)
	rows := f.h - 4
	top := 0
	for i, r := range s.Board {
		if r.Shown && i >= rows {
			top = i - rows + 1
		}
	}
	for i, r := range s.Board[min(top, len(s.Board)):] {
		if i == rows {
			break
		}
		drawRow(f, r, 2+i, name)
	}
	if more := len(s.Board) - top - rows; more > 0 && s.Toast == "" && s.Ask == "" {
		f.Text(1, f.h-2, fmt.Sprintf("(%d more pieces: arrow down)", more), Dim)
	}
	drawToast(f, s, f.h-2)
	drawHelp(f, s, f.h-1)
}

// drawRow is one piece: the cursor and the heat it goes into as signs, its mark, and
// its state in words.
func drawRow(f *Frame, r Row, y, name int) {
	role := Plain
	if r.Shown {
		role = Focus
		f.Fill(0, y, f.w, 1, ' ', role)
	}
	sign := func(x int, on bool, text string) {
		if on {
			f.Text(x, y, text, role)
		}
	}
	sign(0, r.Shown, ">")
	sign(1, r.With, "*")
	sign(2, r.Waits, "!")
	f.Text(4, y, f.clip(r.Mark, 5), role)
	f.Text(10, y, f.clip(r.Name, name), role)
	x := 10 + name + 1
	if r.Spent >= 0 {
		f.Right(x+5, y, fmt.Sprintf("%.0f %%", 100*r.Spent), role)
	}
	x += 7
	x += f.Text(x, y, verdictText(r), role) + 1
	f.Text(max(x, 10+name+22), y, f.clip(rest(r), f.w-max(x, 10+name+22)-1), role)
}

func verdictText(r Row) string {
	switch r.Verdict {
	case schedule.VerdictWait, schedule.VerdictSoak, schedule.VerdictHeating:
		return "HOT"
	}
	return r.Verdict.String()
}

// rest is what runs, or else the section.
func rest(r Row) string {
	if r.Timer != nil && r.Timer.Step == schedule.StepPickle {
		return figureOf(*r.Timer)
	}
	if r.Timer != nil {
		return string(r.Timer.Step) + " " + figureOf(*r.Timer)
	}
	return r.Section
}
