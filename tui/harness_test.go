package tui

import (
	"bytes"
	"errors"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"dullred/alloys"
	"dullred/schedule"
	"dullred/schedule/record"
	"dullred/tui/term"
	"dullred/tui/view"
)

// TestMain fails when a test leaves a goroutine behind. The loop that hands out
// signals lives as long as the process, so it must not begin in a bubble of fake
// time, which would wait for it.
func TestMain(m *testing.M) {
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, syscall.SIGTERM)
	signal.Stop(caught)
	goleak.VerifyTestMain(m)
}

// glass is a simulated screen that counts how often it is ended.
type glass struct {
	tcell.SimulationScreen
	finis atomic.Int64
}

func (g *glass) Fini() {
	g.finis.Add(1)
	g.SimulationScreen.Fini()
}

// canvas is what the program draws on: the shadow over the glass. It counts the
// drawings, and whether they changed anything or not.
type canvas struct {
	*term.Shadow
	draws atomic.Int64
	shown chan struct{} // closed with the first drawing
	seen  atomic.Int64  // looks of the test
}

// PollEvent is where everything that the program does begins. In a bubble it runs
// only while the test sleeps, but a sleep does not say so to the race detector:
// the counter does.
func (c *canvas) PollEvent() tcell.Event {
	event := c.Shadow.PollEvent()
	c.seen.Load()
	return event
}

func (c *canvas) Show() {
	c.Shadow.Show()
	if c.draws.Add(1) == 1 {
		close(c.shown)
	}
}

// newGlass is a canvas of 120 by 40 over a glass.
func newGlass(t testing.TB) (*canvas, *glass) {
	t.Helper()
	under := &glass{SimulationScreen: tcell.NewSimulationScreen("UTF-8")}
	over := &canvas{Shadow: term.Wrap(under), shown: make(chan struct{})}
	require.NoError(t, over.Init())
	under.SetSize(120, 40)
	return over, under
}

// evening is a bench that runs in a bubble of fake time, as RunOn runs it.
type evening struct {
	t      *testing.T
	desk   Desk
	begun  time.Time
	offset atomic.Int64 // of the wall clock, which somebody set
	bench  *Bench       // looked at only while the program is at rest
	canvas *canvas
	glass  *glass
	ended  chan error

	sharing Lookout // of the next start
}

// eveningStart is when every evening begins.
var eveningStart = time.Date(2026, time.March, 3, 19, 0, 0, 0, time.UTC)

// inEvening plays an evening on a desk and lets the program end.
func inEvening(t *testing.T, open func(*testing.T) Desk, play func(*evening)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		time.Sleep(time.Until(eveningStart))
		e := &evening{t: t, desk: open(t), begun: time.Now()}
		e.start()
		play(e)
		if e.runs() {
			e.quit()
			require.NoError(t, e.result())
		}
		require.Equal(t, int64(1), e.glass.finis.Load(), "the screen is given back once")
	})
}

// memoryDesk is an empty desk in memory.
func memoryDesk(*testing.T) Desk {
	return &Memory{Bench: schedule.NewID(), Hand: schedule.NewID(), HandName: "ab"}
}

// start opens a bench on the desk and runs it on a new screen.
func (e *evening) start() {
	e.t.Helper()
	b, err := NewBench(Config{Desk: e.desk, Location: time.UTC, Clock: Clock{Wall: e.wall, Boot: e.boot}, Sharing: e.sharing})
	require.NoError(e.t, err)
	e.bench, e.ended = b, make(chan error, 1)
	e.canvas, e.glass = newGlass(e.t)
	ended, screen := e.ended, e.canvas
	go func() { ended <- RunOn(b, screen, Channels{}) }()
	e.t.Cleanup(func() { // of a test that failed
		_ = screen.PostEvent(tcell.NewEventError(errStopped))
	})
	synctest.Wait()
}

// errStopped ends a program whose test failed.
var errStopped = errors.New("the test failed")

// restart quits and opens the bench anew.
func (e *evening) restart() {
	e.t.Helper()
	e.quit()
	require.NoError(e.t, e.result())
	require.Equal(e.t, int64(1), e.glass.finis.Load())
	e.start()
}

func (e *evening) wall() time.Time { return time.Now().Add(time.Duration(e.offset.Load())) }

func (e *evening) boot() (time.Duration, bool) { return time.Since(e.begun), true }

// setClock sets the wall clock forward, or back.
func (e *evening) setClock(by time.Duration) { e.offset.Add(int64(by)) }

// resize gives the screen another size.
func (e *evening) resize(width, height int) {
	e.t.Helper()
	e.glass.SetSize(width, height)
	require.NoError(e.t, e.glass.PostEvent(tcell.NewEventResize(width, height)))
	e.wait(time.Second)
}

// wait lets time pass. What the test looked at before, the program may change now.
func (e *evening) wait(d time.Duration) {
	e.canvas.seen.Add(1)
	time.Sleep(d)
	synctest.Wait()
}

