package schedule_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
)

// requireState compares what a smith would be told first, so that a failure is
// readable, and then everything.
func requireState(t *rapid.T, want, got schedule.State) {
	require.Equal(t, want.Silenced, got.Silenced)
	at := evening.Add(2 * time.Hour)
	require.Equal(t, want.Advise(at, nil), got.Advise(at, nil))
	require.Equal(t, schedule.Unremembered(want), schedule.Unremembered(got))
}

func TestOrderOfEntriesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history.Draw(t, "history")
		shuffled := rapid.Permutation(h).Draw(t, "shuffled")
		before := slices.Clone(shuffled)
		requireState(t, h.state(), schedule.Fold(shuffled))
		require.Equal(t, before, shuffled, "the caller's entries stay in their order")
	})
}

func TestPieceIsItsFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history.Draw(t, "history")
		var p schedule.Piece
		for _, e := range rapid.Permutation(h).Draw(t, "as they came") {
			before, copied := p.State, clone(p.State)
			p.Add(e)
			require.Equal(t, copied, before, "a state taken before stays as it was")
		}
		requireState(t, h.state(), p.State)
	})
}

// clone copies what a later entry could write into.
func clone(s schedule.State) schedule.State {
	s.Zones, s.Courses, s.Silenced = slices.Clone(s.Zones), slices.Clone(s.Courses), slices.Clone(s.Silenced)
	return s
}

// The common case is an entry after all others, which folds one step.
func TestPieceFollowsTheBench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history.Draw(t, "history")
		slices.SortStableFunc(h, func(a, b schedule.Entry) int { return a.At.Compare(b.At) })
		cut := rapid.IntRange(0, len(h)).Draw(t, "cut")
		var p schedule.Piece
		for _, e := range h[:cut] {
			p.Add(e)
			require.NotPanics(t, func() { p.State.Advise(e.At, nil) }, "between two entries")
		}
		requireState(t, schedule.Fold(h[:cut]), p.State)
		for _, e := range rapid.Permutation(h[cut:]).Draw(t, "rest") {
			p.Add(e)
		}
		requireState(t, h.state(), p.State)
	})
}

func TestReloadedStateIsTheLiveOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history.Draw(t, "history")
		var live schedule.Piece
		var rows []schedule.Row
		for _, e := range h {
			live.Add(e)
			rows = append(rows, encode(t, e))
		}
		requireState(t, live.State, schedule.Fold(schedule.DecodeAll(rows)))
	})
}

func TestVoidOfTheLastEntryIsNeverHavingWrittenIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history.Draw(t, "history")
		last := entryAt(60, doing(len(h)).Draw(t, "last"))
		void := entryAt(61, schedule.Void{Target: last.ID})
		requireState(t, h.state(), append(slices.Clone(h), last, void).state())

		back := entryAt(62, schedule.Void{Target: void.ID})
		requireState(t, append(slices.Clone(h), last).state(), append(slices.Clone(h), last, void, back).state())
	})
}

// Words about the piece and its alerts must not reach the metal.
func TestWordsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := history.Draw(t, "history")
		words := []schedule.Body{schedule.Note{Text: "n"}, schedule.Shown{After: idOf(1)}, schedule.Raised{Cause: "c"},
			schedule.Acknowledged{Alert: idOf(2)}}
		said := entryAt(60, rapid.SampledFrom(words).Draw(t, "said"), "spout")
		requireState(t, h.state(), append(slices.Clone(h), said).state())
	})
}

func TestMoment(t *testing.T) {
	typed := time.Date(2026, 3, 3, 19, 4, 5, 123456789, time.FixedZone("", 3600))
	require.Equal(t, time.Date(2026, 3, 3, 18, 4, 5, 123456000, time.UTC), schedule.Moment(typed))
	e := entryAt(1, schedule.Soft{})
	e.At, e.Written = schedule.Moment(time.Now()), schedule.Moment(typed)
	back, err := schedule.Decode(encode(t, e))
	require.NoError(t, err)
	require.Equal(t, e, back, "an instant comes back to the same bits")
}
