package tui

import (
	"fmt"
	"math"
	"strings"

	"dullred/schedule/drill"
)

// ScoreOf is what came of a lesson in a line or two of words, and how to play the
// same again.
func ScoreOf(l Lesson) []string {
	return []string{saidWords(l.Score()), lostWords(l.Score()), heatWords(l.Score()),
		fmt.Sprintf("The same again: dullred drill --level %d --seed %d", l.Level().Number, l.Seed())}
}

// saidWords are what the answers were worth.
func saidWords(s drill.Score) string {
	if s.Asked == 0 {
		return "Asked: never."
	}
	off := "right on average"
	if text := fmt.Sprintf("%.1f", math.Abs(s.Error)); text != "0.0" {
		word := "late"
		if s.Error < 0 {
			word = "early"
		}
		off = fmt.Sprintf("%s courses %s on average", text, word)
	}
	return fmt.Sprintf("Asked: %s; %s, %.1f off either way.", times(s.Asked), off, s.Off)
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// lostWords are the bars that were lost.
func lostWords(s drill.Score) string {
	parts := []string{"Bars that split: " + none(s.Splits)}
	if s.Melted > 0 {
		parts = append(parts, fmt.Sprintf("melted: %d", s.Melted))
	}
	return strings.Join(parts, "; ") + "."
}

func heatWords(s drill.Score) string {
	return fmt.Sprintf("Heats: %s; wasted, with courses left in plenty: %s; faults: %s.", none(s.Heats), none(s.Wasted), none(s.Faults))
}

func none(n int) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprint(n)
}
