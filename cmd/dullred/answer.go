package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// tongue is how figures are written in what a command prints for people.
type tongue struct {
	known bool // the settings and the locale were asked
	plain unit.Style
	kept  unit.Style // with what people typed
}

// style is how figures are written, without what people typed. Settings that cannot
// be read settle nothing here: the command says so itself.
func (a *app) style() unit.Style {
	if !a.tongue.known {
		conf, err := a.config()
		if err != nil {
			conf = usualConfig()
		}
		a.tongue.known, a.tongue.plain = true, conf.style(a.getenv)
		a.tongue.kept = a.tongue.plain.Keeping(a.args...)
	}
	return a.tongue.plain
}

// keep takes texts that people typed, whose figures stay as they are.
func (a *app) keep(texts ...string) {
	if !a.style().Plain() {
		a.tongue.kept = a.tongue.kept.Keeping(texts...)
	}
}

// inStyle is how figures are written, with what people typed among what stays.
func (a *app) inStyle() unit.Style {
	a.style()
	return a.tongue.kept
}

// say is a text for people in the style of the smith, in lines of the usual width.
func (a *app) say(text string) string { return folded(text, a.sayLine(text)) }

// sayLine is say for what must stay one line.
func (a *app) sayLine(text string) string {
	if a.style().Plain() {
		return text
	}
	return a.tongue.kept.Text(text)
}

// sum is say for a text that works figures out in mm and °C.
func (a *app) sum(text string) string {
	if a.style().Plain() {
		return text
	}
	return a.tongue.kept.Metric().Text(text)
}

func (a *app) printf(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if !a.style().Plain() {
		text = a.say(text)
	}
	if _, err := io.WriteString(a.out, text); a.unsaid == nil {
		a.unsaid = err
	}
}

// speaker writes what is said to people.
type speaker struct {
	io.Writer
	say func(string) string
}

func (s speaker) Write(text []byte) (int, error) {
	if _, err := io.WriteString(s.Writer, s.say(string(text))); err != nil {
		return 0, err
	}
	return len(text), nil
}

// typed are the texts in entries that somebody typed.
func typed(entries []schedule.Entry) (all []string) {
	for _, e := range entries {
		all = append(all, e.Zones...)
		switch b := e.Body.(type) {
		case schedule.Started:
			all = append(all, slices.Concat(b.Zones, []string{b.Mark, b.Stock})...)
		case schedule.Pass:
			all = append(all, b.Tool)
		case schedule.Begun:
			all = append(all, b.Torch)
		case schedule.TorchLit:
			all = append(all, b.Torch)
		case schedule.Jointed:
			all = append(all, b.Joint, b.Solder)
		case schedule.Photo:
			all = append(all, b.Ref)
		case schedule.Note:
			all = append(all, b.Text)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// answer prints what a command found: the struct with tags if it was asked for, else
// the text.
func (a *app) answer(tagged any, text string) error {
	if a.json {
		return a.printJSON(tagged)
	}
	a.printf("%s", text)
	return nil
}

// headed is the text of an answer whose lines have a head.
type headed struct{ strings.Builder }

func (h *headed) line(head, format string, args ...any) {
	h.WriteString(workedLine(head, fmt.Sprintf(format, args...)))
}
