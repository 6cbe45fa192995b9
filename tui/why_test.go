package tui

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/tui/view"
)

func TestWhyByItsKey(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("\t")
	require.Equal(t, view.Why, s.page)
	for _, back := range []string{"\t", "\n", "\x1b"} {
		require.Equal(t, view.Distance, s.keys(back).page, "%q goes back", back)
		require.Equal(t, view.Why, s.keys("\t").page)
	}
	s.toast = toast{}
	require.Contains(t, s.text(), "ln(7.2/8) =")
	require.Contains(t, s.text(), "more lines: arrow down")
	require.NotContains(t, s.text(), "total / limit =")
	s.arrow(PageDown)
	require.Contains(t, s.text(), "total / limit =")
	require.NotContains(t, s.text(), "ln(7.2/8) =")
}

// The sum on the screen is the one that advise --why prints: that of the entries.
func TestWhyIsTheSumOfTheEntries(t *testing.T) {
	s := newStage(t)
	spoon(t, s).keys("  \t") // two courses that no reading shows
	p := s.current()
	want := p.state().ExplainFrom(p.entries, "", s.observed(p))
	require.NotEmpty(t, want.Lines)
	require.NotEmpty(t, want.Picture)
	require.Equal(t, want, *s.Scene().Why)
}

func TestWhyOfTheChosenZone(t *testing.T) {
	s := newStage(t)
	s.piece(t, "band", "AG925", "8x8", "tip", "butt").worked(t, "7.2x7.8")
	require.Equal(t, "tip", s.keys("\t").Scene().Why.Zone)
	require.Equal(t, "butt", s.keys("zz").Scene().Why.Zone)
}

// Nothing is explained while the clock runs alone, nor on the other pages.
func TestATickExplainsNothing(t *testing.T) {
	s := newStage(t)
	spent(t, s).Scene()
	require.Nil(t, s.current().why)
	s.keys("h\t").Scene()
	was := s.current().why
	require.NotNil(t, was)
	s.wait(time.Second).Scene()
	require.Same(t, was, s.current().why)
	s.keys("c").Scene()
	require.NotSame(t, was, s.current().why, "an entry may change the sum")
	s.keys("\x1bo").Scene()
	require.Nil(t, s.current().why)
}

// A piece that gets no advice says why, and draws nothing.
func TestWhyOfASilencedPiece(t *testing.T) {
	s := newStage(t)
	unknown(s.piece(t, "spoon", "AG925", "8x8"))
	s.keys("\t")
	require.Equal(t, []schedule.Why{{Head: "unknown", Text: s.Scene().Piece.Advice.Reasons[0]}}, s.Scene().Why.Lines)
	require.Contains(t, s.text(), "does not read")
}

// Where the picture does not fit, its page says so: one that is cut would be another.
func TestThePictureIsNeverCut(t *testing.T) {
	s := newStage(t)
	spent(t, s).keys("\t")
	s.scroll = 99
	rows := s.Scene().Why.Picture
	for _, row := range rows {
		require.Contains(t, s.frame(80, 24).String(), row)
	}
	narrow := s.frame(60, 20).String()
	require.Contains(t, narrow, "the picture of it needs a screen of")
	for _, row := range rows[1:] {
		require.NotContains(t, narrow, row)
	}
}

// A tick on the page of the sum: the scene and its frame.
func BenchmarkTickOnWhy(b *testing.B) {
	s := newStage(b)
	spent(b, s).keys("h\t")
	b.ReportAllocs()
	for b.Loop() {
		s.wall, s.boot = s.wall.Add(time.Second), s.boot+time.Second
		view.Draw(s.Scene(), 120, 40)
	}
}