// runs reports whether the program has not ended.
func (e *evening) runs() bool {
	synctest.Wait()
	return len(e.ended) == 0
}

// result is what RunOn returned. A program that does not end fails the test: the
// bubble finds nothing left that could wake it.
func (e *evening) result() error {
	err := <-e.ended
	e.ended <- err
	return err
}

// quit presses x until the program has ended: twice at most.
func (e *evening) quit() {
	e.t.Helper()
	for range 2 {
		if !e.runs() {
			return
		}
		e.wait(300 * time.Millisecond)
		e.key('x')
	}
	require.False(e.t, e.runs(), "x twice quits at every step")
}

// controls are the keys that type no character, as tests write them.
var controls = map[rune]tcell.Key{'\n': tcell.KeyEnter, '\x1b': tcell.KeyEscape, '\t': tcell.KeyTab, '\x03': tcell.KeyCtrlC}

// key presses one key at this instant.
func (e *evening) key(r rune) {
	if special, ok := controls[r]; ok {
		e.glass.InjectKey(special, 0, tcell.ModNone)
	} else {
		e.glass.InjectKey(tcell.KeyRune, r, tcell.ModNone)
	}
	synctest.Wait()
}

// keyGap is the time before each key of a row of keys: longer than a bounce.
const keyGap = 300 * time.Millisecond

// keys presses keys one after the other.
func (e *evening) keys(text string) {
	for _, r := range text {
		e.wait(keyGap)
		e.key(r)
	}
}

