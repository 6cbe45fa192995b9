package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"dullred/schedule/totals"
)

// totalsColumn is one figure of a period.
type totalsColumn struct {
	over, head string // two lines of heads
	width      int    // with the blank before it
	text       func(totals.Counts) string
}

var totalsColumns = []totalsColumn{
	{"pieces", "begun", 8, func(c totals.Counts) string { return strconv.Itoa(c.Started) }},
	{"", "done", 5, func(c totals.Counts) string { return strconv.Itoa(c.Finished) }},
	{"", "courses", 8, func(c totals.Counts) string { return strconv.Itoa(c.Passes) }},
	{"", "heats", 6, func(c totals.Counts) string { return strconv.Itoa(c.Heats) }},
	{"", "soft", 5, func(c totals.Counts) string { return strconv.Itoa(c.Soft) }},
	{"flame", "min", 6, func(c totals.Counts) string { return fmt.Sprintf("%.0f", c.Flame.Minutes()) }},
	{"gas", "min", 7, func(c totals.Counts) string { return fmt.Sprintf("%.0f", c.Gas.Minutes()) + gasMark(c.GasFrom) }},
	{"metal", "in g", 9, func(c totals.Counts) string { return fmt.Sprintf("%.1f", c.In) }},
	{"", "out g", 8, func(c totals.Counts) string { return fmt.Sprintf("%.1f", c.Out) }},
	{"", "scrap", 6, func(c totals.Counts) string { return fmt.Sprintf("%.1f", c.Scrap) }},
	{"", "lost", 5, func(c totals.Counts) string { return fmt.Sprintf("%.1f", c.Lost) }},
}

// gasMark says in a letter what gas was reckoned from.
func gasMark(g totals.GasFrom) string {
	return map[totals.GasFrom]string{totals.FromHeats: "h", totals.FromTorch: "t", totals.FromBoth: "b"}[g]
}

// totalsLegend says what the letters and columns are.
const totalsLegend = `gas: t by torch lit and torch out; h by the flame of the heats, no torch being
logged; b both, on days of their own. out, scrap and lost are of finished pieces.
`

// totalsText is the sums as a person reads them.
func totalsText(sums []totals.Sum, by totals.By) string {
	if len(sums) == 0 {
		return "there is nothing to sum\n"
	}
	const first = 7
	over, head := pad("", first), pad("", first)
	for _, c := range totalsColumns {
		over, head = over+right(c.over, c.width), head+right(c.head, c.width)
	}
	lines := []string{strings.TrimRight(over, " "), head}
	for _, s := range sums {
		lines = append(lines, totalsLine(pad(periodText(s, by), first), s.Counts))
	}
	all := totalOf(sums)
	if len(sums) > 1 {
		lines = append(lines, totalsLine(pad("all", first), all))
	}
	return strings.Join(lines, "\n") + "\n" + totalsNotes(all) + totalsLegend
}

func totalsLine(name string, c totals.Counts) string {
	for _, column := range totalsColumns {
		name += right(column.text(c), column.width)
	}
	return name
}

// totalsNotes are what the figures lack.
func totalsNotes(c totals.Counts) (text string) {
	if c.Untimed > 0 {
		text += wrap("", "", fmt.Sprintf("Heats of which begun or out was not logged, and which have no minutes: %d.", c.Untimed))
	}
	if c.Unweighed > 0 {
		text += wrap("", "", fmt.Sprintf("Finished pieces that were not weighed twice, and whose metal is not in out, scrap and lost: %d.", c.Unweighed))
	}
	return text
}

// right is a text at the end of a column, after a blank at least.
func right(s string, width int) string { return fmt.Sprintf(" %*s", width-1, s) }

func pad(s string, width int) string { return fmt.Sprintf("%-*s", width, s) }

// totalsCSV is the sums as RFC 4180 has it, a line for each period and none for all.
func totalsCSV(sums []totals.Sum, by totals.By) (string, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	lines := [][]string{{"period", "pieces_started", "pieces_finished", "courses", "heats", "heats_proved_soft", "heats_without_minutes",
		"flame_minutes", "gas_minutes", "gas_from", "metal_in_g", "metal_out_g", "scrap_g", "lost_g", "finished_without_two_weights"}}
	for _, s := range sums {
		lines = append(lines, sumOf(periodText(s, by), s.Counts).cells())
	}
	err := w.WriteAll(lines)
	return out.String(), err
}

func (s sumJSON) cells() []string {
	number := func(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }
	count := strconv.Itoa
	return []string{s.Period, count(s.Started), count(s.Finished), count(s.Courses), count(s.Heats), count(s.Soft), count(s.Untimed),
		number(s.Flame), number(s.Gas), s.GasFrom, number(s.In), number(s.Out), number(s.Scrap), number(s.Lost), count(s.Unweighed)}
}
