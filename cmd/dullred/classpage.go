package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/rivo/uniseg"

	"dullred/schedule/class"
)

// The page: A4 as plain text.
const (
	pageColumns = 80
	pageLines   = 60
	handColumns = 14
)

// classColumn is one figure of a hand.
type classColumn struct {
	head  string
	width int // with the blank before it
	text  func(class.Counts) string
}

// classHead stands over the heads of the columns.
const classHead = "                        courses heats proved         ---------- drill ----------"

var classColumns = []classColumn{
	{"pieces", 7, func(c class.Counts) string { return strconv.Itoa(c.Pieces) }},
	{"all", 6, func(c class.Counts) string { return strconv.Itoa(c.Courses) }},
	{"over", 5, func(c class.Counts) string { return strconv.Itoa(c.Over) }},
	{"soft", 6, func(c class.Counts) string { return strconv.Itoa(c.Anneals) }},
	{"never", 6, func(c class.Counts) string { return strconv.Itoa(c.Unproven) }},
	{"splits", 7, func(c class.Counts) string { return strconv.Itoa(c.Splits) }},
	{"n", 4, func(c class.Counts) string { return classDrillText(c, c.Drill.Lessons) }},
	{"error", 11, func(c class.Counts) string { return classErrorText(c.Drill) }},
	{"wasted", 7, func(c class.Counts) string { return classDrillText(c, c.Drill.Wasted) }},
	{"splits", 7, func(c class.Counts) string { return classDrillText(c, c.Drill.Splits) }},
}

// classDrillText is a figure of the drill; a dash for who did none.
func classDrillText(c class.Counts, n int) string {
	if c.Drill.Lessons == 0 {
		return "-"
	}
	return strconv.Itoa(n)
}

func classErrorText(d class.Drill) string {
	off, asked := d.Error()
	if !asked {
		return "-"
	}
	return class.Off(off)
}

// classLegend says what the columns are.
const classLegend = `over: courses struck at or over the limit. never: heats without a bend check.
error: courses left, said too many (late) or too few (early), for each answer.
wasted: heats of the drill on metal that had courses left in plenty.
A heat is too early before half of the limit is spent, which is a judgement.
`

// classText is the pages of some lessons, one after the other.
func classText(lessons []class.Lesson, called people) string {
	var pages []string
	for _, l := range lessons {
		pages = append(pages, lessonPages(l, called)...)
	}
	return strings.Join(pages, "\n")
}

// lessonPages are the pages of one lesson: one, unless there are more hands than a
// page has lines for. What stands under the rows stays together if it can.
func lessonPages(l class.Lesson, called people) []string {
	const room = pageLines - 4 // beside the head
	var rows []string
	for _, r := range byName(l.Rows, called) {
		rows = append(rows, classRow(called[r.Hand], r.Counts))
	}
	under := underRows(l, called)
	var bodies [][]string
	for part := range slices.Chunk(rows, room) {
		bodies = append(bodies, part)
	}
	if last := len(bodies) - 1; len(bodies[last])+len(under) <= room {
		bodies[last] = append(bodies[last], under...)
	} else {
		bodies = slices.AppendSeq(bodies, slices.Chunk(under, room))
	}
	var pages []string
	for i, body := range bodies {
		title := fmt.Sprintf("Lesson of %s, %s", l.Day.Format("Monday 2 January 2006"), counted(len(l.Rows), "hand"))
		if len(bodies) > 1 {
			title += fmt.Sprintf(", page %d of %d", i+1, len(bodies))
		}
		pages = append(pages, title+"\n\n"+classHead+"\n"+classHeads()+strings.Join(body, ""))
	}
	return pages
}

// byName sorts rows as their names are read: numbers at the end by their size.
func byName(rows []class.Row, called people) []class.Row {
	return slices.SortedStableFunc(slices.Values(rows), func(x, y class.Row) int {
		a, b := called[x.Hand], called[y.Hand]
		wordA, numberA := wordAndNumber(a)
		wordB, numberB := wordAndNumber(b)
		return cmp.Or(strings.Compare(wordA, wordB), cmp.Compare(numberA, numberB), strings.Compare(a, b))
	})
}

// wordAndNumber splits a name before the figures it ends in; the number is -1 where
// there are none.
func wordAndNumber(name string) (string, int) {
	word := strings.TrimRight(name, "0123456789")
	n, err := strconv.Atoi(name[len(word):])
	if err != nil {
		n = -1
	}
	return strings.ToLower(word), n
}

func classHeads() string {
	line := paddedName("hand", handColumns)
	for _, c := range classColumns {
		line += fmt.Sprintf("%*s", c.width, c.head)
	}
	return line + "\n"
}

func classRow(name string, counts class.Counts) string {
	line := paddedName(name, handColumns)
	for _, c := range classColumns {
		line += fmt.Sprintf("%*s", c.width, c.text(counts))
	}
	return line + "\n"
}

