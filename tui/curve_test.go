package tui

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/tui/view"
)

// curveMoments are the pages of pictures.
var curveMoments = []moment{
	{"curve-limit", func(t *testing.T, s *stage) { annealed(t, s).keys("/") }},
	{"curve-zone", func(t *testing.T, s *stage) {
		s.piece(t, "band", "AG925", "8x8", "tip", "middle", "butt").worked(t, "7.2x7.8").keys("zz").worked(t, "6.4x7.2").keys("/")
	}},
	{"curve-hardness", func(t *testing.T, s *stage) { annealed(t, s).keys("//") }},
	{"curve-heat", func(t *testing.T, s *stage) { annealed(t, s).keys("///") }},
	{"curve-shape", func(t *testing.T, s *stage) { annealed(t, s).keys("////") }},
}

// annealed is the spent bar heated, proved soft and worked again, one course unread.
func annealed(t testing.TB, s *stage) *stage {
	return spent(t, s).keys("hco").wait(time.Minute).keys("qs").worked(t, "4.6x6.4").keys(" ").wait(time.Minute)
}

func TestPicturesByTheirKey(t *testing.T) {
	s := newStage(t)
	annealed(t, s).keys("/")
	require.Equal(t, view.Curves, s.page)
	var titles []string
	for range curves {
		titles = append(titles, s.Scene().Curve.Title)
		s.keys("#")
	}
	require.Equal(t, "spoon: strain since soft, and the limit", titles[0])
	require.Equal(t, titles[0], s.Scene().Curve.Title, "behind the last comes the first")
	require.Len(t, titles, 4)
	for i, title := range titles {
		require.NotContains(t, titles[:i], title)
	}
	require.Equal(t, view.Distance, s.keys("\x1b").page)
	require.Nil(t, s.Scene().Curve, "it is drawn on its own page alone")
}

func TestAPictureIsDrawnOnce(t *testing.T) {
	s := newStage(t)
	annealed(t, s).keys("/").Scene()
	was := s.curve.of
	s.wait(time.Second).Scene()
	require.Equal(t, was, s.curve.of)
	before := s.Scene().Curve.Said
	s.worked(t, "4.2x6.2")
	require.NotEqual(t, before, s.Scene().Curve.Said, "an entry changes it")
}

func TestAPictureFitsTheScreen(t *testing.T) {
	s := newStage(t)
	annealed(t, s).keys("/")
	for _, size := range sizes {
		s.Resize(size.w, size.h)
		c := s.Scene().Curve
		require.LessOrEqual(t, len(c.Rows), size.h-4, "the first picture is seen whole")
		for _, row := range c.Rows {
			require.LessOrEqual(t, view.Columns(row), size.w-2)
			require.NotContains(t, view.New(size.w, 1).String(), "?")
		}
		require.Contains(t, s.frame(size.w, size.h).String(), strings.TrimSpace(c.Rows[3]))
	}
}

func TestPictureOfTheChosenZone(t *testing.T) {
	s := newStage(t)
	s.piece(t, "band", "AG925", "8x8", "tip", "butt").worked(t, "7.2x7.8").keys("z").worked(t, "6.4x7.2").keys("z/")
	require.Contains(t, s.Scene().Curve.Said, "Zone butt: 1 course")
	require.NotContains(t, s.Scene().Curve.Said, "Zone tip")
}

// A tick on the page of pictures: the scene and its frame.
func BenchmarkTickOnCurves(b *testing.B) {
	s := newStage(b)
	annealed(b, s).keys("h/")
	b.ReportAllocs()
	for b.Loop() {
		s.wall, s.boot = s.wall.Add(time.Second), s.boot+time.Second
		view.Draw(s.Scene(), 120, 40)
	}
}
