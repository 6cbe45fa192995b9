package view

import (
	"fmt"
	"math"
	"strings"
	"time"

	"dullred/alloys/unit"
	"dullred/schedule"
)

// sign is what two metres away tells of a state: a word of at most nine letters,
// a figure, and what the figure is of. No two states share the word.
type sign struct {
	word    string
	role    Role
	figure  string
	caption string
	marks   string // of how much it presses
	widest  string // the longest that the figure gets, so that its digits stay where they are
}

// in is a sign whose figure has the unit that its caption begins with, or none, in a
// style.
func (s sign) in(style unit.Style) sign {
	if style.Plain() || s.figure == "" {
		return s
	}
	radius := strings.HasPrefix(s.figure, "R")
	figure := strings.TrimPrefix(s.figure, "R")
	said := style.Text(figure + " " + s.caption)
	s.figure, s.caption, _ = strings.Cut(said, " ")
	if radius {
		s.figure = "R" + s.figure
	}
	return s
}

// unit is what the caption begins with.
func (s sign) unit() string {
	first, _, _ := strings.Cut(s.caption, " ")
	return strings.TrimSuffix(first, ":")
}

// signOf is the sign of a piece, with what a thermocouple reads of it.
func signOf(p *Piece) sign {
	s := stateSign(p)
	if p.Probe == nil {
		return s
	}
	return p.Probe.on(s, p.Advice.Verdict)
}

// on is a sign with the temperature in it: in the flame it is the figure.
func (b Probe) on(s sign, v schedule.Verdict) sign {
	temp := fmt.Sprintf("%.0f", float64(b.Temp))
	switch {
	case v != schedule.VerdictHeating && v != schedule.VerdictSoak && v != schedule.VerdictWait:
		return s
	case b.Fault != "":
		s.caption += "; probe: " + b.Fault
	case b.Over != "" && v != schedule.VerdictWait:
		return sign{word: "TOO HOT", role: Fault, figure: temp, caption: "°C: TAKE IT OUT. " + b.Over, marks: "!!!", widest: "8888"}
	case v == schedule.VerdictHeating:
		s.caption = "°C by the probe; " + s.figure + " " + s.caption
		s.figure, s.widest = temp, "8888"
	default:
		s.caption = temp + " °C; " + s.caption
	}
	return s
}

// stateSign is the sign of a state.
func stateSign(p *Piece) sign {
	a := p.Advice
	switch a.Verdict {
	case schedule.VerdictCarryOn:
		return sign{word: "CARRY ON", role: Calm, figure: fmt.Sprint(a.Courses.Likely), caption: coursesLeft(p)}
	case schedule.VerdictNoAnneal:
		return sign{word: "WORK ON", role: Calm, figure: "-", caption: "this metal needs no anneal"}
	case schedule.VerdictAnnealSoon:
		return sign{word: "SOON", role: Soon, figure: fmt.Sprint(a.Courses.Likely), caption: coursesLeft(p) + ", then anneal", marks: "!"}
	case schedule.VerdictAnnealNow:
		return sign{word: "ANNEAL", role: Act, figure: spentFigure(p), caption: "% of the limit spent: stop", marks: "!!"}
	case schedule.VerdictHeating:
		return timed(p, sign{word: "HEAT", role: Fire})
	case schedule.VerdictSoak:
		return timed(p, sign{word: "SOAK", role: Fire})
	case schedule.VerdictWait:
		return timed(p, sign{word: "HOT", role: Hot, marks: "!!"})
	case schedule.VerdictPickle:
		return timed(p, sign{word: "PICKLE", role: Calm})
	case schedule.VerdictProve:
		return sign{word: "PROVE IT", role: Ask, figure: "?", caption: "bend it a little: s soft, y springy", marks: "?"}
	case schedule.VerdictFinished:
		return sign{word: "FINISHED", role: Calm, figure: "-", caption: "nothing more is to be done"}
	case schedule.VerdictFileCrack:
		return sign{word: "CRACK", role: Fault, figure: "!", caption: "file it out; heat does not heal it", marks: "!!"}
	}
	return sign{word: "UNSURE", role: Ask, figure: "?", caption: "no advice: judge by hand and ear", marks: "?"}
}

