package main

import (
	"fmt"
	"strings"
	"time"

	"dullred/schedule"
)

// batchText is a batch in words: its figures, then the list of the day.
func batchText(job schedule.BatchJob, b schedule.Batch) string {
	var out headed
	out.line("batch", "%s, at most %d in one heat", counted(len(job.Pieces), "piece"), b.AtOnce)
	out.line("heats", "%s", heatsText(b))
	out.line("torch", "about %s lit", hours(b.Torch))
	days := ""
	if b.Days > 1 {
		days = fmt.Sprintf(", in %d days", b.Days)
	}
	out.line("total", "about %s for one smith%s", hours(b.Total), days)
	heats, day := 0, 0
	for _, r := range b.Rounds {
		if r.Day != day && job.Day > 0 {
			fmt.Fprintf(&out, "DAY %d\n", r.Day)
		}
		day = r.Day
		out.WriteString(workText(job, r.Work))
		if len(r.Heat.Pieces) > 0 {
			heats++
			out.WriteString(heatText(job, r.Heat, heats))
		}
	}
	for _, n := range b.Notes {
		out.line("mind", "%s", n)
	}
	out.line("mind", "%s", "Local rules for flames and gas come first: see dullred safety.")
	return out.String()
}

func heatsText(b schedule.Batch) string {
	text := fmt.Sprintf("%d shared, %d if each piece is heated alone", b.Heats, b.Alone)
	if b.Joints > 0 {
		text = fmt.Sprintf("%d, of them %s; %d if each piece is heated alone", b.Heats, counted(b.Joints, "soldering heat"), b.Alone)
	}
	if !b.Fewest {
		text += fmt.Sprintf("; no order has fewer than %d, but not all were tried", b.Least)
	}
	return text
}

// hours are minutes below two hours, and hours to the tenth from there.
func hours(d time.Duration) string {
	if d < 2*time.Hour {
		return fmt.Sprintf("%.0f min", d.Minutes())
	}
	return fmt.Sprintf("%.1f h", d.Hours())
}

// workText is what is hammered before a heat, pieces with the same to do in one line.
func workText(job schedule.BatchJob, work []schedule.BatchWork) string {
	var said alikeLines
	for _, w := range work {
		p := job.Pieces[w.Piece]
		var steps []string
		for _, s := range p.Plan.Steps[w.From:w.To] {
			text := s.Title()
			if s.Courses > 0 {
				text += ", " + counted(s.Courses, "course")
			}
			steps = append(steps, text)
		}
		said.add(p.Name, strings.Join(steps, "; "))
	}
	return said.text("  ", "    ")
}

// heatText is a heat with its number, and below it what is to be minded of a piece.
func heatText(job schedule.BatchJob, h schedule.BatchHeat, number int) string {
	var names []string
	var said alikeLines
	for i, p := range h.Pieces {
		s := job.Pieces[p].Plan.Steps[h.Steps[i]]
		names = append(names, job.Pieces[p].Name)
		if mind := mindOf(s); mind != "" {
			said.add(job.Pieces[p].Name, mind)
		}
	}
	head := fmt.Sprintf("HEAT %-5d", number)
	return wrap(head, "          ", warmthOf(job, h)+": "+strings.Join(names, ", ")) + said.text("          ", "            ")
}

// warmthOf is how hot a heat is, or what is soldered in it.
func warmthOf(job schedule.BatchJob, h schedule.BatchHeat) string {
	switch {
	case h.Act == schedule.DoSolder:
		return job.Pieces[h.Pieces[0]].Plan.Steps[h.Steps[0]].Title()
	case h.High == 0:
		return "no heat is published"
	case h.High == h.Low:
		return fmt.Sprintf("%.4g °C", float64(h.High))
	}
	return fmt.Sprintf("%.4g to %.4g °C", float64(h.Low), float64(h.High))
}

// mindOf is what is to be minded of a piece in a heat: where the flame goes, and what
// its plan says.
func mindOf(s schedule.PlanStep) string {
	if s.Act == schedule.DoSolder || s.Zone == schedule.Whole {
		return s.Text
	}
	return strings.TrimSuffix(s.Zone+"; "+s.Text, "; ")
}

// alikeLines are lines about pieces, those that say the same one after the other
// made one.
type alikeLines []alikeLine

type alikeLine struct {
	names []string
	text  string
}

func (l *alikeLines) add(name, text string) {
	if n := len(*l); n > 0 && (*l)[n-1].text == text {
		(*l)[n-1].names = append((*l)[n-1].names, name)
		return
	}
	*l = append(*l, alikeLine{[]string{name}, text})
}

func (l alikeLines) text(first, hang string) string {
	var b strings.Builder
	for _, line := range l {
		b.WriteString(wrap(first, hang, strings.Join(line.names, ", ")+": "+line.text))
	}
	return b.String()
}
