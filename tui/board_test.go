package tui

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/tui/view"
)

// arrow presses a key that types no character.
func (s *stage) arrow(k Special) *stage {
	s.Press(Press{Key: k})
	return s.wait(500 * time.Millisecond)
}

// marked begins a piece with a mark chalked on it.
func (s *stage) marked(t testing.TB, name, mark string) *stage {
	t.Helper()
	size, err := unit.ParseSize("8x8", unit.Unshaped)
	require.NoError(t, err)
	require.NoError(t, s.start(name, schedule.Started{Alloy: "AG925", Calliper: 0.1, Mark: mark, Reading: schedule.Reading{Size: size}}))
	return s.wait(time.Minute)
}

// class is six pieces in different states; the last begun is on the screen.
func class(t testing.TB, s *stage) *stage {
	t.Helper()
	s.marked(t, "spoon 1", "I")
	s.marked(t, "spoon 2", "II").worked(t, "7.2x7.8")
	s.marked(t, "spoon 3", "III").worked(t, "4.6x6.4").keys("a")
	s.marked(t, "spoon 4", "IIII").worked(t, "5.4x6.7").keys("ahc")
	s.marked(t, "spoon 5", "V").worked(t, "5.6x6.7").keys("ahcoqp")
	return s.marked(t, "spoon 6", "VI").worked(t, "6.8x7.6").keys("k")
}

// boardNames are the pieces on the board, from the top.
func (s *stage) boardNames() (names []string) {
	for _, r := range s.Scene().Board {
		names = append(names, r.Name)
	}
	return names
}

// live are the entries of a piece that count and that the smith made.
func (s *stage) live(t testing.TB, name string) (kinds []schedule.Kind) {
	t.Helper()
	for _, p := range s.pieces {
		if p.name != name {
			continue
		}
		dead := schedule.Voided(p.entries)
		for _, e := range p.entries {
			switch e.Kind() {
			case schedule.KindVoid, schedule.KindShown, schedule.KindRaised, schedule.KindAcknowledged:
				continue
			}
			if !dead[e.ID] {
				kinds = append(kinds, e.Kind())
			}
		}
		return kinds
	}
	require.Fail(t, "no such piece", name)
	return nil
}

// choosePiece moves the cursor of the board onto a piece.
func (s *stage) choosePiece(t testing.TB, name string) *stage {
	t.Helper()
	for range s.pieces {
		s.arrow(Up)
	}
	for range s.pieces {
		if s.current().name == name {
			return s
		}
		s.arrow(Down)
	}
	require.Equal(t, name, s.current().name)
	return s
}

// joined is a group of pieces on the board.
func (s *stage) joined(t testing.TB, names ...string) *stage {
	t.Helper()
	for _, n := range names {
		s.choosePiece(t, n).keys(".")
	}
	return s
}

func TestBoardOrder(t *testing.T) {
	s := class(t, newStage(t)).keys("vv")
	rows := s.Scene().Board
	require.Len(t, rows, 6)
	for i := 1; i < len(rows); i++ {
		require.GreaterOrEqual(t, rows[i-1].Spent, rows[i].Spent, "the nearest to splitting stands above")
	}
	require.Equal(t, "spoon 3", rows[0].Name)
	require.Equal(t, "spoon 1", rows[5].Name, "not worked yet")
}

func TestBoardCursor(t *testing.T) {
	s := class(t, newStage(t)).keys("vv")
	names := s.boardNames()
	for range 10 {
		s.arrow(Up)
	}
	for _, name := range names {
		require.Equal(t, name, s.current().name)
		require.Regexp(t, `(?m)^>[ *][ !] .*`+name, s.text())
		require.Equal(t, 1, strings.Count(s.text(), "\n>"), "one cursor")
		s.arrow(Down)
	}
	require.Equal(t, names[5], s.current().name, "it stops at the end")
	s.keys("\x1b")
	require.Equal(t, view.Distance, s.page)
	require.Equal(t, names[5], s.current().name, "and stays chosen")
}