// coursesLeft is the forecast under its figure.
func coursesLeft(p *Piece) string {
	c := p.Advice.Courses
	return fmt.Sprintf("courses left (%d to %d)", c.Low, c.High)
}

// spentFigure is the share of the limit in per cent, at most 999.
func spentFigure(p *Piece) string {
	return fmt.Sprint(min(999, int(math.Round(100*p.Advice.Spent))))
}

// timed fills in the figure of a step that runs: what is left of it, or for how
// long it has been going.
func timed(p *Piece, s sign) sign {
	t := p.Timer
	if t == nil {
		s.figure, s.caption = "-", ""
		return s
	}
	s.widest = clock(toGo(schedule.Timer{Target: t.Target}))
	switch {
	case t.Step == schedule.StepHeating:
		s.figure, s.caption = clock(t.Elapsed), "in the flame; "+about(*t)
	case t.Step == schedule.StepCooling:
		s.figure, s.caption = clock(t.Elapsed), "HOT - NOT GLOWING, cools in the air"+touchWords(*t)
	case t.Step == schedule.StepWait && t.Most > 0:
		s.figure, s.caption = clock(t.Elapsed), "INTO WATER within "+clock(t.Most)+", no drop test"
	case t.Step == schedule.StepWait && t.Left() > 0:
		s.figure, s.caption = clock(toGo(*t)), "HOT - NOT GLOWING, left of "+clock(t.Target)+" to the quench"
	case t.Step == schedule.StepWait:
		s.figure, s.caption = clock(t.Over())+"+", "HOT - NOT GLOWING, over "+clock(t.Target)+": a drop sizzles?"
	case t.Left() > 0:
		s.figure, s.caption = clock(toGo(*t)), "left of "+clock(t.Target)
	case t.Most > 0 && t.Elapsed >= t.Most:
		s.figure, s.caption = clock(t.Over())+"+", "TOO LONG: coarse grain. Take it out"
	case t.Step == schedule.StepSoak:
		s.figure, s.caption = clock(t.Over())+"+", "held long enough: out of the flame"
	default:
		s.figure, s.caption = clock(t.Over())+"+", "over "+clock(t.Target)+": take it out and rinse"
	}
	return s
}

// about is how long a flame should take, in a few words.
func about(t schedule.Timer) string {
	switch {
	case t.Target == 0 && t.Low == 0:
		return "by these numbers it never gets there"
	case t.Target == 0:
		return "at best " + clock(t.Low) + "; a weak flame never gets there"
	case t.Low == 0:
		return "a guess: up to " + clock(t.Target)
	case t.High == 0:
		return "a guess: " + clock(t.Low) + " or longer"
	case t.Learned == 0:
		return fmt.Sprintf("a guess: %s to %s", clock(t.Low), clock(t.High))
	}
	return fmt.Sprintf("this torch: %s to %s", clock(t.Low), clock(t.High))
}

// touchWords are about how long metal burns in the air: reckoned, never a promise.
func touchWords(t schedule.Timer) string {
	if t.Touch == 0 {
		return ": burns"
	}
	return fmt.Sprintf(": burns, for about %s", clock(t.Touch))
}

// toGo is what is left of a timer as it is shown. Ten minutes begin at 9:59: a
// figure that loses a digit would send more over a slow line than a second allows.
func toGo(t schedule.Timer) time.Duration {
	if t.Target >= 10*time.Minute && t.Target < time.Hour {
		return min(up(t.Left()), t.Target-time.Second)
	}
	return up(t.Left())
}

// up rounds a time to go up to whole seconds: 0:00 is only shown once it is over.
func up(d time.Duration) time.Duration {
	return (d + time.Second - 1).Truncate(time.Second)
}

// clock is a length of time as minutes and seconds, or with an h once there are
// hours, and without minutes once there are many: "2:05", "1h20", "63h".
func clock(d time.Duration) string {
	d = max(0, d)
	if d >= 10*time.Hour {
		return fmt.Sprintf("%dh", int(d.Hours()))
	}
	if d >= time.Hour {
		return fmt.Sprintf("%dh%02d", int(d.Hours()), int(d.Minutes())%60)
	}
	return fmt.Sprintf("%d:%02d", int(d.Minutes()), int(d.Seconds())%60)
}
