//go:build system

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/internal/built"
	"dullred/schedule"
)

// A short lesson in a real terminal.
func TestSystemDrill(t *testing.T) {
	path := built.Program(t, "dullred/cmd/dullred")
	cases := []struct {
		name, reason string
		run          func(*testing.T, program)
	}{
		{"a lesson", "it is kept apart from the record of real pieces", playedLesson},
		{"a record that is there", "it stays as it was, byte for byte", lessonBesideARecord},
		{"nothing done", "who only looked has no lesson", lookedAtLesson},
		{"SIGTERM", "the terminal is given back, and the lesson kept as far as it went", endedLesson},
		{"no room for it", "the score is told all the same", lessonThatCannotBeKept},
		{"as JSON", "what came of it, once the screen is gone", lessonAsJSON},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			require.NotEmpty(t, c.reason)
			c.run(t, program{path: path, record: filepath.Join(t.TempDir(), "record.db")})
		})
	}
}

// lessonsOf is the file of lessons beside a record.
func (p program) lessonsOf() string { return strings.TrimSuffix(p.record, ".db") + "-lessons.db" }

// lesson opens the first level.
func (p program) lesson(t *testing.T, args ...string) *terminal {
	t.Helper()
	term := start(t, session{command: append([]string{p.path, "drill", "--level", "1", "--seed", "7", "--record", p.record}, args...)})
	term.waitFor("DRILL")
	term.waitFor("courses since it was soft")
	return term
}

// asked strikes two courses and answers.
func asked(term *terminal) {
	term.t.Helper()
	term.slowly("  ")
	term.waitFor("courses before it splits: one digit")
	require.NotContains(term.t, term.screen(), "of the limit")
	term.press("4", "YOU SAID 4, IT WAS ")
	require.Contains(term.t, term.screen(), "DRILL")
}

// lessons are those in the file of lessons.
func (p program) lessons(t *testing.T) (all []schedule.Drilled) {
	t.Helper()
	a := &app{record: p.record, hand: "smith", conf: &config{}, getenv: func(string) string { return "" }}
	b, err := a.openLessons()
	require.NoError(t, err)
	defer func() { require.NoError(t, b.close()) }()
	entries, err := b.lessons()
	require.NoError(t, err)
	for _, e := range entries {
		all = append(all, e.Body.(schedule.Drilled))
	}
	return all
}

func playedLesson(t *testing.T, p program) {
	term := p.lesson(t)
	playedOut(term)
	require.Zero(t, term.exitCode())
	term.waitFor("The same again: dullred drill --level 1 --seed 7")
	require.NoFileExists(t, p.record)
	all := p.lessons(t)
	require.Len(t, all, 1)
	require.Equal(t, 1, all[0].Level)
	require.Equal(t, uint64(7), all[0].Seed)
	require.Equal(t, 1, all[0].Asked)
}

func lessonBesideARecord(t *testing.T, p program) {
	p.spoon(t, "8x8")
	before, err := os.ReadFile(p.record)
	require.NoError(t, err)
	logBefore := p.must(t, "log", "--json")
	playedOut(p.lesson(t))
	after, err := os.ReadFile(p.record)
	require.NoError(t, err)
	require.True(t, bytes.Equal(before, after))
	require.Equal(t, logBefore, p.must(t, "log", "--json"))
	require.Len(t, p.lessons(t), 1)
}

// playedOut strikes, answers and leaves.
func playedOut(term *terminal) {
	term.t.Helper()
	asked(term)
	term.press("x", "THE LESSON IS OVER")
	time.Sleep(apart)
	term.keys("x")
	_ = term.exitCode()
	term.givenBack()
}

func lookedAtLesson(t *testing.T, p program) {
	term := p.lesson(t)
	term.keys("x")
	require.Zero(t, term.exitCode())
	term.givenBack()
	require.NoFileExists(t, p.record)
	require.NoFileExists(t, p.lessonsOf())
}

func endedLesson(t *testing.T, p program) {
	term := p.lesson(t)
	asked(term)
	term.signal(syscall.SIGTERM)
	require.Equal(t, 128+int(syscall.SIGTERM), term.exitCode())
	term.givenBack()
	require.NoFileExists(t, p.record)
	require.Len(t, p.lessons(t), 1)
}

func lessonThatCannotBeKept(t *testing.T, p program) {
	require.NoError(t, os.WriteFile(p.lessonsOf(), []byte("these are no lessons, and nobody may write over them"), 0o600))
	term := p.lesson(t)
	playedOut(term)
	require.Equal(t, exitRecord, term.exitCode())
	term.waitFor("The same again: dullred drill --level 1 --seed 7")
	term.waitFor("the lesson was not recorded")
	kept, err := os.ReadFile(p.lessonsOf())
	require.NoError(t, err)
	require.Equal(t, "these are no lessons, and nobody may write over them", string(kept))
}

func lessonAsJSON(t *testing.T, p program) {
	term := p.lesson(t, "--json")
	playedOut(term)
	term.waitFor("}") // what it printed last may be read after it has ended
	out := term.output(0)
	var result schedule.Drilled
	from := strings.LastIndex(out, "{")
	require.Positive(t, from)
	require.NoError(t, json.NewDecoder(strings.NewReader(out[from:])).Decode(&result))
	require.Equal(t, p.lessons(t), []schedule.Drilled{result})
}
