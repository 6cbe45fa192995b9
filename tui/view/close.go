package view

import (
	"cmp"
	"fmt"
	"strings"
	"unicode/utf8"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// line is one line of a page that is read close, with a head in a column of its
// own where it has one.
type line struct {
	text string
	role Role
	head string
	hang int  // column of the text beside a head; 0 is headWidth
	kept bool // it is as it stands, with all its blanks, and fits
}

// headWidth is the column of the heads.
const headWidth = 7

// drawClose is a page read close: title, lines moved up by the scroll, help.
func drawClose(f *Frame, s Scene, lines []line) {
	drawTitle(f, s)
	rows := f.h - 3
	broken := wrapped(lines, f.w-2)
	top := min(s.Scroll, max(0, len(broken)-rows))
	for i := 0; i < rows && top+i < len(broken); i++ {
		f.Text(1, 1+i, broken[top+i].text, broken[top+i].role)
	}
	if s.Toast != "" || s.Ask != "" {
		drawToast(f, s, f.h-2)
	} else if more := len(broken) - top - rows; more > 0 {
		f.Text(1, f.h-2, fmt.Sprintf("(%d more lines: arrow down)", more), Dim)
	}
	drawHelp(f, s, f.h-1)
}

// wrapped breaks lines at w columns; what hangs over is indented under its head.
func wrapped(lines []line, w int) (out []line) {
	for _, l := range lines {
		if l.kept {
			out = append(out, l)
			continue
		}
		hang := 2
		if l.head != "" {
			hang = cmp.Or(l.hang, headWidth)
		}
		parts := broken(l.text, w-hang)
		if len(parts) == 0 {
			out = append(out, line{})
		}
		for i, p := range parts {
			indent := strings.Repeat(" ", hang)
			if i == 0 {
				indent = l.head + indent[min(hang, Columns(l.head)):]
			}
			if i == 0 && l.head == "" {
				indent = ""
			}
			out = append(out, line{text: indent + string(p), role: l.role})
		}
	}
	return out
}

// ScrollEnd is the furthest that a scene's page can be moved up on a screen.
func ScrollEnd(s Scene, w, h int) int {
	lines, readClose := closeLines(s, w)
	if !readClose && s.Drill != nil {
		return drillText(s, w, h).end()
	}
	return max(0, len(wrapped(lines, w-2))-(h-3))
}

// closeLines are the lines of a page that is read close, on a screen of w columns. It
// is false for any other page.
func closeLines(s Scene, w int) ([]line, bool) {
	switch {
	case s.Page == Near && s.Piece != nil:
		return styled(nearLines(s), s.Style), true
	case s.Page == Why && s.Piece != nil:
		return styled(whyLines(s, w), s.Style.Metric()), true // it is worked in mm
	case s.Page == Curves && s.Piece != nil:
		return styled(curveLines(s), s.Style.Metric()), true // drawn in mm
	case s.Page == Keys:
		return keyLines(s), true
	case s.Page == Cautions:
		return styled(cautionLines(s), s.Style), true
	}
	return nil, false
}

// styled are lines with their figures in a style, but for those that are kept as
// they were drawn.
func styled(lines []line, style unit.Style) []line {
	if style.Plain() {
		return lines
	}
	for i, l := range lines {
		if !l.kept {
			lines[i].text = style.Text(l.text)
		}
	}
	return lines
}

// nearLines are the reasons, the plan, the zones, what runs, the log and the sources.
func nearLines(s Scene) []line {
	a := s.Piece.Advice
	lines := []line{{text: headline(s.Piece), role: Bold}, {text: "next: " + a.Next}}
	if s.Piece.Hand != "" {
		lines = append(lines, line{text: "last worked by " + s.Piece.Hand})
	}
	if s.Sharing != "" {
		lines = append(lines, line{text: "the record: " + s.Sharing})
	}
	lines = section(lines, "running", runningLines(s))
	lines = section(lines, "the heat", heatLines(s.Piece.Cue))
	lines = section(lines, "zones", zoneTable(a.Zones))
	lines = section(lines, "why", a.Reasons)
	lines = append(lines, planLines(s.Piece.Plan)...)
	lines = section(lines, "mind", a.Cautions)
	lines = section(lines, "log, newest first", s.Piece.Log)
	return section(lines, "from", a.Sources)
}

func section(lines []line, head string, texts []string) []line {
	if len(texts) == 0 {
		return lines
	}
	lines = append(lines, line{}, line{text: head, role: Bold})
	for _, t := range texts {
		lines = append(lines, line{text: t})
	}
	return lines
}

// zoneTable is a line for each zone, when there is more than one.
func zoneTable(zones []schedule.ZoneAdvice) (lines []string) {
	if len(zones) < 2 {
		return nil
	}
	widest := 0
	for _, z := range zones {
		widest = max(widest, utf8.RuneCountInString(z.Zone))
	}
	for _, z := range zones {
		text := fmt.Sprintf("%s: %s", z.Zone, z.Verdict)
		if z.Limit.Known() {
			text += fmt.Sprintf(", %.0f %% of the limit spent, worked %.1f %%", 100*z.Spent, 100*z.Worked())
		}
		lines = append(lines, text)
	}
	return lines
}

// heatLines are how to tell the heat, one sign a line.
func heatLines(c *schedule.Cue) []string {
	if c == nil {
		return nil
	}
	return some(c.Window, fmt.Sprintf("%s: %s", c.Light, c.Seen), c.Skin, c.Second)
}

// runningLines are the timers of this piece, of the others and of the bench.
func runningLines(s Scene) (lines []string) {
	all := s.Others
	if t := s.Piece.Timer; t != nil {
		all = append([]Running{{Name: s.Piece.Name, Timer: *t}}, all...)
	}
	for _, o := range all {
		switch {
		case o.Timer.Step == "":
			continue
		case o.Timer.Basis == "":
			lines = append(lines, strings.Join(some(o.Name, string(o.Timer.Step), figureOf(o.Timer)), " "))
		default:
			lines = append(lines, strings.Join(some(o.Name, string(o.Timer.Step), figureOf(o.Timer)), " ")+" ("+o.Timer.Basis+")")
		}
	}
	return lines
}

// keyLines are all the keys, under the heads of their groups.
func keyLines(s Scene) []line {
	var lines []line
	group := ""
	for _, k := range s.Keys {
		if k.Group != group {
			group = k.Group
			lines = append(lines, line{}, line{text: group, role: Bold})
		}
		lines = append(lines, line{text: k.Words, head: " " + k.Key})
	}
	return lines
}

// cautionLines are what can hurt now, and then the whole safety text.
func cautionLines(s Scene) []line {
	var lines []line
	if s.Piece != nil {
		lines = section(lines, "now", s.Piece.Advice.Cautions)
	}
	lines = append(lines, line{})
	for text := range strings.Lines(s.Safety) {
		text = strings.TrimRight(text, "\n")
		role := Plain
		if strings.HasPrefix(text, "#") {
			text, role = strings.TrimLeft(text, "# "), Bold
		}
		lines = append(lines, line{text: text, role: role})
	}
	return lines
}
