package view

import (
	"fmt"
	"strings"

	"dullred/schedule"
)

// plan is where the parts of the page for two metres stand.
type plan struct {
	word, number       Size
	air                int // blank rows between the parts
	gauge, next, lower int // rows of each
	margin             int // columns at the left
}

// planFor makes the letters as large as the screen allows, and no larger than
// seven rows on a page that must not shine. Count-downs are never
// larger than seven rows, so that a second costs few bytes on a slow line.
func planFor(f *Frame) plan {
	w, h := f.Size()
	switch {
	case w >= 120 && h >= 40 && f.thin:
		return plan{word: Seven, number: Seven, air: 1, gauge: 3, next: 3, lower: 4, margin: 3}
	case w >= 120 && h >= 40:
		return plan{word: Ten, number: Seven, air: 1, gauge: 3, next: 3, lower: 4, margin: 3}
	case w >= 80 && h >= 24:
		return plan{word: Five, number: Seven, gauge: 2, next: 2, lower: 1, margin: 2}
	}
	return plan{word: Five, number: Five, gauge: 1, next: 2, lower: 0, margin: 1}
}

func drawDistance(f *Frame, s Scene) {
	l, sig := planFor(f), signOf(s.Piece).in(s.Style)
	drawTitle(f, s)
	y := 1 + l.air
	y += drawWord(f, l, y, sig)
	drawVerdict(f, s, y)
	y += 1 + l.air
	drawFigure(f, s, l, y, sig)
	y += l.number.Rows()
	drawCaption(f, s, y, sig, l.margin)
	y += 1 + l.air
	drawGauge(f, s.Piece, l, y)
	y += l.gauge + l.air
	drawLower(f, s, l, y)
	drawToast(f, s, f.h-2)
	drawHelp(f, s, f.h-1)
}

// drawTitle is the bar at the top: what is shown, and what is hot elsewhere.
func drawTitle(f *Frame, s Scene) {
	w, _ := f.Size()
	f.Fill(0, 0, w, 1, ' ', Title)
	right := w
	if mark := markOf(s); mark != "" {
		right -= 1 + Columns(mark)
		f.Text(right, 0, mark, Mark)
	}
	if hot := hotElsewhere(s.Others); hot != "" {
		hot = " " + f.clip(hot, w/3) + " "
		right -= 1 + Columns(hot)
		f.Text(right, 0, hot, Hot)
	}
	f.Text(1, 0, f.clip(title(s.Piece), right-2), Title)
}

// markOf says that a bench is no bench of real pieces.
func markOf(s Scene) string {
	switch {
	case s.Drill != nil:
		return " DRILL "
	case s.Demo:
		return " DEMO "
	}
	return ""
}

func title(p *Piece) string {
	if p == nil {
		return "the bench is empty"
	}
	zone := p.Advice.Zone
	switch {
	case p.Zone != "":
		zone = "zone " + p.Zone
	case p.Plan != nil && p.Plan.Keys != "":
		zone = "keys: " + p.Plan.Keys
	}
	return strings.Join(some(p.Name, at(p.Place), chalked(p.Mark), zone, p.Section, p.Metal, p.Work), " - ")
}

// at tells the place of a piece that is not at this bench.
func at(place string) string {
	if place == "" {
		return ""
	}
	return "at " + place
}

// chalked tells a mark from the rest.
func chalked(mark string) string {
	if mark == "" {
		return ""
	}
	return "mark " + mark
}

