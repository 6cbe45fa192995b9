package tui

import (
	"fmt"
	"slices"
	"time"

	"dullred/schedule"
	"dullred/schedule/heat"
	"dullred/tui/view"
)

// Scene is what is to be seen now.
func (b *Bench) Scene() view.Scene {
	now := b.now()
	b.sayLater()
	s := view.Scene{Page: b.page, Theme: b.Theme(), Scroll: b.scroll, Demo: b.desk.Demo(), Others: b.running(now),
		Alarm: b.bar(now), Sharing: b.shares()}
	switch b.page {
	case view.Keys:
		s.Keys = Hints()
	case view.Cautions:
		s.Safety = schedule.Safety()
	case view.Board:
		s.Board = b.board()
	}
	if p := b.current(); p != nil {
		s.Piece = b.scenePiece(p, now)
		s.Why = b.why(p)
		s.Curve = b.curveView(p)
		s.Caution = b.cautionFor(p, s.Piece.Advice)
	} else {
		s.Caution = "Local rules for flames and gas come first. w shows the cautions."
	}
	if b.toast.standing(now) {
		s.Toast, s.Bad = b.toast.text, b.toast.bad
	}
	if q := b.ask; q != nil && now.Sub(q.at) < toastTime {
		s.Ask = q.text
	}
	if b.form != nil {
		s.Form = b.form.view(b)
	}
	s.Style = b.styled()
	s.Help = b.help(s)
	if b.drill != nil {
		b.drill.show(b, &s)
	}
	return s
}

func (b *Bench) scenePiece(p *piece, now time.Time) *view.Piece {
	state, advice := p.state(), b.advice(p)
	z, _ := state.Zone(advice.Zone)
	v := &view.Piece{Name: p.name, Place: b.place(p), Mark: state.Mark, Metal: state.Alloy.Name, Section: z.Tally.Section().String(), Zone: b.zone,
		Hand: b.hands[z.Hand], Work: string(b.work(p)), Advice: advice,
		Next: b.nextFor(p, advice)}
	if b.page == view.Plan || b.page == view.Near {
		v.Plan = b.planView(p)
	}
	if on := b.zonesFor(p, schedule.KindPass); b.zone == "" && len(on) > 0 {
		first, _ := state.Zone(on[0])
		v.Section = first.Tally.Section().String()
	}
	if b.page == view.Near {
		v.Log = b.logLines(p)
	}
	for _, t := range p.timers(now) {
		if slices.Contains(t.Zones, advice.Zone) {
			v.Timer = &t
		}
	}
	if heating(advice.Verdict) && !state.Alloy.SelfSoftening {
		cue := p.cueOf(z, heat.Eye{Light: b.hearthState().Light, Shade: b.shade})
		v.Cue = &cue
	}
	v.Probe = b.sceneProbe(p, z)
	if advice.Forecast && advice.Limit.Known() {
		v.Ahead = ahead(advice)
	}
	return v
}

// ahead is the share of the limit that each of the next courses brings it to, as long
// as that is not past it; at most nine.
func ahead(a schedule.Advice) (shares []float64) {
	if a.Hand.PerCourse() == 0 {
		return nil
	}
	for n := 1; n <= 9; n++ {
		share := float64(a.Hand.After(a.Done.Strain, n) / a.Limit.Strain)
		if share > 1 {
			break
		}
		shares = append(shares, share)
	}
	return shares
}

// heating reports whether a heat is to be reached, or held.
func heating(v schedule.Verdict) bool {
	switch v {
	case schedule.VerdictAnnealNow, schedule.VerdictHeating, schedule.VerdictSoak:
		return true
	}
	return false
}

// running is what runs on the other pieces and at the bench. A piece that is hot
// is there whatever its clock says.
func (b *Bench) running(now time.Time) (all []view.Running) {
	for _, p := range b.pieces {
		if p.id == b.shown {
			continue
		}
		for _, t := range p.timers(now) {
			all = append(all, view.Running{Name: b.placed(p), Timer: t, Hot: t.Step != schedule.StepPickle})
		}
	}
	for _, t := range b.hearthState().Timers(now) {
		all = append(all, view.Running{Timer: t})
	}
	return all
}

// cautionFor is what can hurt, once for each occasion: until the next key.
func (b *Bench) cautionFor(p *piece, a schedule.Advice) string {
	z, _ := p.state().Zone(a.Zone)
	occasion := fmt.Sprint(p.id, a.Verdict, z.Heat.At, z.Pickle.In)
	if occasion != b.occasion && len(a.Cautions) > 0 {
		b.occasion, b.caution = occasion, a.Cautions[0]
	}
	return b.caution
}

