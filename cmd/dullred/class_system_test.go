//go:build system

package main

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/rivo/uniseg"
	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
)

// An evening of a class at one keyboard: each hand strikes its piece on the bench
// screen, one after the other, and the teacher prints the page in the same terminal.
func TestSystemClass(t *testing.T) {
	t.Parallel()
	awaitOneDay()
	p := program{path: built.Program(t, "dullred/cmd/dullred"), record: filepath.Join(t.TempDir(), "record.db")}
	p.must(t, "piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8", "--hand", "kw")
	p.atBench(t, "kw", func(term *terminal) {
		term.slowly("   ")
		term.press("4.30\r", "ANNEAL NOW")
		term.slowly(" ") // and one more, over the limit
		term.press("h", "HEATING - ")
		term.press("c", "SOAK - ")
		term.press("o", "HOT - NOT GLOWING")
		term.press("q", "PROVE")
		term.press("s", carryOnAtNothing)
	})
	p.must(t, "piece", "new", "bowl", "--alloy", "copper", "--size", "8x8", "--hand", "12")
	p.atBench(t, "12", func(term *terminal) { term.slowly("  ") })

	today := time.Now().Format("Monday 2 January 2006")
	lines := screen(t, "'"+p.path+"' class --record '"+p.record+"'")
	text := strings.Join(lines, "\n")
	require.LessOrEqual(t, len(lines), pageLines)
	for _, line := range lines {
		require.LessOrEqual(t, uniseg.StringWidth(line), pageColumns, line)
	}
	require.Equal(t, "Lesson of "+today+", 2 hands", lines[0])
	require.Regexp(t, regexp.MustCompile(`(?m)^12 +1 +2 +0 +0 +0 +0 +- +- +- +-$`), text)
	require.Regexp(t, regexp.MustCompile(`(?m)^kw +1 +4 +1 +1 +0 +0 +- +- +- +-$`), text)
	require.Contains(t, text, "The class: too late in 1 of 6 courses.")

	forgotten := screen(t, "'"+p.path+"' forget KW --record '"+p.record+"'; '"+p.path+"' class --record '"+p.record+"'")
	text = strings.Join(forgotten, "\n")
	require.Contains(t, text, "the name is gone")
	require.Regexp(t, regexp.MustCompile(`(?m)^unnamed 1 +1 +4 +1 +1 `), text)
	require.NotRegexp(t, regexp.MustCompile(`(?m)^kw `), text)
}

// awaitOneDay waits for midnight if that is near: an evening that goes past it is two
// lessons.
func awaitOneDay() {
	now := time.Now()
	midnight := time.Date(now.Year(), now.Month(), now.Day()+1, 0, 0, 0, 0, now.Location())
	if left := midnight.Sub(now); left < 2*time.Minute {
		time.Sleep(left + time.Second)
	}
}

// atBench opens the bench screen for a hand, does something there, and quits.
func (p program) atBench(t *testing.T, hand string, do func(*terminal)) {
	t.Helper()
	term := start(t, session{env: []string{"DULLRED_HAND=" + hand}, command: []string{p.path, "--record", p.record}})
	term.waitFor(carryOnAtNothing)
	do(term)
	time.Sleep(apart)
	term.keys("x")
	require.Zero(t, term.exitCode())
}
