package term

import (
	"errors"
	"runtime"
	"testing"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
)

// count is a simulated screen that counts what reaches it.
type count struct {
	tcell.SimulationScreen
	puts, shows, syncs, inits, finis, cursors int
	initErr, resumeErr                        error
}

func (c *count) Resume() error {
	if c.resumeErr != nil {
		return c.resumeErr
	}
	return c.SimulationScreen.Resume()
}

func (c *count) Init() error {
	c.inits++
	if c.initErr != nil {
		return c.initErr
	}
	return c.SimulationScreen.Init()
}

func (c *count) Put(x, y int, text string, style tcell.Style) (string, int) {
	c.puts++
	return c.SimulationScreen.Put(x, y, text, style)
}
func (c *count) Show()               { c.shows++; c.SimulationScreen.Show() }
func (c *count) Sync()               { c.syncs++; c.SimulationScreen.Sync() }
func (c *count) Fini()               { c.finis++; c.SimulationScreen.Fini() }
func (c *count) ShowCursor(x, y int) { c.cursors++; c.SimulationScreen.ShowCursor(x, y) }

// simulated is a shadow over a counting screen of 10 by 2, drawn once.
func simulated(t *testing.T) (*Shadow, *count) {
	t.Helper()
	under := &count{SimulationScreen: tcell.NewSimulationScreen("")}
	s := Wrap(under)
	require.NoError(t, s.Init())
	t.Cleanup(s.Fini)
	under.SimulationScreen.SetSize(10, 2)
	s.Clear()
	s.Show()
	under.puts, under.shows, under.syncs, under.cursors = 0, 0, 0, 0
	return s, under
}

func TestShadowForwardsWhatDiffers(t *testing.T) {
	red := tcell.StyleDefault.Foreground(tcell.ColorRed)
	cases := []struct {
		name   string
		draw   func(s *Shadow)
		puts   int
		shows  int
		reason string
	}{
		{"nothing", func(*Shadow) {}, 0, 0, "nothing is sent for nothing"},
		{"one digit", func(s *Shadow) { s.SetContent(3, 1, '7', nil, tcell.StyleDefault) }, 1, 1, "one cell differs"},
		{"clear and the same again", func(s *Shadow) { s.PutStr(0, 0, "x"); s.Clear() }, 0, 0, "only the end counts"},
		{"a colour alone", func(s *Shadow) { s.SetContent(0, 0, ' ', nil, red) }, 1, 1, "the style is part of a cell"},
		{"a mark alone", func(s *Shadow) { s.SetContent(0, 0, 'e', []rune{'\u0301'}, tcell.StyleDefault) }, 1, 1, "so is a mark"},
		{"outside", func(s *Shadow) { s.PutStr(0, 2, "x"); s.PutStr(-1, 0, "x") }, 0, 0, "there is no cell"},
		{"past the edge", func(s *Shadow) { s.PutStr(8, 0, "abcdef") }, 2, 1, "the rest is cut"},
		{"a cell without a character", func(s *Shadow) { s.Put(1, 1, "x", red); s.SetCell(1, 1, tcell.StyleDefault) }, 0, 0, "it is a blank"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			s, under := simulated(t)
			c.draw(s)
			s.Show()
			require.Equal(t, c.puts, under.puts, c.reason)
			require.Equal(t, c.shows, under.shows, c.reason)
			s.Show()
			require.Equal(t, c.puts, under.puts, "a second Show has nothing to send")
		})
	}
}

func TestShadowCursorForwardsChanges(t *testing.T) {
	s, under := simulated(t)
	for range 3 {
		s.ShowCursor(2, 1)
		s.Show()
	}
	require.Equal(t, 1, under.cursors)
	x, y, visible := under.GetCursor()
	require.Equal(t, []any{2, 1, true}, []any{x, y, visible})
	s.HideCursor()
	s.Show()
	_, _, visible = under.GetCursor()
	require.False(t, visible)
}

func TestShadowInitOnceFiniOnce(t *testing.T) {
	under := &count{SimulationScreen: tcell.NewSimulationScreen(""), initErr: tcell.ErrNoCharset}
	s := Wrap(under)
	require.ErrorIs(t, s.Init(), tcell.ErrNoCharset)
	under.initErr = nil
	require.NoError(t, s.Init(), "an Init that failed may be tried again")
	require.NoError(t, s.Init())
	require.Equal(t, 2, under.inits)
	s.Fini()
	s.Fini()
	require.Equal(t, 1, under.finis)
	require.Nil(t, s.PollEvent())
	s.Show()
	s.Sync()
	require.Zero(t, under.shows+under.syncs, "an ended screen draws nothing")
	require.ErrorIs(t, s.PostEvent(tcell.NewEventInterrupt(nil)), tcell.ErrEventQFull)
}

