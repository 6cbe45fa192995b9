package sheet

import (
	"strconv"
	"strings"
)

// table is one table of the page and of the paper. The first cell of a row is its
// head. A step of the work has a row for each zone.
type table struct {
	Caption string // its name
	Note    string // what it shows, in a sentence
	Heads   []string
	Rows    [][]string
	Once    int   // columns at the left that say the same in all rows of a step
	Steps   []int // rows of each step; nil is one each
}

// tables are those that have rows.
func (s Sheet) tables() (all []table) {
	for _, t := range []table{s.workTable(), s.heatTable(), s.crackTable(), s.jointTable(), s.signTable(), s.weightTable(),
		s.adviceTable(), s.photoTable(), s.noteTable(), s.handTable()} {
		if len(t.Rows) > 0 {
			all = append(all, s.writes(t))
		}
	}
	return all
}

// writes is a table with its cells in the style of the sheet.
func (s Sheet) writes(t table) table {
	t.Note = s.Style.Text(t.Note)
	for _, row := range t.Rows {
		for i := range row {
			row[i] = s.Style.Text(row[i])
		}
	}
	return t
}

func (s Sheet) workTable() table {
	t := table{Caption: "Work", Note: "Every step in order, and how each zone stood after it.", Once: 4,
		Heads: []string{"Date", "Hand", "What", "Courses", "Zone", "Size", "Strain", "Strain since soft", "Limit spent"}}
	for _, w := range s.Work {
		row := []string{w.At.Format(moment), w.Hand, said(" ", w.What, w.Detail, headed("with ", w.Tool)), "", "", "", "", "", ""}
		if w.Courses > 0 {
			row[3] = strconv.Itoa(w.Courses)
		}
		if len(w.Zones) == 0 {
			t.Rows = append(t.Rows, row)
		}
		for i, z := range w.Zones {
			if i > 0 {
				row = []string{row[0], row[1], row[2], "", "", "", "", "", ""} // the courses stand once
			}
			row[4], row[5], row[6], row[7], row[8] = z.Zone, z.Size, number(z.Strain), number(z.Since), with(z.Spent, " %")
			t.Rows = append(t.Rows, row)
		}
		t.Steps = append(t.Steps, max(1, len(w.Zones)))
	}
	return t
}

func (s Sheet) heatTable() table {
	t := table{Caption: "Heats", Note: "Every time in the fire, and what a bend check showed afterwards. Fire-stain: the time above 500 °C.",
		Heads: []string{"Date", "Hand", "Zones", "Begun", "Reached", "Out", "Cooled", "In the flame", "At heat", "Fire-stain", "Flux", "Bend check"}}
	for _, h := range s.Heats {
		reached := said(", ", h.Reached.String(), with(h.Hottest, " °C at most by a probe"))
		t.Rows = append(t.Rows, []string{h.At.Format(moment), h.Hand, strings.Join(h.Zones, ", "), h.Begun.String(), reached, h.Out.String(), h.Cooled,
			took(h.Flame), took(h.AtHeat), with(h.Stain, " min"), h.fluxed(), h.proof()})
	}
	return t
}

func (s Sheet) crackTable() table {
	t := table{Caption: "Cracks", Note: "Every crack that was seen, and how it stands now.",
		Heads: []string{"Seen", "Hand", "Zones", "Stands", "What was done"}}
	for _, c := range s.Cracks {
		var done []string
		for _, d := range c.Done {
			done = append(done, d.String())
		}
		t.Rows = append(t.Rows, []string{c.At.Format(moment), c.Hand, strings.Join(c.Zones, ", "), c.Stands, strings.Join(done, "; ")})
	}
	return t
}

func (s Sheet) jointTable() table {
	t := table{Caption: "Joints", Note: "Every soldered joint; its solder begins to melt at the solidus.",
		Heads: []string{"Date", "Hand", "Joint", "Solder", "Solidus"}}
	for _, j := range s.Joints {
		t.Rows = append(t.Rows, []string{j.At.Format(moment), j.Hand, j.Joint, j.Solder, said("", with(j.Solidus, " °C"), headed("not known: ", j.Why))})
	}
	return t
}

func (s Sheet) signTable() table {
	t := table{Caption: "Signs", Note: "What the metal said under the hammer.", Heads: []string{"Date", "Hand", "Zones", "Sign"}}
	for _, g := range s.Signs {
		t.Rows = append(t.Rows, []string{g.At.Format(moment), g.Hand, strings.Join(g.Zones, ", "), g.Sign})
	}
	return t
}

func (s Sheet) weightTable() table {
	t := table{Caption: "Weights", Note: "What the scales said.", Heads: []string{"Date", "Hand", "Of the", "Weight"}}
	for _, w := range s.Weights {
		t.Rows = append(t.Rows, []string{w.At.Format(moment), w.Hand, w.What, number(&w.Grams) + " g"})
	}
	return t
}

func (s Sheet) adviceTable() table {
	t := table{Caption: "Advice that was shown", Note: "What the program said at the bench after a pass, as it was shown then.",
		Heads: []string{"Date", "Hand", "Zone", "Advice", "Limit spent", "Followed"}}
	for _, a := range s.Advice {
		t.Rows = append(t.Rows, []string{a.At.Format(moment), a.Hand, a.Zone, a.Verdict, with(a.Spent, " %"), a.followed()})
	}
	return t
}

func (s Sheet) photoTable() table {
	t := table{Caption: "Photos", Note: "Where the photos are: numbers of the camera, or files.", Heads: []string{"Date", "Hand", "Zones", "Photo"}}
	for _, f := range s.Photos {
		t.Rows = append(t.Rows, []string{f.At.Format(moment), f.Hand, strings.Join(f.Zones, ", "), f.Ref})
	}
	return t
}

func (s Sheet) noteTable() table {
	t := table{Caption: "Notes", Note: "What was written down at the bench.", Heads: []string{"Date", "Hand", "Note"}}
	for _, n := range s.Notes {
		t.Rows = append(t.Rows, []string{n.At.Format(moment), n.Hand, n.Text})
	}
	return t
}

func (s Sheet) handTable() table {
	t := table{Caption: "Hands", Note: "Who was at the piece.", Heads: []string{"Hand", "First", "Last", "Courses"}}
	for _, h := range s.Hands {
		t.Rows = append(t.Rows, []string{h.Hand, h.First.Format(moment), h.Last.Format(moment), strconv.Itoa(h.Courses)})
	}
	return t
}
