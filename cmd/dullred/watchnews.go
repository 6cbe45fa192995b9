package main

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/heat"
)

// troubleLines tell once that the record cannot be read, and that it can again.
func (w *watcher) troubleLines() []line {
	tale := ""
	if w.trouble != nil {
		tale = w.trouble.Error()
	}
	if tale == w.tale {
		return nil
	}
	w.tale = tale
	if tale == "" {
		return []line{w.line("NOTE", "record").sentence("the record can be read again")}
	}
	return []line{w.line("NOTE", "record").sentence("the record cannot be read, what was read before still runs: %s", tale)}
}

// verdictLines tell a piece when it is first seen, then each verdict that changes.
// The steps of a heat tell of themselves.
func (w *watcher) verdictLines() (out []line) {
	for _, p := range w.told() {
		key := string(p.ID) + "/"
		_, known := w.verdicts[key]
		w.verdicts[key] = p.advice.Verdict
		changed := map[schedule.Verdict][]schedule.ZoneAdvice{}
		for _, z := range p.advice.Zones {
			if before, seen := w.verdicts[key+z.Zone]; !seen || before != z.Verdict {
				changed[z.Verdict] = append(changed[z.Verdict], z)
			}
			w.verdicts[key+z.Zone] = z.Verdict
		}
		switch {
		case !known:
			out = append(out, w.verdictLine(p, p.advice, []string{p.advice.Zone}))
			continue
		case len(p.advice.Zones) == 0:
			continue
		}
		for _, v := range hasty {
			if zones := changed[v]; len(zones) > 0 && !byTimer(v) {
				out = append(out, w.changeLine(p, zones))
			}
		}
	}
	return out
}

// byTimer reports whether a verdict is told by the timer that begins with it.
func byTimer(v schedule.Verdict) bool {
	switch v {
	case schedule.VerdictHeating, schedule.VerdictSoak, schedule.VerdictWait, schedule.VerdictPickle:
		return true
	}
	return false
}

// changeLine is the verdict of zones that came to the same one, with the figures
// of the one that has spent most.
func (w *watcher) changeLine(p *watched, zones []schedule.ZoneAdvice) line {
	most := slices.MaxFunc(zones, func(x, y schedule.ZoneAdvice) int { return cmp.Compare(x.Spent, y.Spent) })
	var names []string
	for _, z := range zones {
		names = append(names, z.Zone)
	}
	return w.verdictLine(p, p.state.AdviseOn(most.Zone, w.now, p.others), names)
}

func (w *watcher) verdictLine(p *watched, a schedule.Advice, zones []string) line {
	l := w.line("NOW", a.Verdict.String())
	l.piece, l.zones = p.Name, slices.DeleteFunc(zones, func(z string) bool { return z == "" })
	text := strings.Join(append([]string{p.Name}, l.zones...), ", ") + ": " + a.Verdict.String()
	if a.Limit.Known() {
		text += fmt.Sprintf(", %.0f %% of the limit spent", 100*a.Spent)
	}
	return l.sentence("%s, %s", text, strings.TrimPrefix(a.Next, "stop and anneal: "))
}

// timerLines tell each step that began.
func (w *watcher) timerLines() (out []line) {
	runs := map[string]bool{}
	for _, p := range w.told() {
		for _, t := range p.state.Timers(w.now) {
			key := fmt.Sprint("timer ", p.ID, t.Step, t.Zones, t.Since.UnixMicro())
			if runs[key] = true; w.running[key] {
				continue
			}
			l := w.line("NOW", string(t.Step))
			l.piece, l.zones = p.Name, p.state.Named(t.Zones)
			out = append(out, l.sentence("%s: %s%s", strings.Join(append([]string{p.Name}, l.zones...), ", "), begun(t), w.aim(p, t)))
		}
	}
	for _, t := range w.hearth.Timers(w.now) {
		key := fmt.Sprint("timer ", t.Step, t.Since.UnixMicro())
		if runs[key] = true; !w.running[key] {
			out = append(out, w.line("NOW", string(t.Step)).sentence("%s%s", begun(t), w.aim(nil, t)))
		}
	}
	w.remember("timer ", runs)
	return out
}

// remember takes what was told of one sort, and forgets what is over.
func (w *watcher) remember(sort string, told map[string]bool) {
	maps.DeleteFunc(w.running, func(key string, _ bool) bool { return strings.HasPrefix(key, sort) })
	maps.Copy(w.running, told)
}

// begun is a step and when it began.
func begun(t schedule.Timer) string {
	text := string(t.Step)
	if t.Step != schedule.StepTorch {
		text += " begun"
	}
	if t.Elapsed >= alert.LateFrom {
		text += " " + minutes(t.Elapsed) + " ago"
	}
	return text
}

// aim is what a step is to come to; p is nil for one of the bench.
func (w *watcher) aim(p *watched, t schedule.Timer) string {
	switch t.Step {
	case schedule.StepHeating:
		z, _ := p.state.Zone(t.Zones[0])
		return ", to " + p.state.CueOf(z, heat.Eye{Light: w.hearth.Light}).Window + ", " + flameTime(t)
	case schedule.StepFireWatch:
		return ", until " + minutes(w.limits.FireWatch) + " after the last flame"
	}
	if text := stepTime(t); text != "" {
		return ", " + text
	}
	return ""
}

// due is all that holds now, of every piece: what lies in the flame keeps the
// torch from being called left.
func (w *watcher) due() []alert.Alert {
	var pieces []alert.Piece
	for _, p := range w.pieces {
		pieces = append(pieces, alert.Piece{Name: p.Name, State: &p.state, Advice: p.advice})
	}
	return alert.Find(pieces, alert.Bench{ID: w.id(), State: w.hearth, Limits: w.limits}, w.now)
}

// promptLines tell each prompt once.
func (w *watcher) promptLines(due []alert.Alert) (out []line) {
	holds := map[string]bool{}
	for _, a := range due {
		if a.Priority() != alert.Prompt {
			continue
		}
		key := "prompt " + a.Key
		if holds[key] = true; w.running[key] {
			continue
		}
		l := w.alertLine(a)
		if d := w.now.Sub(a.Due); d >= alert.LateFrom {
			l.late = d
		}
		l.text = l.plain(calm(a, a.Sentence(l.late)))
		out = append(out, l)
	}
	w.remember("prompt ", holds)
	return out
}

// calm is a text about an alert with its cause in small letters: some readers spell
// a word in capitals letter by letter.
func calm(a alert.Alert, text string) string {
	return strings.Replace(text, strings.ToUpper(string(a.Cause)), string(a.Cause), 1)
}

func (w *watcher) alertLine(a alert.Alert) line {
	l := w.line(a.Priority().String(), string(a.Cause))
	l.piece, l.zones = a.Name, a.Zones
	return l
}
