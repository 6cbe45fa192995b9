package sheet

import (
	"fmt"
	"strings"

	"dullred/schedule"
)

// day is how a date is written where the hour does not matter.
const day = "2006-01-02"

// summary is what happened to the piece, in sentences for somebody who knows nothing
// of the work. It tells what was logged and no more.
func (s Sheet) summary() (sentences []string) {
	for _, text := range []string{s.metalSaid(), s.workSaid(), s.spentSaid(), s.weightSaid(), s.cracksSaid(), s.unreadSaid()} {
		if text != "" {
			sentences = append(sentences, s.Style.Text(text+"."))
		}
	}
	return sentences
}

// metalSaid is of what the piece is and when it was made.
func (s Sheet) metalSaid() string {
	if s.Started == nil {
		return "Its beginning was not logged"
	}
	made := "begun on " + s.Started.Format(day)
	if n := len(s.Finished); n > 0 {
		made += " and finished on " + s.Finished[n-1].At.Format(day)
		if s.Finished[n-1].At.Format(day) == s.Started.Format(day) {
			made = "begun and finished on " + s.Started.Format(day)
		}
	}
	metal := s.AlloyName
	if metal == "" {
		metal = s.Alloy
	}
	return said(", ", "Made of "+metal, s.condition(), made)
}

// workSaid is how much was done.
func (s Sheet) workSaid() string {
	t := s.Totals
	text := fmt.Sprintf("It took %s of cold work and %s", counted(t.Courses, "course"), counted(t.Heats, "heat"))
	switch {
	case t.Heats == 0:
		return fmt.Sprintf("It took %s of cold work and no heat", counted(t.Courses, "course"))
	case t.Proved == 0:
		return text + "; no bend check proved it soft"
	case t.Heats == 1:
		return text + ", proved soft by a bend check"
	case t.Proved == t.Heats:
		return text + ", each proved soft by a bend check"
	}
	return text + fmt.Sprintf(", %d of them proved soft by a bend check", t.Proved)
}

// spentSaid is how near to splitting the metal came.
func (s Sheet) spentSaid() string {
	most, zone := 0.0, ""
	for _, w := range s.Work {
		for _, z := range w.Zones {
			if z.Spent != nil && *z.Spent > most {
				most, zone = *z.Spent, z.Zone
			}
		}
	}
	if most == 0 {
		return ""
	}
	return fmt.Sprintf("At the most, %s %% of the limit between two anneals was spent%s", number(&most), inZones([]string{zone}))
}

// weightSaid is what became of the metal, as far as it was weighed.
func (s Sheet) weightSaid() string {
	if s.Totals.In == nil {
		return ""
	}
	return "Metal: " + s.Totals.metal()
}

// inZones names zones, but not the whole of a piece that has no others.
func inZones(names []string) string {
	if len(names) == 0 || len(names) == 1 && names[0] == schedule.Whole {
		return ""
	}
	return " in " + strings.Join(names, " and ")
}

// cracksSaid is where it cracked and what was done, of up to three cracks.
func (s Sheet) cracksSaid() string {
	const told = 3
	if len(s.Cracks) == 0 {
		return "No crack was seen"
	}
	var parts []string
	for _, c := range s.Cracks[:min(told, len(s.Cracks))] {
		parts = append(parts, c.told())
	}
	text := "It cracked" + strings.Join(parts, ", and again")
	if more := len(s.Cracks) - told; more > 0 {
		text += fmt.Sprintf("; %s more below", counted(more, "crack"))
	}
	return text
}

// told is a crack in a sentence.
func (c Crack) told() string {
	var parts []string
	for _, d := range c.Done {
		where := ""
		if len(d.Zones) < len(c.Zones) {
			where = inZones(d.Zones)
		}
		parts = append(parts, d.What+where)
	}
	done := strings.Join(parts, ", then ")
	if c.Stands == crackOpen {
		done = said(", ", done, "still open")
	}
	return inZones(c.Zones) + " on " + c.At.Format(day) + " (" + done + ")"
}

func (s Sheet) unreadSaid() string {
	if len(s.Unread) == 0 {
		return ""
	}
	return "Part of the record cannot be read, so that strain and limit are not known"
}
