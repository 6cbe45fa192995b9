package sheet

import (
	"bytes"
	_ "embed"
	"html/template"
	"strconv"
	"strings"
)

//go:embed sheet.html
var pageSource string

// htmlPage is parsed once; what a sheet holds is escaped where it stands.
var htmlPage = template.Must(template.New("sheet").Parse(pageSource))

// table is one table of the page. The first cell of a row is its head.
type table struct {
	Caption string
	Heads   []string
	Rows    [][]string
}

// HTML is the sheet as one page that asks for nothing else: no script, no picture, no
// style from elsewhere. It prints in black on A4 or Letter.
func (s Sheet) HTML() ([]byte, error) {
	var out bytes.Buffer
	err := htmlPage.Execute(&out, struct {
		Name          string
		Facts, Totals []fact
		Tables        []table
	}{s.Name, s.facts(), s.totals(), s.tables()})
	return out.Bytes(), err
}

// tables are those that have rows.
func (s Sheet) tables() (all []table) {
	for _, t := range []table{s.workTable(), s.heatTable(), s.crackTable(), s.jointTable(), s.signTable(), s.adviceTable(), s.noteTable(), s.handTable()} {
		if len(t.Rows) > 0 {
			all = append(all, t)
		}
	}
	return all
}

func (s Sheet) workTable() table {
	t := table{Caption: "Work", Heads: []string{"Date", "Hand", "What", "Courses", "Zone", "Size", "Strain", "Strain since soft", "Limit spent"}}
	for _, w := range s.Work {
		row := []string{w.At.Format(moment), w.Hand, said(" ", w.What, w.Detail), "", "", "", "", "", ""}
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
	}
	return t
}

func (s Sheet) heatTable() table {
	t := table{Caption: "Heats", Heads: []string{"Date", "Hand", "Zones", "Begun", "Reached", "Out", "Cooled", "In the flame", "At heat", "Flux", "Bend check"}}
	for _, h := range s.Heats {
		reached := said(", ", h.Reached.String(), with(h.Hottest, " °C at most by a probe"))
		t.Rows = append(t.Rows, []string{h.At.Format(moment), h.Hand, strings.Join(h.Zones, ", "), h.Begun.String(), reached, h.Out.String(), h.Cooled,
			took(h.Flame), took(h.AtHeat), h.fluxed(), h.proof()})
	}
	return t
}

func (s Sheet) crackTable() table {
	t := table{Caption: "Cracks", Heads: []string{"Seen", "Hand", "Zones", "Stands", "What was done"}}
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
	t := table{Caption: "Joints", Heads: []string{"Date", "Hand", "Joint", "Solder", "Solidus"}}
	for _, j := range s.Joints {
		t.Rows = append(t.Rows, []string{j.At.Format(moment), j.Hand, j.Joint, j.Solder, said("", with(j.Solidus, " °C"), headed("not known: ", j.Why))})
	}
	return t
}

func (s Sheet) signTable() table {
	t := table{Caption: "Signs", Heads: []string{"Date", "Hand", "Zones", "Sign"}}
	for _, g := range s.Signs {
		t.Rows = append(t.Rows, []string{g.At.Format(moment), g.Hand, strings.Join(g.Zones, ", "), g.Sign})
	}
	return t
}

func (s Sheet) adviceTable() table {
	t := table{Caption: "Advice that was shown", Heads: []string{"Date", "Hand", "Zone", "Advice", "Limit spent", "Followed"}}
	for _, a := range s.Advice {
		t.Rows = append(t.Rows, []string{a.At.Format(moment), a.Hand, a.Zone, a.Verdict, with(a.Spent, " %"), a.followed()})
	}
	return t
}

func (s Sheet) noteTable() table {
	t := table{Caption: "Notes", Heads: []string{"Date", "Hand", "Note"}}
	for _, n := range s.Notes {
		t.Rows = append(t.Rows, []string{n.At.Format(moment), n.Hand, n.Text})
	}
	return t
}

func (s Sheet) handTable() table {
	t := table{Caption: "Hands", Heads: []string{"Hand", "First", "Last", "Courses"}}
	for _, h := range s.Hands {
		t.Rows = append(t.Rows, []string{h.Hand, h.First.Format(moment), h.Last.Format(moment), strconv.Itoa(h.Courses)})
	}
	return t
}
