package schedule

import (
	"fmt"
	"strings"
	"time"

	"dullred/alloys"
)

// words puts advice into sentences a smith can act on. Every percentage names
// what it is a share of.
type words struct {
	state  *State
	zone   Zone
	advice *Advice
	now    time.Time
}

// next is the one next step.
func (w words) next() string {
	a := w.advice
	if a.Stop != "" && a.Verdict == VerdictAnnealSoon {
		return a.Stop + "; " + w.act()
	}
	if a.Stop != "" && a.Verdict == VerdictCarryOn {
		return a.Stop
	}
	return w.act()
}

// test is what to do with a piece that is worked to learn where its stock splits.
func (w words) test() string {
	if w.zone.Split {
		return fmt.Sprintf("the test is done: it split at strain %.3f, and its stock is known the better for it; it is scrap now", w.advice.Done.Strain)
	}
	return "a test piece: work it on until it splits, read it after each course, and log the crack at once"
}

// act is what the verdict asks for.
func (w words) act() string {
	a := w.advice
	if w.state.Test && (a.Verdict == VerdictCarryOn || a.Verdict == VerdictFileCrack) {
		return w.test()
	}
	switch a.Verdict {
	case VerdictCarryOn:
		if a.Courses.Low == 0 {
			return "work lightly: one course as usual may spend the whole limit; measure after each"
		}
		return fmt.Sprintf("work on: %s, then measure", w.courses())
	case VerdictAnnealSoon:
		if a.Courses.Likely == 0 {
			return "anneal before the next course: " + w.heating()
		}
		return fmt.Sprintf("at most %s, then anneal: %s", count(a.Courses.Likely, "more course"), w.heating())
	case VerdictAnnealNow:
		return "stop and anneal: " + w.heating()
	case VerdictNoAnneal:
		if w.state.Alloy.Family == leadBearing {
			return "it may hold lead: off this bench; no hammer, no heat, nothing for food, and wash your hands"
		}
		return "work on: this metal needs no anneal; measure for size and look at the edges"
	case VerdictFileCrack:
		return "stop: file the crack out now, round its end, and look again; do not heat it to heal it"
	case VerdictHeating, VerdictSoak:
		return w.inFlame()
	case VerdictWait:
		return w.quench() + "; then bend it a little to prove it soft"
	case VerdictFinished:
		return w.finished()
	case VerdictPickle:
		return "leave it until it is clean, then rinse it in water; no iron in the pickle"
	case VerdictProve:
		return "bend it a little: soft or still springy? The count stands until it is proved soft"
	}
	return "nothing can be said without a limit: give your own when the piece is started, such as 30% area"
}

// leadBearing is the family of metals that are not worked here.
const leadBearing = "lead-bearing pewter"

// inFlame is the next step of a piece under the torch. A metal that needs no
// anneal comes out.
func (w words) inFlame() string {
	switch {
	case w.state.Alloy.SelfSoftening:
		return "take it out of the flame: this metal needs no anneal, and a torch is more likely to melt it"
	case w.noRoom() != "":
		return "out of the flame: " + w.noRoom()
	case w.tooHot():
		return "out of the flame at once: it is at its ceiling; look for sagged edges and at its joints before you touch it"
	case w.tooCool():
		return "not yet: it is under its heat; heat on to " + w.window()
	case w.advice.Verdict == VerdictHeating:
		return "heat evenly, the flame kept off thin ends until last, to " + w.window() + "; then log that it is reached"
	}
	return "hold until the whole piece is even, then take it out of the flame; " + w.quench()
}

// noRoom is why the joints leave no heat to be given; empty when they leave some.
func (w words) noRoom() string {
	if _, _, why, ok := w.state.Window(w.zone); !ok {
		return why
	}
	return ""
}

// tooHot reports whether a measured heat is at the ceiling or over it.
func (w words) tooHot() bool {
	c, ok := w.state.Ceiling(w.zone.Condition)
	return ok && w.zone.Heat.Temp > 0 && w.zone.Heat.Temp >= c.Temp
}

// tooCool reports whether a heat that is said to be reached was measured under it.
func (w words) tooCool() bool {
	low, _, _, ok := w.state.Window(w.zone)
	return ok && w.advice.Verdict == VerdictSoak && w.zone.Heat.Temp > 0 && w.zone.Heat.Temp < low
}

// courses is the forecast in words: "4 more courses (3 to 5)".
func (w words) courses() string {
	c := w.advice.Courses
	return fmt.Sprintf("%s (%d to %d)", count(c.Likely, "more course"), c.Low, c.High)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// heating is the whole heat in one sentence.
func (w words) heating() string {
	if why := w.noRoom(); why != "" {
		return why
	}
	return fmt.Sprintf("heat to %s, hold until even; %s; prove it by bending", w.window(), w.quench())
}

// window is the annealing window under the ceiling, or that none is published, or
// that the joints leave none.
func (w words) window() string {
	low, high, why, ok := w.state.Window(w.zone)
	switch {
	case w.state.Alloy.SelfSoftening:
		return "no heat: it is not annealed"
	case !ok && why != "":
		return why
	case !ok:
		return "a heat that no source gives for this metal (prove it by bending)"
	case why != "":
		return why
	}
	return span(float64(low), float64(high), "°C")
}

func span(low, high float64, unit string) string {
	if low == high {
		return fmt.Sprintf("%g %s", low, unit)
	}
	return fmt.Sprintf("%g to %g %s", low, high, unit)
}

// quench is what is advised for cooling this metal.
func (w words) quench() string {
	if text := w.rule(alloys.RuleQuench).Text; text != "" {
		return strings.TrimSuffix(lowerFirst(text), ".")
	}
	return "let it cool in air"
}

// rule is the first default rule of a kind: the one that is advised.
func (w words) rule(kind alloys.RuleKind) alloys.Rule {
	for _, r := range w.state.Alloy.Rules(kind) {
		if r.Use == alloys.UseDefault {
			return r
		}
	}
	return alloys.Rule{}
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