func TestShadowFiniBeforeInit(t *testing.T) {
	under := &count{SimulationScreen: tcell.NewSimulationScreen("")}
	Wrap(under).Fini()
	require.Zero(t, under.finis, "tcell panics there")
}

func TestShadowSuspendResume(t *testing.T) {
	s, under := simulated(t)
	require.NoError(t, s.Suspend())
	s.PutStr(0, 0, "x")
	s.Show()
	s.Sync()
	require.Zero(t, under.puts+under.shows+under.syncs, "the terminal belongs to the shell")
	require.NoError(t, s.Resume())
	require.Equal(t, 20, under.puts, "every cell is forwarded again")
	require.Equal(t, 1, under.syncs, "the Sync asked for meanwhile is made up for")
	text, _, _ := under.Get(0, 0)
	require.Equal(t, "x", text)
}

// Nobody reads a terminal that could not be taken again: the loop is told.
func TestShadowResumeFails(t *testing.T) {
	lost := errors.New("no such device or address")
	s, under := simulated(t)
	under.resumeErr = lost
	for s.queue.len() < mostEvents {
		require.NoError(t, s.PostEvent(tcell.NewEventInterrupt(nil)))
	}
	require.ErrorIs(t, Refresh(s), lost)
	for range mostEvents {
		require.IsType(t, &tcell.EventInterrupt{}, s.PollEvent())
	}
	told, ok := s.PollEvent().(*tcell.EventError)
	require.True(t, ok, "it comes although the queue is full")
	require.ErrorContains(t, told, lost.Error())
	s.Fini()
	require.Equal(t, 1, under.finis)
	s.queue.urge(tcell.NewEventInterrupt(nil))
	require.Nil(t, s.PollEvent())
}

func TestShadowSyncForwardsAll(t *testing.T) {
	s, under := simulated(t)
	s.Sync()
	require.Equal(t, []int{20, 0, 1}, []int{under.puts, under.shows, under.syncs})
	s.SetStyle(tcell.StyleDefault.Reverse(true))
	s.Show()
	require.Equal(t, 2, under.syncs, "another default style is seen on every cell")
}

func TestShadowResizes(t *testing.T) {
	s, under := simulated(t)
	s.PutStr(0, 0, "abc")
	s.Show()
	under.SimulationScreen.SetSize(6, 3)
	under.puts = 0
	s.Resize(0, 0, 0, 0)
	require.Equal(t, 18, under.puts)
	width, height := s.Size()
	require.Equal(t, []int{6, 3}, []int{width, height})
	text, _, _ := under.Get(2, 0)
	require.Equal(t, "c", text)
	require.NoError(t, under.PostEvent(tcell.NewEventResize(6, 3)))
	require.IsType(t, &tcell.EventResize{}, s.PollEvent())
	s.Show()
	require.Equal(t, 36, under.puts, "a size that went and came back lost cells")
}

// tcell's screen holds up to 256 events and this one 1024: with more in
// flight, Suspend and Fini still return, as the events go on being taken.
func TestShadowEndsUnderAFlood(t *testing.T) {
	defer goleak.VerifyNone(t)
	tty := &script{size: tcell.WindowSize{Width: 20, Height: 2}, wait: make(chan struct{})}
	for range 100 {
		tty.reads = append(tty.reads, "nobody reads what is typed here")
	}
	t.Setenv("TERM", "xterm-256color")
	t.Setenv("LC_ALL", "C.UTF-8")
	screen, err := tcell.NewTerminfoScreenFromTty(NewTty(tty))
	require.NoError(t, err)
	s := Wrap(screen)
	require.NoError(t, s.Init())
	for s.queue.len() < mostEvents {
		runtime.Gosched()
	}
	s.Fini()
	require.Nil(t, s.PollEvent())
}

func TestShadowChannelEvents(t *testing.T) {
	defer goleak.VerifyNone(t)
	under := tcell.NewSimulationScreen("")
	s := Wrap(under)
	require.NoError(t, s.Init())
	ch := make(chan tcell.Event)
	go s.ChannelEvents(ch, make(chan struct{}))
	under.InjectKey(tcell.KeyRune, 'q', tcell.ModNone)
	require.Equal(t, 'q', (<-ch).(*tcell.EventKey).Rune())
	s.PostEventWait(tcell.NewEventInterrupt(nil))
	require.IsType(t, &tcell.EventInterrupt{}, <-ch)
	require.False(t, s.HasPendingEvent())
	s.Fini()
	_, open := <-ch
	require.False(t, open)
}
