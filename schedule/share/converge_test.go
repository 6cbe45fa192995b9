package share_test

import (
	"fmt"
	"maps"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule"
	"dullred/schedule/share"
)

// moment is something that happens in a shop.
type moment struct {
	after time.Duration
	what  string
	bench int
	n     int
}

func (m moment) String() string {
	return fmt.Sprintf("%v %s bench %d (%d)", m.after, m.what, m.bench, m.n)
}

// What may happen to links and programs; and what besides may happen to the shared
// record, or to the records of benches.
var (
	happenings = []string{"log", "log", "log", "log many", "raise", "merge", "cut", "hang", "heal", "heal broken", "slow", "lose answers", "stop", "start", "cut while writing", "clock"}
	restores   = map[string][]string{"none": nil, "shared": {"put shared back", "empty shared"}, "bench": {"back up", "put bench back"}}
)

func anyMoment(kinds []string, benches int) *rapid.Generator[moment] {
	return rapid.Custom(func(t *rapid.T) moment {
		scale := rapid.SampledFrom([]time.Duration{0, time.Millisecond, 100 * time.Millisecond, time.Second, time.Minute}).Draw(t, "scale")
		return moment{
			after: time.Duration(rapid.IntRange(1, 9).Draw(t, "times")) * scale,
			what:  rapid.SampledFrom(kinds).Draw(t, "what"),
			bench: rapid.IntRange(0, benches-1).Draw(t, "bench"),
			n:     rapid.IntRange(1, 9).Draw(t, "n"),
		}
	})
}

// evening is a shop while things happen to it.
type evening struct {
	*shop
	backups map[int]*drawer
	must    map[string]schedule.Row // entries that some disk acknowledged and that were not put back
	merged  int
}

// Whatever happens, once all links are up every entry is everywhere within 5 s, once.
func TestSharingConverges(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		benches := rapid.IntRange(1, 4).Draw(rt, "benches")
		which := rapid.SampledFrom([]string{"none", "none", "shared", "bench"}).Draw(rt, "restores")
		kinds := append(append([]string{}, happenings...), restores[which]...)
		moments := rapid.SliceOfN(anyMoment(kinds, benches), 1, 25).Draw(rt, "moments")
		breaks := rapid.Bool().Draw(rt, "links break when they heal")
		var err error
		synctest.Test(t, func(t *testing.T) {
			e := &evening{shop: newShop(t, benches), backups: map[int]*drawer{}, must: map[string]schedule.Row{}}
			e.open()
			for _, m := range moments {
				pause(m.after)
				e.happen(m)
			}
			e.whole(breaks)
			pause(5 * time.Second)
			err = e.equal(e.must)
			e.close()
		})
		if err != nil {
			rt.Fatal(err)
		}
	})
}

func (e *evening) happen(m moment) {
	p := e.posts[m.bench]
	switch m.what {
	case "log":
		e.logged(m.bench, m.n)
	case "log many":
		e.logged(m.bench, 60*m.n)
	case "raise": // one cause on all benches, told by each in its own words
		row := noteOf(string(schedule.DerivedID(fmt.Sprint("cause ", m.n), schedule.KindRaised)), p.bench, p.hand(), e.pieces[0], p.now(), "")
		row.Kind, row.Body = string(schedule.KindRaised), fmt.Sprintf(`{"cause":"anneal now","what":"said by %s"}`, p.bench[:4])
		p.local.log(p.labels(), row)
	case "merge": // entries of this bench from another file, with ids in no order of time
		e.merged++
		row := noteOf(named(fmt.Sprint("merged ", e.merged)), p.bench, p.hand(), e.pieces[m.n%3], p.now(), "merged")
		p.local.log(p.labels(), row)
		e.must[row.ID] = row
	case "cut":
		p.wire.set("down", true)
	case "hang":
		p.wire.set("hung", false)
	case "heal":
		p.wire.set("", false)
	case "heal broken":
		p.wire.set("", true)
	case "slow":
		p.wire.be(func(w *wire) { w.slow = time.Duration(m.n*m.n) * 100 * time.Millisecond })
	case "lose answers":
		p.wire.be(func(w *wire) { w.lose = m.n })
	case "stop":
		if p.stop != nil {
			p.stop()
		}
	case "start":
		e.open()
	case "cut while writing":
		p.local.cutNext(fmt.Errorf("the power went"))
	case "clock":
		p.clock.Store(int64(time.Duration(m.n-5) * 400 * 24 * time.Hour))
	default:
		e.restore(m)
	}
}