// Four keys bring four pieces through one heat, and no other.
func TestOneHeatForSeveral(t *testing.T) {
	s := newStage(t)
	for i := range 5 {
		s.marked(t, fmt.Sprintf("spoon %d", i+1), "")
	}
	s.keys("vv").joined(t, "spoon 1", "spoon 3", "spoon 5")
	require.Len(t, regexp.MustCompile(`(?m)^.\*`).FindAllString(s.text(), -1), 3, "a star for each")
	s.choosePiece(t, "spoon 2") // the cursor is on one that stays out
	kinds := []schedule.Kind{schedule.KindStarted}
	for _, step := range []struct {
		key  string
		kind schedule.Kind
	}{{"h", schedule.KindBegun}, {"c", schedule.KindReached}, {"o", schedule.KindOut}, {"q", schedule.KindQuenched}} {
		s.keys(step.key)
		kinds = append(kinds, step.kind)
		for _, name := range []string{"spoon 1", "spoon 3", "spoon 5"} {
			require.Equal(t, kinds, s.live(t, name))
			require.Contains(t, s.toast.text, name)
		}
		for _, name := range []string{"spoon 2", "spoon 4"} {
			require.Equal(t, []schedule.Kind{schedule.KindStarted}, s.live(t, name))
			require.NotContains(t, s.toast.text, name)
		}
	}
	s.choosePiece(t, "spoon 3").keys(".p")
	require.Len(t, s.live(t, "spoon 3"), 5, "taken out of the group")
	require.Len(t, s.live(t, "spoon 1"), 6)
}

// What is refused for one is named, and done for the others.
func TestRefusalOfOne(t *testing.T) {
	s := newStage(t)
	s.marked(t, "spoon 1", "").keys("hco")
	s.marked(t, "spoon 2", "").keys("hcoq")
	s.marked(t, "spoon 3", "").keys("hcoq")
	s.keys("vv").joined(t, "spoon 1", "spoon 2", "spoon 3").keys("p")
	require.False(t, s.toast.bad)
	require.Contains(t, s.toast.text, "NOT for spoon 1")
	require.Contains(t, s.toast.text, "acid")
	require.NotContains(t, s.live(t, "spoon 1"), schedule.KindPickled)
	require.Contains(t, s.live(t, "spoon 2"), schedule.KindPickled)
	require.Contains(t, s.live(t, "spoon 3"), schedule.KindPickled)
	require.Contains(t, s.text(), "NOT for spoon 1", "it can be read on the smallest wide screen")
}

// All refused: nothing is logged, and each says why.
func TestRefusalOfAll(t *testing.T) {
	s := newStage(t)
	s.marked(t, "spoon 1", "").marked(t, "spoon 2", "").keys("vv").joined(t, "spoon 1", "spoon 2").keys("r")
	require.True(t, s.toast.bad)
	require.Contains(t, s.toast.text, "spoon 1")
	require.Contains(t, s.toast.text, "spoon 2")
	require.Equal(t, []schedule.Kind{schedule.KindStarted}, s.live(t, "spoon 1"))
}

func TestUndoTakesTheGroupBack(t *testing.T) {
	s := newStage(t)
	s.marked(t, "spoon 1", "").marked(t, "spoon 2", "").marked(t, "spoon 3", "").keys("vv").joined(t, "spoon 1", "spoon 3").keys("hu")
	for i := range 3 {
		require.Equal(t, []schedule.Kind{schedule.KindStarted}, s.live(t, fmt.Sprintf("spoon %d", i+1)))
	}
	require.Contains(t, s.toast.text, "taken back")
	s.keys("h")
	require.Len(t, s.live(t, "spoon 1"), 2, "the group is still there")
	require.Len(t, s.live(t, "spoon 3"), 2)
}

func TestLeavingTheBoardEmptiesTheGroup(t *testing.T) {
	ways := []struct{ keys, reason string }{
		{"\x1b", "back"}, {"v", "the next page"}, {"w", "the cautions"}, {"?", "the keys"}, {"\n", "Enter goes back too"},
		{"bcopper\n3 round\nn\n", "a piece begun is shown from far"},
	}
	for _, w := range ways {
		t.Run(w.reason, func(t *testing.T) {
			s := newStage(t)
			s.marked(t, "spoon 1", "").marked(t, "spoon 2", "").keys("vv").joined(t, "spoon 1", "spoon 2").keys(w.keys)
			require.Empty(t, s.with)
			s.keys("\x1b\x1b").keys("vv")
			require.NotContains(t, s.text(), "*")
		})
	}
}

