package view

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/coldwork"
)

// verdicts are all of them.
var verdicts = []schedule.Verdict{schedule.VerdictUnknown, schedule.VerdictNoAnneal, schedule.VerdictCarryOn,
	schedule.VerdictAnnealSoon, schedule.VerdictAnnealNow, schedule.VerdictHeating, schedule.VerdictSoak,
	schedule.VerdictWait, schedule.VerdictProve, schedule.VerdictFileCrack, schedule.VerdictPickle}

func pieceWith(v schedule.Verdict, t *schedule.Timer) *Piece {
	return &Piece{Name: "spoon", Advice: schedule.Advice{ZoneAdvice: schedule.ZoneAdvice{Verdict: v, Zone: schedule.Whole}}, Timer: t}
}

// Every state has a word of its own, of at most nine letters, that fits the
// smallest screen in block letters.
func TestSignsAreWordsOfTheirOwn(t *testing.T) {
	seen := map[string]schedule.Verdict{}
	for _, v := range verdicts {
		s := signOf(pieceWith(v, nil))
		require.NotEmpty(t, s.figure, v)
		require.LessOrEqual(t, len(strings.ReplaceAll(s.word, " ", "")), 9, s.word)
		require.LessOrEqual(t, Width(s.word, Five)+2*plateColumns+1, LeastWidth, s.word)
		require.LessOrEqual(t, Width(s.word, Ten)+2*plateColumns+3, 120, s.word)
		other, taken := seen[s.word]
		require.False(t, taken, "%v and %v share %q", v, other, s.word)
		seen[s.word] = v
	}
}

func TestTimedFigures(t *testing.T) {
	min := time.Minute
	cases := []struct {
		name            string
		verdict         schedule.Verdict
		timer           schedule.Timer
		figure, caption string
	}{
		{"begun", schedule.VerdictHeating, schedule.Timer{Step: schedule.StepHeating, Elapsed: 72 * time.Second, Target: 3 * min}, "1:12", "up to 3:00"},
		{"held a while", schedule.VerdictSoak, schedule.Timer{Step: schedule.StepSoak, Elapsed: 10500 * time.Millisecond, Target: 30 * time.Second, Most: 5 * min}, "0:20", "left of 0:30"},
		{"the last moment", schedule.VerdictSoak, schedule.Timer{Step: schedule.StepSoak, Elapsed: 29999 * time.Millisecond, Target: 30 * time.Second, Most: 5 * min}, "0:01", "left"},
		{"held long enough", schedule.VerdictSoak, schedule.Timer{Step: schedule.StepSoak, Elapsed: 42 * time.Second, Target: 30 * time.Second, Most: 5 * min}, "0:12+", "out of the flame"},
		{"held too long", schedule.VerdictSoak, schedule.Timer{Step: schedule.StepSoak, Elapsed: 5 * min, Target: 30 * time.Second, Most: 5 * min}, "4:30+", "TOO LONG"},
		{"out", schedule.VerdictWait, schedule.Timer{Step: schedule.StepWait, Elapsed: 3 * time.Second, Target: 10 * time.Second}, "0:07", "NOT GLOWING"},
		{"may be quenched", schedule.VerdictWait, schedule.Timer{Step: schedule.StepWait, Elapsed: 13 * time.Second, Target: 10 * time.Second}, "0:03+", "a drop sizzles?"},
		{"in the air", schedule.VerdictWait, schedule.Timer{Step: schedule.StepCooling, Elapsed: 63*time.Hour + 20*min}, "63h", "NOT GLOWING"},
		{"pickled over a weekend", schedule.VerdictPickle, schedule.Timer{Step: schedule.StepPickle, Elapsed: 63*time.Hour + 20*min, Target: 10 * min}, "63h+", "rinse"},
		{"a clock that ran back", schedule.VerdictHeating, schedule.Timer{Step: schedule.StepHeating, Elapsed: -min, Target: 3 * min}, "0:00", "in the flame"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := signOf(pieceWith(c.verdict, &c.timer))
			require.Equal(t, c.figure, s.figure)
			require.Contains(t, s.caption, c.caption)
		})
	}
}

// Numerals at two metres: NUREG-0700 rev. 2, 1.3.1-4 wants 20 to 22 minutes of
// arc, which five rows reach on a screen of up to 75 rows.
//
// Outside check (standard): height of numerals at two metres, NUREG-0700.
func TestNumeralsAreFiveRowsAtLeast(t *testing.T) {
	for _, size := range []struct{ w, h, word, number int }{{60, 20, 5, 5}, {80, 24, 5, 7}, {120, 40, 10, 7}, {200, 70, 10, 7}} {
		for _, thin := range []bool{false, true} {
			f := New(size.w, size.h)
			f.thin = thin
			l := planFor(f)
			require.Equal(t, size.number, l.number.Rows(), size)
			require.GreaterOrEqual(t, l.word.Rows(), 5)
			if !thin {
				require.Equal(t, size.word, l.word.Rows(), size)
			}
		}
	}
}

func worked(spent float64, per float64) *Piece {
	p := pieceWith(schedule.VerdictCarryOn, nil)
	p.Advice.Spent = spent
	for share := spent + per; per > 0 && share <= 1 && len(p.Ahead) < 9; share += per {
		p.Ahead = append(p.Ahead, share)
	}
	p.Advice.Limit = coldwork.Limit{Strain: 0.69}
	return p
}

func TestGauge(t *testing.T) {
	read := func(g gauge) string {
		var b strings.Builder
		for x := range g.width {
			b.WriteRune(g.at(x).Rune)
		}
		return b.String()
	}
	cases := []struct {
		name  string
		piece *Piece
		text  string
		marks int
	}{
		{"new", worked(0, 0.25), "----------|  ", 4},
		{"half", worked(0.5, 0.25), "█████-----|  ", 2},
		{"no forecast", worked(0.5, 0), "█████-----|  ", 0},
		{"at the limit", worked(1, 0.25), "██████████|  ", 0},
		{"over", worked(1.2, 0.25), "██████████|! ", 0},
		{"far over", worked(9, 0.25), "██████████|!!", 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			g := gaugeOf(c.piece, 13)
			require.Equal(t, c.text, read(g))
			require.Len(t, g.marks, c.marks)
		})
	}
	f := New(60, 20)
	f.thin = true
	drawGauge(f, worked(0.5, 0.2), planFor(f), 0)
	require.NotContains(t, f.String(), string(gaugeFull), "a thin gauge does not shine")
	require.Contains(t, f.String(), "=====")
}

// Typed text is data: nothing in it is markup, and nothing turns the line.
func TestHostileNamesAreDrawnAsTheyAre(t *testing.T) {
	p := worked(0.2, 0.1)
	p.Name = "[red]sp\u202eoon\x1b[2J"
	f := Draw(Scene{Piece: p}, 80, 24)
	require.Contains(t, f.String(), "[red]spoon[2J")
	for y := range 24 {
		for x := range 80 {
			require.GreaterOrEqual(t, f.At(x, y).Rune, ' ')
		}
	}
}