// hotElsewhere names the pieces that burn though another is shown.
func hotElsewhere(others []Running) string {
	var names []string
	for _, o := range others {
		if o.Hot {
			names = append(names, o.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "HOT: " + strings.Join(names, ", ")
}

// some are the texts that are not empty.
func some(texts ...string) (out []string) {
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

// clip cuts a text in the style of the frame: one that was cut before would be
// another figure.
func (f *Frame) clip(s string, w int) string { return clip(f.style.Text(s), w) }

// clip cuts a text to w columns, with dots at the end of what was cut.
func clip(s string, w int) string {
	r := columns(s)
	if len(r) <= w {
		return string(r)
	}
	return string(r[:max(0, w-2)]) + ".."[:min(2, max(0, w))]
}

// drawWord is the state in block letters, on a plate where its role has a ground,
// and returns the rows that are kept for it: the same for every state, so that
// nothing jumps.
func drawWord(f *Frame, l plan, y int, sig sign) int {
	rows := l.word.Rows() + 2*plateRows
	word := sig.word
	if marked := word + " " + sig.marks; sig.marks != "" && !f.sparing() && Width(marked, l.word)+2*plateColumns+l.margin <= f.w {
		word = marked
	}
	if grounded(sig.role) {
		f.Plate(l.margin, y, word, sig.role, l.word)
		return rows
	}
	f.Big(l.margin, y+plateRows, word, sig.role, l.word)
	return rows
}

// sparing reports whether a page that must not shine is so small that its letters
// would be more than a tenth of it: then only the word and the figure are large.
func (f *Frame) sparing() bool { return f.thin && f.w < 80 }

// grounded reports whether a role is drawn on a ground of its own or in reverse.
func grounded(r Role) bool { return r == Act || r == Hot || r == Ask || r == Fault }

// drawVerdict is the state in full words.
func drawVerdict(f *Frame, s Scene, y int) {
	f.Text(planFor(f).margin, y, f.clip(headline(s.Piece), f.w-2), Bold)
}

// headline is the state in full words, with what to stop drawing by the plan and
// the share of the limit.
func headline(p *Piece) string {
	text := strings.ToUpper(p.Advice.Verdict.String())
	if p.Advice.Verdict == schedule.VerdictWait {
		text = "HOT - NOT GLOWING"
	}
	if stop := stopShort(p.Advice.Stop); stop != "" {
		text += ", BUT " + stop
	}
	if p.Advice.Limit.Known() {
		text += fmt.Sprintf(" - %s %% of the limit spent", spentFigure(p))
	}
	return text
}

// stopShort is what to stop drawing without the areas that say why, which stand with
// the next step.
func stopShort(stop string) string {
	var parts []string
	for part := range strings.SplitSeq(stop, "; ") {
		short, _, _ := strings.Cut(part, ":")
		parts = append(parts, short)
	}
	return strings.Join(parts, "; ")
}

// drawBar is the alert bar: reversed while it is lit, with words and marks that
// stand whether it is or not.
func drawBar(f *Frame, y int, a Alert) {
	role, key := Bold, "a: seen"
	if a.Shown {
		role = Alarm
	}
	if a.Seen {
		key = "(seen)"
	}
	if f.w >= 80 {
		key += "  ?: keys"
	}
	if a.More > 0 {
		key = fmt.Sprintf("+%d  %s", a.More, key)
	}
	f.Fill(0, y, f.w, 1, ' ', role)
	f.Text(1, y, f.clip(strings.TrimSpace(a.Marks+" "+a.Text), f.w-Columns(key)-3), role)
	f.Right(f.w-1, y, key, role)
}

// drawFigure is the figure at the left and the next key at the right.
func drawFigure(f *Frame, s Scene, l plan, y int, sig sign) {
	x := l.margin + max(0, Width(sig.widest, l.number)-Width(strings.TrimSuffix(sig.figure, "+"), l.number))
	used := x + f.Big(x, y, sig.figure, figureRole(sig), l.number)
	if f.thin && f.Lit(Hearth) > mostLit {
		f.Fill(0, y, f.w, l.number.Rows(), ' ', Plain)
		f.Text(l.margin, y+l.number.Rows()/2, sig.figure, Bold)
	}
	key := keyGlyphs(s.Piece.Next.Key)
	if f.sparing() {
		return // the caption names the key
	}
	if at := f.w - l.margin - Width(key, l.number); key != "" && at > used+1 {
		f.Big(at, y, key, Bold, l.number)
	}
}

// mostLit is the share of cells that may be blocks of light on a page that must not
// shine: a tenth (a judgement). On a small screen a long figure is given up for it.
const mostLit = 0.10

// figureRole keeps the figure in ink on the page: only the word has a ground.
func figureRole(sig sign) Role {
	switch {
	case sig.role == Calm || sig.role == Soon || sig.role == Fire:
		return sig.role
	}
	return Plain
}

// keyGlyphs is a key in block letters; the space bar has a sign of its own.
func keyGlyphs(key string) string {
	if key == "space" {
		return "\u2423"
	}
	return strings.ToUpper(key)
}

func drawCaption(f *Frame, s Scene, y int, sig sign, margin int) {
	right := ""
	if n := s.Piece.Next; n.Key != "" {
		right = strings.ToUpper(n.Key) + ": " + n.Words
	}
	at := f.w - margin - Columns(right)
	f.Text(margin, y, f.clip(sig.caption, at-margin-1), Plain)
	f.Text(at, y, right, Bold)
}