// A point on another page opens the board with the piece in the group.
func TestPointOpensTheBoard(t *testing.T) {
	s := newStage(t).marked(t, "spoon 1", "").marked(t, "spoon 2", "").keys(".")
	require.Equal(t, view.Board, s.page)
	require.Regexp(t, `(?m)^>\*. .*spoon 2`, s.text())
}

// A figure is that of one piece, whatever else goes into the heat.
func TestMeasureIsForOnePiece(t *testing.T) {
	s := newStage(t)
	s.marked(t, "spoon 1", "").marked(t, "spoon 2", "").keys("vv").joined(t, "spoon 1", "spoon 2").keys("7.9\n")
	measured := 0
	for _, name := range []string{"spoon 1", "spoon 2"} {
		if len(s.live(t, name)) > 1 {
			measured++
		}
	}
	require.Equal(t, 1, measured, "the form names one piece")
}

// A course on hot metal is asked about, in a group as alone.
func TestCourseOfAGroupAsksForHotMetal(t *testing.T) {
	s := newStage(t)
	s.marked(t, "spoon 1", "").keys("hco")
	s.marked(t, "spoon 2", "").keys("vv").joined(t, "spoon 1", "spoon 2").choosePiece(t, "spoon 2").keys(" ")
	require.NotContains(t, s.live(t, "spoon 1"), schedule.KindPass, "one foot on the switch is no blow on hot metal")
}

// Metal that cools in the air is asked about, in a group as alone.
func TestQuenchOfAGroupAsksForAirCooledMetal(t *testing.T) {
	s := newStage(t)
	s.piece(t, "band", "C26000", "6x3").keys("hco")
	s.marked(t, "spoon", "").keys("hcovv").joined(t, "band", "spoon").choosePiece(t, "spoon").keys("q")
	require.NotContains(t, s.live(t, "band"), schedule.KindQuenched)
}

func TestNextGoesToTheUnseenAlert(t *testing.T) {
	s := newStage(t)
	s.marked(t, "spoon 1", "").worked(t, "4.6x6.4")
	s.marked(t, "spoon 2", "").marked(t, "spoon 3", "").keys("n")
	require.Equal(t, "spoon 1", s.current().name)
	s.keys("a")
	s.marked(t, "spoon 4", "").keys("hc")
	var round []string
	for range 4 {
		round = append(round, s.keys("n").current().name)
	}
	require.Equal(t, []string{"spoon 1", "spoon 3", "spoon 2", "spoon 4"}, round,
		"seen: after the hot one the nearest to splitting, and the hot one stands first again")
}

// n comes to every piece, though some wait.
func TestNextReachesEveryPiece(t *testing.T) {
	for _, waiting := range []int{1, 2, 3} {
		t.Run(fmt.Sprint(waiting, " wait"), func(t *testing.T) {
			s := newStage(t)
			for i := range 5 {
				s.marked(t, fmt.Sprintf("spoon %d", i+1), "")
				if i < waiting {
					s.worked(t, "4.6x6.4")
				}
			}
			seen := map[string]bool{}
			for range 12 {
				seen[s.keys("n").current().name] = true
			}
			require.Len(t, seen, 5)
		})
	}
}

// Every piece that waits is come to before one that does not.
func TestNextGoesThroughAllThatWait(t *testing.T) {
	s := newStage(t)
	for i := range 3 {
		s.marked(t, fmt.Sprintf("spoon %d", i+1), "").worked(t, "4.6x6.4")
	}
	s.marked(t, "spoon 4", "")
	seen := map[string]bool{}
	for range 3 {
		seen[s.keys("n").current().name] = true
	}
	require.Equal(t, map[string]bool{"spoon 1": true, "spoon 2": true, "spoon 3": true}, seen)
}

