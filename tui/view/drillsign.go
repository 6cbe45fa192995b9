package view

import (
	"fmt"
	"math"
	"strings"

	"dullred/schedule"
	"dullred/schedule/heat"
)

// drillSign is the sign of a lesson on a screen.
func drillSign(f *Frame, l plan, d Drill) sign {
	switch d.Stage {
	case Striking:
		return sign{word: "STRIKE", role: Calm, figure: fmt.Sprint(d.Struck), caption: "courses since it was soft"}
	case Asking:
		return sign{word: "HOW MANY", role: Bold, figure: "LEFT?", caption: "courses before it splits: one digit"}
	case Told:
		return toldSign(f, l, d)
	case InFlame, OutOfFlame:
		return glowSign(d)
	case Bending:
		return sign{word: "BEND IT", role: Ask, figure: "?", caption: "soft, or still springy?"}
	case Proved:
		return provedSign(d)
	case Split:
		return sign{word: "SPLIT", role: Fault, figure: fmt.Sprint(d.Struck), caption: "courses were one too many"}
	case Worked:
		return sign{word: "DONE", role: Calm, figure: fmt.Sprintf("%d/%d", d.Bar, d.Of), caption: "bars: this one has its size"}
	}
	return scoreSign(f, l, d)
}

// drillHead is a lesson in full words, under the large one.
func drillHead(d Drill) string {
	switch d.Stage {
	case Told:
		return toldWords(d)
	case InFlame:
		return "IN THE FLAME - " + seenWords(d.Glow)
	case OutOfFlame:
		return "HOT, OUT OF THE FLAME - " + seenWords(d.Glow)
	case Scored:
		return "THE LESSON IS OVER - " + d.Title
	}
	return d.Title
}

// toldWords are what was said beside what it was.
func toldWords(d Drill) string {
	return fmt.Sprintf("YOU SAID %d, IT WAS %d: %s", d.Said, d.Truth, offWord(d))
}

// offWord says by how much the student was late or early.
func offWord(d Drill) string {
	switch off := d.Said - d.Truth; {
	case off > 0:
		return fmt.Sprintf("LATE BY %d", off)
	case off < 0:
		return fmt.Sprintf("EARLY BY %d", -off)
	}
	return "RIGHT"
}

// toldSign has both figures where they fit, else the true one: the other was just typed.
func toldSign(f *Frame, l plan, d Drill) sign {
	sig := sign{word: offWord(d), role: Calm, caption: "courses left",
		figure: fitting(f, l, fmt.Sprintf("SAID %d, WAS %d", d.Said, d.Truth), fmt.Sprintf("WAS %d", d.Truth))}
	if Width(sig.word, l.word)+2*l.margin > f.w {
		sig.word = strings.Replace(sig.word, " BY", "", 1)
	}
	switch {
	case d.Said > d.Truth:
		sig.role, sig.marks = Soon, "!"
	case d.Said < d.Truth:
		sig.role = Fire
	}
	return sig
}

// fitting is the longer figure where there is room for it, and light to spare.
func fitting(f *Frame, l plan, long, short string) string {
	if f.thin || Width(long, l.number)+2*l.margin > f.w {
		return short
	}
	return long
}

// glowSign is what the eye sees of the metal, and for how long it has been so hot.
func glowSign(d Drill) sign {
	sig := sign{word: "NO RED", role: Hot, figure: clock(d.Since), widest: "8:88", caption: "out of the flame"}
	switch {
	case d.Glow.Runs:
		sig.word, sig.role, sig.marks = "IT RUNS", Fault, "!!!"
	case d.Glow.Sight == heat.PerhapsSeen:
		sig.word, sig.role = "A TRACE", Fire
	case d.Glow.Sight == heat.Seen:
		sig.word, sig.role = glowWord(d.Glow.Glow), Fire
	case d.Stage == InFlame:
		sig.role = Fire
	}
	if d.Stage == InFlame {
		sig.caption = "in the flame"
	}
	return sig
}

// glowWord is a glow in at most nine block letters.
func glowWord(g schedule.Glow) string {
	switch g {
	case schedule.GlowNone, schedule.GlowFaint:
		return "FAINT RED"
	case schedule.GlowDull:
		return "DULL RED"
	case schedule.GlowCherry:
		return "CHERRY"
	case schedule.GlowBright:
		return "BRIGHT"
	}
	return "ORANGE"
}

// seenWords are what the eye gets of the glow in this light.
func seenWords(g Glowing) string {
	text := "no red is seen"
	switch {
	case g.Runs:
		text = "it sags and runs"
	case g.Sight == heat.PerhapsSeen:
		text = "perhaps a first trace of red"
	case g.Sight == heat.Seen:
		text = max(g.Glow, schedule.GlowFaint).String()
	}
	return fmt.Sprintf("%s (light: %s)", text, g.Light)
}

func provedSign(d Drill) sign {
	sig := sign{word: "SPRINGY", role: Ask, figure: fmt.Sprint(d.Faults), caption: "faults in this heat"}
	switch {
	case d.Melted:
		sig.word, sig.role = "MELTED", Fault
	case d.Soft:
		sig.word, sig.role = "SOFT", Calm
	}
	if d.Faults == 1 {
		sig.caption = "fault in this heat"
	}
	return sig
}

// scoreSign is the mean error with its sign in a word.
func scoreSign(f *Frame, l plan, d Drill) sign {
	sig := sign{word: "SCORE", role: Calm, figure: "-", caption: "nothing was asked"}
	if d.Asked == 0 {
		return sig
	}
	sig.caption = "courses off on average"
	off, word := math.Abs(d.Error), "LATE"
	if d.Error < 0 {
		word = "EARLY"
	}
	if sig.figure = fmt.Sprintf("%.1f", off); sig.figure == "0.0" {
		sig.figure, sig.caption = "RIGHT", "on average"
		return sig
	}
	sig.caption = "courses " + strings.ToLower(word) + " on average"
	sig.figure = fitting(f, l, sig.figure+" "+word, sig.figure)
	return sig
}
