package demo_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/demo"
)

var (
	evening = time.Date(2026, time.March, 3, 19, 30, 0, 123456789, time.FixedZone("", 3600))
	class   = demo.Class(evening)
)

func TestSameMomentSameClass(t *testing.T) {
	require.Equal(t, class, demo.Class(evening))
	require.Equal(t, class, demo.Class(evening.UTC()), "wherever the clock hangs")
	later := demo.Class(evening.Add(time.Hour))
	require.Equal(t, class[0].Entries[0].ID, later[0].Entries[0].ID)
	require.Equal(t, class[0].Entries[0].At.Add(time.Hour), later[0].Entries[0].At, "the class is always on its evening")
}

// Every entry could have been logged at the bench when it happened.
func TestEveryEntryIsAccepted(t *testing.T) {
	for _, p := range class {
		for i, e := range p.Entries {
			require.NoError(t, schedule.Accept(p.Entries[:i], e, e.At), "%s: %s", p.Name, e.Describe())
			require.Equal(t, schedule.Moment(e.At), e.At, "as a record would give it back")
		}
		require.False(t, p.Entries[len(p.Entries)-1].At.After(evening), "%s is not ahead of its time", p.Name)
	}
}

func TestEveryEntryIsReadBack(t *testing.T) {
	for _, p := range class {
		for _, e := range p.Entries {
			row, err := schedule.Encode(e)
			require.NoError(t, err)
			back, err := schedule.Decode(row)
			require.NoError(t, err, "%s: %s", p.Name, e.Describe())
			require.Equal(t, e, back)
		}
	}
}

func TestIDsAreUnique(t *testing.T) {
	seen := map[schedule.ID]bool{}
	names := map[string]bool{}
	for _, p := range class {
		require.False(t, names[p.Name], p.Name)
		names[p.Name] = true
		piece := p.Entries[0].Piece
		require.False(t, seen[piece], "%s shares its piece with another", p.Name)
		seen[piece] = true
		for _, e := range p.Entries {
			require.Equal(t, piece, e.Piece)
			require.False(t, seen[e.ID], e.ID)
			seen[e.ID] = true
		}
	}
}

// The class shows what a smith meets: that is what it is for.
// The class is at one bench, or the screen that shows it would call its pieces another's.
func TestClassIsAtOneBench(t *testing.T) {
	for _, p := range class {
		for _, e := range p.Entries {
			require.Equal(t, class[0].Entries[0].Bench, e.Bench, p.Name)
		}
	}
}

func TestClassShowsEveryKindOfAdvice(t *testing.T) {
	var verdicts []schedule.Verdict
	zoned := false
	for _, p := range class {
		s := schedule.Fold(p.Entries)
		require.Empty(t, s.Silenced, p.Name)
		a := s.Advise(evening, nil)
		verdicts = append(verdicts, a.Verdict)
		zoned = zoned || len(a.Zones) > 1 && a.Zones[0].Verdict != a.Zones[1].Verdict
	}
	for _, v := range []schedule.Verdict{schedule.VerdictCarryOn, schedule.VerdictAnnealSoon, schedule.VerdictAnnealNow,
		schedule.VerdictWait, schedule.VerdictFileCrack} {
		require.True(t, slices.Contains(verdicts, v), "no piece says %v", v)
	}
	require.True(t, zoned, "no piece has zones that differ")
}

// Two pieces are on their plan: one has its next step, one is in the heat of its own.
func TestTwoPiecesHaveAPlan(t *testing.T) {
	want := map[string]string{"spoon 1": "LENGTHEN middle, STOP AT 5.7x5.7 (step 5 of 12)", "spoon 4": "ANNEAL whole (step 3 of 12)"}
	for _, p := range class {
		s := schedule.Fold(p.Entries)
		f, err := s.Following(schedule.PlanKnown{})
		if want[p.Name] == "" {
			require.ErrorIs(t, err, schedule.ErrNoPlan, "%s is made by eye", p.Name)
			continue
		}
		require.NoError(t, err, p.Name)
		require.Contains(t, f.Text(), want[p.Name])
		require.False(t, f.Again, f.Changed)
		require.Empty(t, f.Lost)
		delete(want, p.Name)
	}
	require.Empty(t, want, "pieces of the class")
}

// Names say what the piece is and no more: no person, place, firm or find.
func TestNamesArePlain(t *testing.T) {
	for _, p := range class {
		require.NoError(t, schedule.CheckName(p.Name))
		word, number, ok := strings.Cut(p.Name, " ")
		require.True(t, ok && slices.Contains([]string{"spoon", "bowl"}, word) && len(number) == 1, p.Name)
		for _, e := range p.Entries {
			for _, z := range e.Zones {
				require.Contains(t, []string{"bowl", "neck", "handle"}, z)
			}
			_, note := e.Body.(schedule.Note)
			require.False(t, note, "free text of an invented class: read it and say so here")
		}
	}
}