// underRows are the lines under the rows: the totals, what the class as a whole
// leans to, what the columns leave out, and the legend.
func underRows(l class.Lesson, called people) []string {
	total := l.Total()
	text := classRow("all hands", total) + "\n" + wrap("", "  ", total.Leaning()) + "\n"
	for _, n := range []struct {
		head string
		of   func(class.Counts) int
	}{
		{"Test pieces, worked to splitting on purpose: ", func(c class.Counts) int { return c.Tests }},
		{"Heats proved springy, to be done again: ", func(c class.Counts) int { return c.Springy }},
		{"Of the heats never proved, to be bent still: ", func(c class.Counts) int { return c.Open }},
		{"Courses not judged, since no limit is known: ", func(c class.Counts) int { return c.Unjudged }},
	} {
		text += classNote(n.head, n.of, byName(l.Rows, called), called)
	}
	return slices.Collect(strings.Lines(text + classLegend))
}

// classNote is a figure that has no column, of the hands that have any.
func classNote(head string, of func(class.Counts) int, rows []class.Row, called people) string {
	var parts []string
	for _, r := range rows {
		if n := of(r.Counts); n > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", fittedName(called[r.Hand], handColumns), n))
		}
	}
	if parts == nil {
		return ""
	}
	return wrapNames(head, parts)
}

// wrapNames is wrap for names that may be of wide letters.
func wrapNames(head string, parts []string) string {
	text, line := "", head
	for i, part := range parts {
		part += map[bool]string{true: ".", false: ", "}[i == len(parts)-1]
		if i > 0 && uniseg.StringWidth(line+part) > pageColumns {
			text, line = text+strings.TrimRight(line, " ")+"\n", "  "
		}
		line += part
	}
	return text + line + "\n"
}

// paddedName is a name on a number of columns.
func paddedName(name string, columns int) string {
	name = fittedName(name, columns)
	return name + strings.Repeat(" ", columns-uniseg.StringWidth(name))
}

// fittedName cuts a name that is too wide in its middle: the ends tell names apart.
func fittedName(name string, columns int) string {
	if uniseg.StringWidth(name) <= columns {
		return name
	}
	var letters []string
	for g := uniseg.NewGraphemes(name); g.Next(); {
		letters = append(letters, g.Str())
	}
	for cut := 1; ; cut++ {
		from := (len(letters) - cut) / 2
		short := strings.Join(letters[:from], "") + "…" + strings.Join(letters[from+cut:], "")
		if uniseg.StringWidth(short) <= columns {
			return short
		}
	}
}

func unnamed(n int) string { return "unnamed " + strconv.Itoa(n) }

// classJSON is the lessons for a machine.
type classJSON struct {
	Lessons []classLessonJSON `json:"lessons"`
}

type classLessonJSON struct {
	Date  string          `json:"date"`
	Hands []classHandJSON `json:"hands"`
	Total classCountsJSON `json:"total"`
	Class string          `json:"class"` // what it does too early or too late
}

type classHandJSON struct {
	Hand string `json:"hand"`
	classCountsJSON
}

// classCountsJSON is the figures of a hand, or of all. Open is a part of the
// unproven, and these, the anneals and the springy are all heats.
type classCountsJSON struct {
	Pieces   int            `json:"pieces"`
	Tests    int            `json:"test_pieces"`
	Courses  int            `json:"courses"`
	Over     int            `json:"courses_over_limit"`
	Unjudged int            `json:"courses_not_judged"`
	Heats    int            `json:"heats"`
	Anneals  int            `json:"anneals"`
	Springy  int            `json:"heats_springy"`
	Unproven int            `json:"heats_unproven"`
	Open     int            `json:"heats_open"`
	Early    int            `json:"heats_early"`
	Splits   int            `json:"splits"`
	Drill    classDrillJSON `json:"drill"`
}

// classDrillJSON is what came of the drill; the error is in courses said too many for
// each answer, null where nothing was asked.
type classDrillJSON struct {
	Lessons int      `json:"lessons"`
	Asked   int      `json:"asked"`
	Error   *float64 `json:"error"`
	Words   string   `json:"error_words,omitempty"`
	Heats   int      `json:"heats"`
	Wasted  int      `json:"wasted"`
	Splits  int      `json:"splits"`
}

func classOf(lessons []class.Lesson, called people) classJSON {
	var j classJSON
	for _, l := range lessons {
		total := l.Total()
		day := classLessonJSON{Date: l.Day.Format(dateLayout), Total: classCountsOf(total), Class: total.Leaning()}
		for _, r := range byName(l.Rows, called) {
			day.Hands = append(day.Hands, classHandJSON{called[r.Hand], classCountsOf(r.Counts)})
		}
		j.Lessons = append(j.Lessons, day)
	}
	return j
}

func classCountsOf(c class.Counts) classCountsJSON {
	drill := classDrillJSON{Lessons: c.Drill.Lessons, Asked: c.Drill.Asked, Heats: c.Drill.Heats, Wasted: c.Drill.Wasted, Splits: c.Drill.Splits}
	if off, asked := c.Drill.Error(); asked {
		off = figure(off)
		drill.Error, drill.Words = &off, class.Off(off)
	}
	return classCountsJSON{Pieces: c.Pieces, Tests: c.Tests, Courses: c.Courses, Over: c.Over, Unjudged: c.Unjudged, Heats: c.Heats,
		Anneals: c.Anneals, Springy: c.Springy, Unproven: c.Unproven, Open: c.Open, Early: c.Early, Splits: c.Splits, Drill: drill}
}
