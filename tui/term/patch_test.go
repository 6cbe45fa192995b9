package term

import (
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A page that is patched is the page that would have been drawn anew.
func TestPatchIsADrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		patched, plain := tcell.NewSimulationScreen("UTF-8"), tcell.NewSimulationScreen("UTF-8")
		one, other := Wrap(patched), Wrap(plain)
		require.NoError(t, one.Init())
		require.NoError(t, other.Init())
		defer one.Fini()
		defer other.Fini()
		w, h := 12, 5
		page := make([]rune, w*h)
		for i := range page {
			page[i] = ' '
		}
		for range rapid.IntRange(1, 8).Draw(t, "frames") {
			if rapid.IntRange(0, 3).Draw(t, "resize") == 0 {
				w, h = rapid.IntRange(3, 20).Draw(t, "w"), rapid.IntRange(2, 8).Draw(t, "h")
				page = make([]rune, w*h)
				for i := range page {
					page[i] = ' '
				}
			}
			one.SetSize(w, h)
			other.SetSize(w, h)
			var changes []Placed
			for range rapid.IntRange(0, 6).Draw(t, "changes") {
				i := rapid.IntRange(0, w*h-1).Draw(t, "at")
				page[i] = rapid.SampledFrom([]rune{'a', '█', ' ', '°'}).Draw(t, "rune")
				changes = append(changes, Placed{X: i % w, Y: i / w, Rune: page[i]})
			}
			one.Clear()
			if !one.Patch(changes) {
				whole(one, page, w)
			}
			one.Show()
			other.Clear()
			whole(other, page, w)
			other.Show()
			got, _, _ := patched.GetContents()
			want, _, _ := plain.GetContents()
			require.Equal(t, want, got)
		}
	})
}

func whole(s *Shadow, page []rune, w int) {
	for i, r := range page {
		s.SetContent(i%w, i/w, r, nil, tcell.StyleDefault)
	}
}

func TestPatchIsRefused(t *testing.T) {
	sim := tcell.NewSimulationScreen("UTF-8")
	s := Wrap(sim)
	require.NoError(t, s.Init())
	defer s.Fini()
	change := []Placed{{X: 1, Y: 1, Rune: 'x'}}
	s.Clear()
	require.False(t, s.Patch(change), "nothing was shown yet")
	s.SetContent(0, 0, 'a', nil, tcell.StyleDefault)
	s.Show()
	require.False(t, s.Patch(change), "without a Clear it is no new page")
	s.Clear()
	require.True(t, s.Patch(change))
	s.Show()
	text, _, _ := s.Get(0, 0)
	require.Equal(t, "a", text, "what was shown stands")
	s.Clear()
	s.SetContent(2, 0, 'b', nil, tcell.StyleDefault)
	require.False(t, s.Patch(change), "something was drawn since")
	s.Show()
	s.SetSize(30, 9)
	s.Clear()
	require.False(t, s.Patch(change), "the size is another")
}

// A screen that ends by itself ends the program, which would wait for ever.
func TestShadowUnderWhichTheScreenEnds(t *testing.T) {
	sim := tcell.NewSimulationScreen("UTF-8")
	s := Wrap(sim)
	require.NoError(t, s.Init())
	sim.Fini()
	for {
		ev := s.PollEvent()
		require.NotNil(t, ev)
		if _, failed := ev.(*tcell.EventError); failed {
			break
		}
	}
	s.Fini()
}
