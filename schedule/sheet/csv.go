package sheet

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
	"time"
	"unicode"
)

// Columns are the columns of the CSV. Every line has all of them, and those that do
// not apply to its kind are empty. A pass has one line for each zone; its courses
// stand in the first, so that the column adds up to the total.
var Columns = []string{"kind", "date", "hand", "zone", "what", "courses", "size", "strain", "strain_since_soft", "limit_spent_percent",
	"begun", "begun_c", "reached", "reached_c", "out", "out_c", "flame_seconds", "at_heat_seconds", "minutes_above_500_c", "solidus_c", "grams", "tool", "result", "text"}

// stamp is a time in the CSV.
const stamp = "2006-01-02 15:04:05"

// cells are one line of the CSV, by column.
type cells map[string]string

// CSV is the sheet as RFC 4180 has it, in UTF-8 with a line of heads. A text that a
// spreadsheet would take for a formula has an apostrophe before it; a figure has none.
func (s Sheet) CSV() ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	lines := [][]string{Columns}
	for _, c := range s.lines() {
		line := make([]string, len(Columns))
		for i, name := range Columns {
			line[i] = c[name]
		}
		lines = append(lines, line)
	}
	err := w.WriteAll(lines)
	return out.Bytes(), err
}

func (s Sheet) lines() (all []cells) {
	all = append(all, cells{"kind": "piece", "what": "name", "text": defused(s.Name)})
	for _, f := range s.facts() {
		all = append(all, cells{"kind": "piece", "what": f.Head, "text": defused(f.Text)})
	}
	for _, w := range s.Work {
		all = append(all, w.lines()...)
	}
	for _, h := range s.Heats {
		all = append(all, h.line())
	}
	for _, c := range s.Cracks {
		all = append(all, c.lines()...)
	}
	for _, j := range s.Joints {
		all = append(all, j.Made.line("joint").put("what", j.Joint).put("text", said(": ", j.Solder, j.Why)).figure("solidus_c", j.Solidus))
	}
	for _, g := range s.Signs {
		all = append(all, g.Made.line("sign").zones(g.Zones).put("what", g.Sign))
	}
	for _, a := range s.Advice {
		all = append(all, a.Made.line("advice").put("zone", a.Zone).put("what", a.Verdict).put("result", a.followed()).figure("limit_spent_percent", a.Spent))
	}
	for _, w := range s.Weights {
		all = append(all, w.Made.line("weight").put("what", w.What).figure("grams", &w.Grams))
	}
	for _, f := range s.Photos {
		all = append(all, f.Made.line("photo").zones(f.Zones).put("text", f.Ref))
	}
	for _, n := range s.Notes {
		all = append(all, n.Made.line("note").put("text", n.Text))
	}
	for _, h := range s.Hands {
		all = append(all, Made{h.First, h.Hand}.line("hand").put("text", "until "+h.Last.Format(stamp)+", "+counted(h.Courses, "course")))
	}
	for _, f := range s.totals() {
		all = append(all, cells{"kind": "total", "what": f.Head, "text": defused(f.Text)})
	}
	return all
}

func (w Work) lines() (all []cells) {
	for _, z := range w.Zones {
		all = append(all, w.Made.line("work").put("zone", z.Zone).put("what", w.What).put("text", w.Detail).put("size", z.Size).
			figure("strain", z.Strain).figure("strain_since_soft", z.Since).figure("limit_spent_percent", z.Spent))
	}
	if len(all) == 0 {
		all = append(all, w.Made.line("work").put("what", w.What).put("text", w.Detail))
	}
	all[0].put("tool", w.Tool)
	if w.Courses > 0 {
		all[0]["courses"] = strconv.Itoa(w.Courses)
	}
	return all
}

func (h Heat) line() cells {
	c := h.Made.line("heat").zones(h.Zones).put("what", h.fluxed()).put("result", h.proof()).put("text", said(", ", h.Cooled, with(h.Hottest, " °C at most by a probe"))).
		figure("flame_seconds", h.Flame).figure("at_heat_seconds", h.AtHeat).figure("minutes_above_500_c", h.Stain)
	return c.step("begun", h.Begun).step("reached", h.Reached).step("out", h.Out)
}

func (c Crack) lines() (all []cells) {
	all = append(all, c.Made.line("crack").zones(c.Zones).put("what", "seen").put("result", c.Stands))
	for _, d := range c.Done {
		all = append(all, d.Made.line("crack").zones(d.Zones).put("what", d.What))
	}
	return all
}

// line begins a line with its date and hand.
func (m Made) line(kind string) cells {
	return cells{"kind": kind, "date": written(m.At)}.put("hand", m.Hand)
}

func written(t time.Time) string { return t.Format(stamp) }

// put sets a text, which is defused.
func (c cells) put(column, text string) cells {
	c[column] = defused(text)
	return c
}

func (c cells) zones(names []string) cells { return c.put("zone", strings.Join(names, ", ")) }

// figure sets a number, which may begin with a minus.
func (c cells) figure(column string, f *float64) cells {
	c[column] = number(f)
	return c
}

func (c cells) step(name string, s *Step) cells {
	if s != nil {
		c[name] = written(s.At)
		c.figure(name+"_c", s.Temp)
	}
	return c
}

// defused is a text that no spreadsheet takes for a formula: one that begins with a
// sign that opens one, narrow or wide, blanks before it or not, gets an apostrophe
// (common practice; the signs are those that spreadsheets read so).
func defused(text string) string {
	trimmed := strings.TrimLeftFunc(text, unicode.IsSpace)
	for _, opens := range []string{"=", "+", "-", "@", "＝", "＋", "－", "＠"} {
		if strings.HasPrefix(trimmed, opens) {
			return "'" + text
		}
	}
	if strings.HasPrefix(text, "\t") || strings.HasPrefix(text, "\r") {
		return "'" + text
	}
	return text
}