// text is what stands on the glass, one line for each row.
func (e *evening) text() string {
	cells, width, _ := e.glass.GetContents()
	var b strings.Builder
	for i, c := range cells {
		b.Write(c.Bytes)
		if (i+1)%width == 0 {
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// shows requires words on the glass.
func (e *evening) shows(words ...string) {
	e.t.Helper()
	for _, w := range words {
		require.Contains(e.t, e.text(), w)
	}
}

// figure requires a figure in block numerals on the glass, which stands in every
// row of them at one place with nothing before it.
func (e *evening) figure(want string) {
	e.t.Helper()
	require.True(e.t, figureOn(e.text(), want), "%s is not the figure on\n%s", want, e.text())
}

func figureOn(text, want string) bool {
	f := view.New(view.Width(want, view.Seven)+2, view.Seven.Rows())
	f.Big(0, 0, want, view.Plain, view.Seven)
	block := rows(f.String(), f.Size)
	screen := strings.Split(text, "\n")
	for y := 0; y+len(block) <= len(screen); y++ {
		if figureAt(screen[y:], block) {
			return true
		}
	}
	return false
}

// figureAt reports whether the rows of a screen begin with a block, with the same
// blank columns before all of it.
func figureAt(screen, block []string) bool {
	for margin := range 40 {
		all := true
		for i, row := range block {
			all = all && strings.HasPrefix(screen[i], strings.Repeat(" ", margin)+row)
		}
		if all {
			return true
		}
	}
	return false
}

// rows are the lines of a picture, each as wide as its frame.
func rows(picture string, size func() (int, int)) []string {
	width, height := size()
	lines := strings.Split(picture, "\n")[:height]
	for i, l := range lines {
		lines[i] = l + strings.Repeat(" ", width-len([]rune(l)))
	}
	return lines
}

// entries are all of a piece on the desk, taken-back ones and what is written
// along with others left out, in the order of their time.
func (e *evening) entries(name string) (live []schedule.Entry) {
	e.t.Helper()
	all := e.loaded(name)
	dead := schedule.Voided(all)
	for _, entry := range all {
		if k := entry.Kind(); !dead[entry.ID] && k != schedule.KindVoid && k != schedule.KindShown {
			live = append(live, entry)
		}
	}
	slices.SortStableFunc(live, func(x, y schedule.Entry) int { return x.At.Compare(y.At) })
	return live
}

// loaded are all the entries of a piece on the desk.
func (e *evening) loaded(name string) []schedule.Entry {
	e.t.Helper()
	contents, err := e.desk.Load()
	require.NoError(e.t, err)
	i := slices.IndexFunc(contents.Pieces, func(l Loaded) bool { return l.Name == name })
	require.GreaterOrEqual(e.t, i, 0, "%s is not on the desk", name)
	return contents.Pieces[i].Entries
}

// kinds are those of the live entries of a piece.
func (e *evening) kinds(name string) (kinds []schedule.Kind) {
	e.t.Helper()
	for _, entry := range e.entries(name) {
		kinds = append(kinds, entry.Kind())
	}
	return kinds
}

// last is the last live entry of a kind.
func (e *evening) last(name string, kind schedule.Kind) schedule.Entry {
	e.t.Helper()
	all := slices.DeleteFunc(e.entries(name), func(entry schedule.Entry) bool { return entry.Kind() != kind })
	require.NotEmpty(e.t, all, "no %q", kind)
	return all[len(all)-1]
}

// hearth are the kinds of the entries of the bench as a whole.
func (e *evening) hearth() (kinds []schedule.Kind) {
	e.t.Helper()
	contents, err := e.desk.Load()
	require.NoError(e.t, err)
	for _, entry := range contents.Bench {
		kinds = append(kinds, entry.Kind())
	}
	return kinds
}

// recordDesk is a desk on a real record in a folder of the test, closed within
// the bubble.
type recordDesk struct {
	rec         *record.Record
	bench, hand schedule.ID
	fresh       []record.Label // not yet in the record
}

var _ Desk = (*recordDesk)(nil)

func newRecordDesk(t *testing.T) Desk { return openRecordDesk(t) }

func openRecordDesk(t testing.TB) *recordDesk {
	t.Helper()
	rec, err := record.Open(filepath.Join(t.TempDir(), "record.db"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, rec.Close()) })
	d := &recordDesk{rec: rec, bench: schedule.NewID(), hand: schedule.NewID()}
	d.fresh = []record.Label{{ID: string(d.bench), Class: record.BenchClass, Text: "bench"},
		{ID: string(d.hand), Class: record.HandClass, Text: "ab"}}
	return d
}

func (d *recordDesk) Book() *alloys.Book             { return alloys.Default() }
func (d *recordDesk) Who() (bench, hand schedule.ID) { return d.bench, d.hand }
func (d *recordDesk) Demo() bool                     { return false }

func (d *recordDesk) Load() (c Contents, err error) {
	labels, err := d.rec.Labels(record.PieceClass)
	if err != nil {
		return c, err
	}
	for _, l := range labels {
		entries, err := d.read(schedule.ID(l.ID))
		if err != nil {
			return c, err
		}
		c.Pieces = append(c.Pieces, Loaded{ID: schedule.ID(l.ID), Name: l.Text, Entries: entries})
	}
	c.Bench, err = d.read(d.bench)
	c.Clocks = schedule.ClockSteps(c.Bench)
	c.Hands = map[schedule.ID]string{d.hand: "ab"}
	return c, err
}

func (d *recordDesk) read(id schedule.ID) ([]schedule.Entry, error) {
	rows, err := d.rec.Piece(string(id))
	own := make([]schedule.Row, len(rows))
	for i, r := range rows {
		own[i] = schedule.Row(r)
	}
	return schedule.DecodeAll(own), err
}

func (d *recordDesk) Start(name string, e schedule.Entry) error {
	return d.append([]record.Label{{ID: string(e.Piece), Class: record.PieceClass, Text: name}}, e)
}

func (d *recordDesk) Write(entries ...schedule.Entry) error { return d.append(nil, entries...) }

func (d *recordDesk) append(labels []record.Label, entries ...schedule.Entry) error {
	rows, err := encoded(entries)
	if err != nil {
		return err
	}
	labels = slices.Concat(d.fresh, labels)
	if len(labels) == 0 {
		return d.rec.Append(rows...)
	}
	if err := d.rec.AppendNamed(labels, rows...); err != nil {
		return err
	}
	d.fresh = nil
	return nil
}

// encoded are entries as rows of the record.
func encoded(entries []schedule.Entry) (rows []record.Row, err error) {
	for _, e := range entries {
		row, err := schedule.Encode(e)
		if err != nil {
			return nil, err
		}
		rows = append(rows, record.Row(row))
	}
	return rows, nil
}

func (d *recordDesk) Others(schedule.ID, *schedule.State) (*schedule.Observed, error) {
	return nil, nil
}

// desks are the two kinds of desk that evenings are played on.
var desks = []struct {
	name, reason string
	open         func(*testing.T) Desk
}{
	{"memory", "the demo and trying out are kept here", memoryDesk},
	{"record", "the work is kept here", newRecordDesk},
}

// meter is a terminal with nobody at it that counts what is sent to it.
type meter struct {
	bytes.Buffer // what was sent since Reset
	size         tcell.WindowSize
	stop         chan struct{}
}

func newMeter(width, height int) *meter {
	return &meter{size: tcell.WindowSize{Width: width, Height: height}, stop: make(chan struct{}, 1)}
}

func (m *meter) Read([]byte) (int, error) {
	<-m.stop
	return 0, nil
}

func (m *meter) Drain() error {
	m.stop <- struct{}{}
	return nil
}
func (m *meter) WindowSize() (tcell.WindowSize, error) { return m.size, nil }
func (m *meter) Start() error                          { return nil }
func (m *meter) Stop() error                           { return nil }
func (m *meter) Close() error                          { return nil }
func (m *meter) NotifyResize(func())                   {}

// terminal is a true-colour screen of xterm on a meter, initialised.
func terminal(t testing.TB, width, height int) (tcell.Screen, *meter) {
	t.Helper()
	t.Setenv("TERM", "xterm-256color")
	t.Setenv("COLORTERM", "truecolor")
	t.Setenv("NO_COLOR", "")
	t.Setenv("LC_ALL", "C.UTF-8")
	m := newMeter(width, height)
	screen, err := tcell.NewTerminfoScreenFromTty(m)
	require.NoError(t, err)
	return screen, m
}
