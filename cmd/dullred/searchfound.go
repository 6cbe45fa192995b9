package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"dullred/cmd/internal/say"
	"dullred/schedule"
	"dullred/schedule/record"
)

// foundJSON is how many entries were found.
type foundJSON struct {
	Count int `json:"count"`
}

// find prints the entries that are looked for, or how many there are.
func (a *app) find(b *bench, f sought, args []string) error {
	q, err := b.search(f, args, a.now().Location())
	if err != nil {
		return err
	}
	if f.count {
		n, err := b.rec.Found(q)
		if err != nil {
			return err
		}
		return a.answer(foundJSON{n}, entriesWord(n)+"\n")
	}
	var s teller
	if s.labels, err = b.labels(); err != nil {
		return err
	}
	if s.dead, err = b.dead(); err != nil {
		return err
	}
	s.place, s.here = a.now().Location(), b.here.bench
	out := bufio.NewWriter(a.out)
	p := printer{out: out, teller: s, json: a.json, speak: func(e schedule.Entry, text string) string {
		a.keep(typed([]schedule.Entry{e})...)
		return a.say(text)
	}}
	if err := p.print(b.rec, q, f.limit); err != nil {
		return err // with nothing said after what was found so far
	}
	return out.Flush()
}

func entriesWord(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

// teller is what it takes to say an entry.
type teller struct {
	labels labelBook
	dead   map[schedule.ID]bool
	place  *time.Location
	here   schedule.ID // the bench of the record
}

// bench is the name of the bench that made an entry; "" for the one of the record.
func (s teller) bench(e schedule.Entry) string {
	if e.Bench == s.here {
		return ""
	}
	if text, ok := s.labels[e.Bench]; ok {
		return clean(text)
	}
	return "another bench"
}

func (s teller) json(e schedule.Entry) entryJSON {
	return entryJSON{ID: string(e.ID), At: e.At.In(s.place).Format("2006-01-02 15:04:05"),
		Written: e.Written.UTC().Format("2006-01-02T15:04:05.000000Z"), Piece: clean(s.labels.of(e.Piece)), Hand: clean(s.labels.of(e.Hand)),
		Zones: e.Zones, Kind: string(e.Kind()), Text: clean(e.Describe()), Void: s.dead[e.ID], Bench: s.bench(e)}
}

func (s teller) text(e schedule.Entry) string {
	l, mark := s.json(e), ""
	if l.Void {
		mark = "VOID "
	}
	by := l.Hand
	if l.Bench != "" {
		by += " at " + l.Bench
	}
	head := l.At + "  " + e.Handle() + "  "
	return wrap(head, strings.Repeat(" ", len(head)), mark+l.Piece+" - "+l.Text+" - by "+by)
}

// printer says entries one after the other, as lines or as one array.
type printer struct {
	teller
	out   io.Writer
	speak func(schedule.Entry, string) string // for people
	json  bool
	said  int
}

// print says all that is found as it is found, or the newest of it.
func (p *printer) print(rec *record.Record, q record.Search, limit int) error {
	var latest []record.Row
	for row, err := range rec.Search(q) {
		if err != nil {
			return err
		}
		if !q.Newest {
			if err := p.say(row); err != nil {
				return err
			}
			continue
		}
		if latest = append(latest, row); len(latest) > limit {
			break
		}
	}
	more := q.Newest && len(latest) > limit
	latest = latest[:min(len(latest), max(limit, 0))]
	for _, row := range slices.Backward(latest) {
		if err := p.say(row); err != nil {
			return err
		}
	}
	return p.end(more)
}

// say is one entry.
func (p *printer) say(row record.Row) error {
	e := entriesOf([]record.Row{row})[0]
	text := ""
	if p.json {
		text = p.element(e)
	} else {
		text = p.speak(e, p.teller.text(e))
	}
	_, err := io.WriteString(p.out, text)
	p.said++
	return err
}

// element is an entry as one of an array, which looks as if it were printed at once.
func (p *printer) element(e schedule.Entry) string {
	text, err := say.JSON(p.teller.json(e), "  ")
	if err != nil {
		panic(err) // of texts and truths
	}
	text = bytes.ReplaceAll(text, []byte("\n"), []byte("\n  "))
	before := ",\n  "
	if p.said == 0 {
		before = "[\n  "
	}
	return before + string(bytes.TrimRight(text, "\n "))
}

// end says what is left to say: that there is nothing, or more.
func (p *printer) end(more bool) error {
	text := ""
	switch {
	case p.json && p.said == 0:
		text = "[]\n"
	case p.json:
		text = "\n]\n"
	case p.said == 0:
		text = "nothing is found\n"
	case more:
		text = fmt.Sprintf("the newest %s; there are more: give a higher --limit, or --to an earlier day\n", entriesWord(p.said))
	}
	_, err := io.WriteString(p.out, text)
	return err
}
