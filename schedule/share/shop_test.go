package share_test

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/share"
)

// post is a bench with its carrier.
type post struct {
	t      *testing.T
	bench  string
	name   string // what the others are to call it
	local  *drawer
	wire   *wire
	ledger string
	clock  atomic.Int64 // nanoseconds by which its wall clock is off
	logged int
	beacon *flag
	told   []share.News

	backup *drawer
	stop   func()
}

// flag is a beacon that remembers.
type flag struct{ atomic.Pointer[share.Standing] }

func (f *flag) Shared(at time.Time) { f.Store(&share.Standing{Shared: at}) }

func (f *flag) Alone(since time.Time, why string) {
	f.Store(&share.Standing{AloneSince: since, Why: why})
}

// left is what it says.
func (f *flag) left() share.Standing {
	if s := f.Load(); s != nil {
		return *s
	}
	return share.Standing{}
}

// start has the carrier run until stop.
func (p *post) start() {
	ledger, err := share.OpenLedger(p.ledger, "memory")
	require.NoError(p.t, err)
	c := p.carrier(ledger)
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- c.Run(ctx) }()
	p.stop = func() {
		cancel()
		require.NoError(p.t, <-ended)
		require.NoError(p.t, ledger.Close())
		p.stop = nil
	}
}

func (p *post) carrier(ledger *share.Ledger) *share.Carrier {
	return &share.Carrier{Local: p.local, Dial: p.wire.dial, Ledger: ledger, Name: p.name, Beacon: p.beacon, Now: p.now,
		Jitter: func() float64 { return 0.999 }, Tell: func(n share.News) { p.told = append(p.told, n) }}
}

func (p *post) now() time.Time { return time.Now().Add(time.Duration(p.clock.Load())) }

// shop is benches that share one record.
type shop struct {
	t      *testing.T
	memory *share.Memory
	posts  []*post
	pieces []string // that all of them work on
}

// pause lets a time pass, and then all that goes on in the shop come to rest.
func pause(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

// named is an id that follows from a name.
func named(name string) string { return uuid.NewSHA1(uuid.UUID{}, []byte(name)).String() }

func newShop(t *testing.T, benches int) *shop {
	s := &shop{t: t, memory: share.NewMemory(named("shared")), pieces: []string{named("piece 1"), named("piece 2"), named("piece 3")}}
	dir := t.TempDir()
	for i := range benches {
		bench := named(fmt.Sprint("bench ", i))
		p := &post{t: t, bench: bench, local: newDrawer(), ledger: filepath.Join(dir, fmt.Sprint(i, ".db")), beacon: &flag{}}
		p.wire = newWire(func(bench string) share.Store { return s.memory.As(bench) })
		s.posts = append(s.posts, p)
	}
	return s
}

// open starts every carrier that does not run.
func (s *shop) open() {
	for _, p := range s.posts {
		if p.stop == nil {
			p.start()
		}
	}
}

func (s *shop) close() {
	for _, p := range s.posts {
		if p.stop != nil {
			p.stop()
		}
	}
}

// log writes some entries at a bench, by the clock that it has.
func (s *shop) log(i, n int) {
	p := s.posts[i]
	for range n {
		p.local.log(p.labels(), p.row(s.pieces[p.logged%len(s.pieces)]))
	}
}

// labels are the names that a bench has for itself and its hand: the usual ones, which
// all of them have.
func (p *post) labels() []share.Label {
	return []share.Label{{ID: p.bench, Class: "bench", Text: share.OwnBench}, {ID: p.hand(), Class: "hand", Text: "hand of " + p.bench}}
}

func (p *post) hand() string { return named("hand of " + p.bench) }

// row is the next entry of a bench, with an id that carries the time by its clock.
func (p *post) row(piece string) schedule.Row {
	p.logged++
	at := p.now()
	id := uuid.NewSHA1(uuid.UUID{}, fmt.Append(nil, p.bench, p.logged))
	ms := at.UnixMilli()
	for i := range 6 {
		id[i] = byte(ms >> (8 * (5 - i)))
	}
	id[6] = 0x70 | id[6]&0x0f
	return noteOf(id.String(), p.bench, p.hand(), piece, at, fmt.Sprint("entry ", p.logged))
}

func noteOf(id, bench, hand, piece string, at time.Time, text string) schedule.Row {
	row, err := schedule.Encode(schedule.Entry{ID: schedule.ID(id), At: schedule.Moment(at), Written: schedule.Moment(at), Bench: schedule.ID(bench),
		Hand: schedule.ID(hand), Piece: schedule.ID(piece), Version: 1, Body: schedule.Note{Text: text}})
	if err != nil {
		panic(err)
	}
	return row
}

// stored are all rows of the shared record, in the order of their ids.
func (s *shop) stored() []schedule.Row {
	p, err := s.memory.As("").After(context.Background(), 0, 1_000_000)
	require.NoError(s.t, err)
	slices.SortFunc(p.Rows, byID)
	return p.Rows
}

// putBack makes the shared record what it was when it held some rows and labels, as a
// backup does. Every connection breaks by it.
func (s *shop) putBack(kept int) {
	old, err := s.memory.As("").After(context.Background(), 0, kept)
	require.NoError(s.t, err)
	fresh := share.NewMemory(named("shared"))
	for _, r := range old.Rows {
		_, err := fresh.As(r.Bench).Send(context.Background(), share.Batch{Rows: []schedule.Row{r}})
		require.NoError(s.t, err)
	}
	s.memory = fresh
	for _, p := range s.posts {
		p.wire.set(p.wire.state, true)
	}
}

// whole has all links up and all carriers running.
func (s *shop) whole(breaks bool) {
	for _, p := range s.posts {
		p.wire.be(func(w *wire) { w.slow, w.lose = 0, 0 })
		p.wire.set("", breaks)
	}
	s.open()
}

// equal says how the records differ from the shared one; nil if they do not.
func (s *shop) equal(must map[string]schedule.Row) error {
	there := s.stored()
	sums, err := s.memory.As("").Sums(context.Background())
	if err != nil {
		return err
	}
	for id, r := range must {
		if i, found := slices.BinarySearchFunc(there, r, byID); !found || there[i] != r {
			return fmt.Errorf("the entry %s is not in the shared record", id)
		}
	}
	for i, p := range s.posts {
		here := p.local.all()
		for piece, sum := range share.SumsOf(here) {
			if sums[piece] != sum {
				return fmt.Errorf("bench %d has %v of %s, shared are %v", i, sum, piece, sums[piece])
			}
		}
		if len(here) != len(there) {
			return fmt.Errorf("bench %d has %d entries, shared are %d", i, len(here), len(there))
		}
		if !slices.EqualFunc(here, there, func(a, b schedule.Row) bool { return a == b || share.SameAlert(a, b) }) {
			return fmt.Errorf("bench %d has other entries", i)
		}
	}
	return nil
}