// logMost is how many entries the near page shows.
const logMost = 40

// logLines are the last entries of a piece, the newest first.
func (b *Bench) logLines(p *piece) (lines []string) {
	dead := schedule.Voided(p.entries)
	entries := slices.SortedStableFunc(slices.Values(p.entries), func(x, y schedule.Entry) int { return y.At.Compare(x.At) })
	for _, e := range entries {
		if e.Kind() == schedule.KindShown || e.Kind() == schedule.KindVoid {
			continue
		}
		text := b.hour(e.At) + "  " + e.Describe()
		if where := b.elsewhere(e); where != "" {
			text += " (at " + where + ")"
		}
		if dead[e.ID] {
			text += " (taken back)"
		}
		if lines = append(lines, text); len(lines) == logMost {
			break
		}
	}
	return lines
}

// help is the last line: what can be done now, the most useful first.
func (b *Bench) help(s view.Scene) []view.Hint {
	switch {
	case s.Form != nil:
		return []view.Hint{{Key: "Enter", Words: "go on"}, {Key: "Esc", Words: "leave it"}, {Key: "Tab", Words: "next field"}}
	case s.Piece == nil && b.demo != nil:
		return []view.Hint{named("b"), {Key: "j", Words: "look at an invented evening class"}, named("?"), named("x")}
	case s.Piece == nil:
		return []view.Hint{named("b"), named("?"), named("x")}
	case s.Page == view.Board:
		return []view.Hint{{Key: "arrows", Words: "move"}, {Key: ".", Words: "same heat"}, s.Piece.Next, named("u"), {Key: "v", Words: "far"},
			{Key: "?", Words: "every key"}}
	case s.Page == view.Curves:
		return []view.Hint{{Key: "Esc", Words: "back"}, {Key: "/", Words: "next picture"}, {Key: "arrows", Words: "move"}, named("z"), named("?"), named("x")}
	case s.Page == view.Near:
		return []view.Hint{{Key: "Esc", Words: "back"}, {Key: "arrows", Words: "move"}, {Key: "v", Words: "page"}, {Key: "tab", Words: "the sum"}, named("w"), named("?"), named("x")}
	case s.Page != view.Distance && s.Page != view.Plan:
		return []view.Hint{{Key: "Esc", Words: "back"}, {Key: "arrows", Words: "move"}, {Key: "v", Words: "page"}, named("w"), named("?"), named("x")}
	}
	hints, p := []view.Hint{s.Piece.Next}, b.current()
	if s.Piece.Next.Key != "space" {
		hints = append(hints, b.spaceHint(p))
	} else {
		hints = append(hints, named("h"))
	}
	page := view.Hint{Key: "v", Words: "why"}
	if s.Page == view.Distance && p.planned() {
		page.Words = "the plan"
	}
	return append(hints, view.Hint{Key: "0-9", Words: "measure"}, named("u"), view.Hint{Key: "n", Words: "next piece"}, page,
		named("w"), view.Hint{Key: "?", Words: "every key"}, view.Hint{Key: "x", Words: "quit"})
}

// Wake is how long the screen stays right: until a figure changes, something that
// flashes turns or an answer goes. It is false when nothing will change by itself.
func (b *Bench) Wake() (time.Duration, bool) {
	now := b.now()
	wait, ok := time.Duration(0), false
	sooner := func(d time.Duration) {
		if !ok || d < wait {
			wait, ok = max(d, time.Millisecond), true
		}
	}
	for _, t := range b.timers(now) {
		sooner(time.Second - t.Elapsed%time.Second)
	}
	if all := b.standing(now); len(all) > 0 && flash(all[0]) > 0 {
		half := flash(all[0]).Milliseconds()
		sooner(time.Duration(half-now.UnixMilli()%half) * time.Millisecond)
	}
	if d, again := b.nextSound(now); again {
		sooner(d)
	}
	if h := b.hearthState(); h.Noise.Allowed() > 0 {
		if left := h.Noise.Allowed() - h.Elapsed(h.NoiseAt, now); left > 0 {
			sooner(left)
		}
	}
	if b.toast.standing(now) {
		sooner(toastTime - now.Sub(b.toast.at))
	}
	if b.ask != nil && now.Sub(b.ask.at) < toastTime {
		sooner(toastTime - now.Sub(b.ask.at))
	}
	if stays, changes := b.sharesFor(); changes {
		sooner(stays)
	}
	b.expect(wait, ok)
	return wait, ok
}

// timers are all that run.
func (b *Bench) timers(now time.Time) []schedule.Timer {
	all := b.hearthState().Timers(now)
	for _, p := range b.pieces {
		all = append(all, p.timers(now)...)
	}
	return all
}