// logged is log, with what must be everywhere in the end.
func (e *evening) logged(bench, n int) {
	before := e.posts[bench].local.all()
	e.log(bench, n)
	for _, r := range e.posts[bench].local.all() {
		e.must[r.ID] = r
	}
	for _, r := range before { // it was there, and may have come from elsewhere
		if r.Bench != e.posts[bench].bench {
			delete(e.must, r.ID)
		}
	}
	e.again()
}

// again puts back what other benches wrote of what must be there.
func (e *evening) again() {
	for _, p := range e.posts {
		for _, r := range p.local.all() {
			if r.Bench == p.bench && r.Kind != string(schedule.KindRaised) {
				e.must[r.ID] = r
			}
		}
	}
	maps.DeleteFunc(e.must, func(_ string, r schedule.Row) bool { return strings.HasPrefix(r.Kind, string(schedule.KindRaised)) })
}

// restore puts something back to an earlier state. What only the bench that is put back
// had is lost with it.
func (e *evening) restore(m moment) {
	p := e.posts[m.bench]
	switch m.what {
	case "put shared back":
		e.putBack(m.n * 10)
	case "empty shared":
		e.putBack(0)
	case "back up":
		e.backups[m.bench] = p.local.copied()
	case "put bench back":
		if e.backups[m.bench] == nil {
			return
		}
		if p.stop != nil {
			p.stop()
		}
		p.local = e.backups[m.bench].copied()
		there := map[string]bool{}
		for _, r := range append(e.stored(), p.local.all()...) {
			there[r.ID] = true
		}
		maps.DeleteFunc(e.must, func(id string, r schedule.Row) bool { return r.Bench == p.bench && !there[id] })
		p.start()
	}
}

// An hour without a word costs a bounded number of questions.
func TestIdleAsksLittle(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		s.log(0, 3)
		s.open()
		pause(time.Minute)
		w := s.posts[1].wire
		w.mu.Lock()
		clear(w.asked)
		w.mu.Unlock()
		pause(time.Hour)
		require.InDelta(t, 1200+12, w.count("after"), 30, "one small question each 3 s, to notice a link that is gone")
		require.LessOrEqual(t, w.count("total"), 7, "a look at the whole each ten minutes")
		require.Zero(t, w.count("sums")+w.count("piece")+w.count("send")+w.count("dial"))
		require.LessOrEqual(t, w.count("wait"), 1)
	})
}

// The same while the link is down, and while it hangs.
func TestAloneAsksLittle(t *testing.T) {
	for _, state := range []string{"down", "hung"} {
		inShop(t, 1, func(t *testing.T, s *shop) {
			s.posts[0].wire.set(state, true)
			s.open()
			pause(time.Hour)
			require.LessOrEqual(t, s.posts[0].wire.count("dial"), 3600, state)
			require.GreaterOrEqual(t, s.posts[0].wire.count("dial"), 3600/5, "it heals within 5 s")
			require.Len(t, s.posts[0].told, 1, "that it is alone is said once")
		})
	}
}

// A connection of which the other end is gone without a word is noticed within 10 s.
func TestHalfOpenIsNoticed(t *testing.T) {
	for _, after := range []time.Duration{0, time.Second, 2999 * time.Millisecond} {
		inShop(t, 1, func(t *testing.T, s *shop) {
			s.log(0, 1)
			s.open()
			pause(time.Minute + after)
			p := s.posts[0]
			begun := time.Now()
			p.wire.set("hung", false)
			for p.beacon.left().AloneSince.IsZero() {
				pause(10 * time.Millisecond)
				require.Less(t, time.Since(begun), 10*time.Second)
			}
			require.ErrorIs(t, p.told[len(p.told)-1].Why, share.ErrUnreachable)
			s.log(0, 1)
			p.wire.set("", true)
			pause(5 * time.Second)
			require.NoError(t, s.equal(nil))
			require.Len(t, s.stored(), 2)
			require.False(t, p.beacon.left().Shared.IsZero())
		})
	}
}