func TestThirtyPiecesScroll(t *testing.T) {
	s := newStage(t)
	for i := range 30 {
		s.marked(t, fmt.Sprintf("spoon %02d", i+1), fmt.Sprint(i+1))
	}
	s.keys("vv")
	names := s.boardNames()
	for range 30 {
		s.arrow(Up)
	}
	require.Contains(t, s.frame(80, 24).String(), "more pieces")
	for _, size := range sizes {
		s.choose(s.nearest()[0])
		for _, name := range names {
			require.Regexp(t, `(?m)^>.. .*`+name, s.frame(size.w, size.h).String(), "%dx%d", size.w, size.h)
			s.arrow(Down)
		}
		for i := range names {
			require.Regexp(t, `(?m)^>.. .*`+names[len(names)-1-i], s.frame(size.w, size.h).String(), "%dx%d", size.w, size.h)
			s.arrow(Up)
		}
	}
}

// Names and marks that come from another record are text, whatever is in them.
func TestHostileNamesOnTheBoard(t *testing.T) {
	hostile := []struct{ name, mark, reason string }{
		{"\x1b[2J\x1b[31mred", "\x07\x07", "sequences of a terminal"},
		{"two\nlines\r\tand a tab", "a\nb", "lines"},
		{strings.Repeat("long ", 40), strings.Repeat("M", 60), "longer than the screen"},
		{"\u202egnp.exe", "\u200b\u200b", "turned round, and nothing at all"},
		{"\u0301\u0301\u0301", "\u0301", "accents on nothing"},
		{"鍛金の匙鍛金の匙鍛金の匙鍛金の匙", "鍛", "two columns for each"},
		{"\xff\xfe", "\xff", "no text"},
		{"", "", "nothing"},
	}
	s := spoon(t, newStage(t))
	for _, h := range hostile {
		e := s.desk.Pieces[0].Entries[0]
		e.ID, e.Piece = schedule.NewID(), schedule.NewID()
		body := e.Body.(schedule.Started)
		body.Mark = h.mark
		e.Body = body
		require.NotEmpty(t, h.reason)
		s.desk.Pieces = append(s.desk.Pieces, Loaded{ID: e.Piece, Name: h.name, Entries: []schedule.Entry{e}})
	}
	s.open(t).keys("vv")
	for range len(hostile) + 1 {
		for _, size := range sizes {
			text := s.frame(size.w, size.h).String()
			require.Len(t, strings.Split(strings.TrimRight(text, "\n"), "\n"), size.h)
			require.False(t, strings.ContainsFunc(text, func(r rune) bool {
				return r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r))
			}), "%q", text)
			require.Regexp(t, `(?m)^>`, text)
			require.Regexp(t, `(?m)^.{10}spoon .*lengthen|^.*spoon`, text)
		}
		s.arrow(Down).keys("..")
	}
	require.Len(t, s.Scene().Board, len(hostile)+1)
}

// A piece that is finished leaves the board once another is on the screen, comes back
// when that is taken back, and is worked no more until then.
func TestFinishedPieceLeavesTheBoard(t *testing.T) {
	s := newStage(t)
	s.piece(t, "spoon", "AG925", "8x8").piece(t, "ladle", "AG925", "8x8").piece(t, "bowl", "C11000", "1.2 sheet")
	named := func() (names []string) {
		for _, p := range s.nearest() {
			names = append(names, p.name)
		}
		return names
	}
	s.arrow(End)
	require.Equal(t, schedule.VerdictFinished, s.Scene().Piece.Advice.Verdict)
	require.Len(t, named(), 3, "it is still on the screen")
	s.keys(" ")
	require.True(t, s.toast.bad)
	require.Contains(t, s.toast.text, "the piece is finished")
	s.keys("n")
	require.NotEqual(t, "bowl", s.current().name)
	require.ElementsMatch(t, []string{"spoon", "ladle"}, named())
	s.keys("n")
	require.NotEqual(t, "bowl", s.current().name, "nobody comes back to it")

	s.open(t)
	require.NotEqual(t, "bowl", s.current().name, "a new evening begins with what is not done")
}
