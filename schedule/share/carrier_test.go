package share_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"slices"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/share"
)

// inShop plays something in a shop, in time that costs nothing.
func inShop(t *testing.T, benches int, play func(*testing.T, *shop)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		s := newShop(t, benches)
		defer s.close()
		play(t, s)
	})
}

// Two benches that were alone share within a moment of being connected.
func TestCarriersShare(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		s.log(0, 5)
		s.log(1, 700)
		s.open()
		pause(time.Second)
		require.NoError(t, s.equal(nil))
		require.Len(t, s.stored(), 705)
		s.log(0, 1)
		pause(10 * time.Millisecond)
		require.NoError(t, s.equal(nil), "an entry is carried when it is written, not with a beat")
		require.Len(t, s.stored(), 706)
		require.LessOrEqual(t, s.posts[0].local.most, 200, "what is written to a record at once is bounded")
	})
}

// What is put back to an earlier state gets what it lost back, when others still have it.
func TestRestores(t *testing.T) {
	cases := []struct {
		name    string
		restore func(*shop)
		reason  string
	}{
		{"an empty server", func(s *shop) { s.putBack(0) }, "every bench sends what it wrote"},
		{"a server of yesterday", func(s *shop) { s.putBack(30) }, "its cursor is less than those of the benches"},
		{"a server of yesterday that grew past the cursors", func(s *shop) {
			s.posts[0].wire.set("down", true)
			s.putBack(30)
			s.log(1, 300)
			pause(time.Minute)
		}, "no cursor shows that, only the sums"},
		{"another server", func(s *shop) {
			s.memory = share.NewMemory(named("another"))
			for _, p := range s.posts {
				p.wire.set("", true)
			}
		}, "it is another shared record under the same address"},
		{"an empty bench", func(s *shop) { s.posts[0].replace(newDrawer()) }, "what it had shared comes back"},
		{"a bench of yesterday", func(s *shop) {
			s.posts[0].replace(s.posts[0].backup)
			s.log(0, 7)
		}, "its ledger knows entries that are gone, and it wrote others"},
		{"a ledger that is lost", func(s *shop) {
			s.posts[0].stop()
			s.posts[0].ledger += ".new"
		}, "it is made anew from the record"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			inShop(t, 2, func(t *testing.T, s *shop) {
				s.log(0, 40)
				s.log(1, 40)
				s.posts[0].backup = s.posts[0].local.copied()
				s.open()
				pause(time.Minute)
				s.log(0, 25)
				pause(time.Minute)
				require.NoError(t, s.equal(nil))
				must := map[string]schedule.Row{}
				for _, r := range s.stored() {
					must[r.ID] = r
				}
				c.restore(s)
				s.whole(false)
				pause(5 * time.Second)
				require.NoError(t, s.equal(must), c.reason)
				for _, p := range s.posts {
					require.NotEmpty(t, s.there(p.hand()), "names are sent again too")
				}
			})
		})
	}
}

// replace puts another record in the place of one, as restoring a backup does.
func (p *post) replace(by *drawer) {
	p.stop()
	p.local = by
}

// Entries of another bench wait for it, and cost no question once that is known.
func TestMergedEntriesWait(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		s.log(0, 3)
		stranger := noteOf(named("a stranger's"), named("stranger"), named("hand"), s.pieces[0], time.Now(), "merged")
		s.posts[0].local.log(nil, stranger)
		s.open()
		pause(time.Minute)
		require.Len(t, s.stored(), 3, "it is not ours to send")
		w := s.posts[0].wire
		before := w.count("sums")
		pause(time.Hour)
		require.Equal(t, before, w.count("sums"), "what differs is settled")
		s.log(1, 4)
		pause(time.Hour)
		require.Equal(t, before, w.count("sums"), "and stays so when both get more")

		found := s.compare(0)
		require.Len(t, found.Differ, 1)
		require.Equal(t, share.Difference{Piece: s.pieces[0], Here: found.Differ[0].Here, There: found.Differ[0].There, Waiting: 1}, found.Differ[0])
		require.Equal(t, found.Here.Count, found.There.Count+1)
	})
}

// compare stops the carrier of a bench and compares.
func (s *shop) compare(i int) share.Comparison {
	p := s.posts[i]
	if p.stop != nil {
		p.stop()
	}
	ledger, err := share.OpenLedger(p.ledger, "memory")
	require.NoError(s.t, err)
	found, err := p.carrier(ledger).Compare(context.Background(), true)
	require.NoError(s.t, err)
	require.NoError(s.t, ledger.Close())
	return found
}

// compare tells apart why entries differ.
func TestCompareSaysWhy(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		s.log(0, 9)
		s.log(1, 9)
		s.open()
		pause(time.Minute)
		require.Empty(t, s.compare(0).Differ)
		s.log(1, 3) // still with a carrier
		pause(time.Second)
		s.log(0, 2)
		changed := s.posts[0].local
		for id, r := range changed.rows {
			if r.Bench == s.posts[1].bench && r.Piece == s.pieces[0] {
				r.Body = `{"text":"by hand"}`
				changed.rows[id] = r
				break
			}
		}
		s.posts[0].ledger += ".new"
		sum := share.Difference{}
		for _, d := range s.compare(0).Differ {
			sum.ToSend, sum.ToCollect, sum.Other = sum.ToSend+d.ToSend, sum.ToCollect+d.ToCollect, sum.Other+d.Other
		}
		require.Equal(t, share.Difference{ToSend: 2, ToCollect: 3, Other: 1}, sum)
	})
}

// A name that is taken gets a number where it comes to, and nobody's own name changes.
func TestNames(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		for i, p := range s.posts {
			piece := named(fmt.Sprint("spoon of ", i))
			p.local.log(append(p.labels(), share.Label{ID: piece, Class: "piece", Text: "spoon"}), p.row(piece))
		}
		s.open()
		pause(10 * time.Second)
		for i, p := range s.posts {
			require.Equal(t, "spoon", p.called(named(fmt.Sprint("spoon of ", i))))
			require.Equal(t, "spoon 2", p.called(named(fmt.Sprint("spoon of ", 1-i))))
			require.Equal(t, share.OwnBench, p.called(p.bench), "a record never takes another bench for its own")
			require.NotEqual(t, share.OwnBench, p.called(s.posts[1-i].bench))
		}
		// Another name is sent; where the piece has a name already it stays.
		p := s.posts[0]
		p.local.log([]share.Label{{ID: named("spoon of 0"), Class: "piece", Text: "ladle"}})
		pause(10 * time.Second)
		require.Equal(t, "ladle", s.there(named("spoon of 0")))
		require.Equal(t, "spoon 2", s.posts[1].called(named("spoon of 0")))
		// What is forgotten stays so, though the shared record is read again.
		s.posts[1].local.forget(p.hand())
		s.putBack(0)
		pause(10 * time.Second)
		require.NoError(t, s.equal(nil))
		require.NotEmpty(t, s.there(p.hand()))
		require.Empty(t, s.posts[1].called(p.hand()))
	})
}

// A name that was forgotten in the record is not to be found in what the carrier keeps
// beside it, while it works and later, nor does it come back there.
func TestLedgerForgetsNames(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		s.log(0, 3)
		s.log(1, 3)
		s.open()
		pause(10 * time.Second)
		hand := s.posts[0].hand()
		name := []byte("hand of " + s.posts[0].bench)
		kept := func(p *post) (all []byte) {
			for _, end := range []string{"", "-wal"} {
				text, err := os.ReadFile(p.ledger + end)
				if !os.IsNotExist(err) {
					require.NoError(t, err)
				}
				all = append(all, text...)
			}
			return all
		}
		for i, p := range s.posts {
			require.True(t, bytes.Contains(kept(p), name), "else nothing is looked for")
			p.local.forget(hand)
			p.local.log(nil, p.row(s.pieces[0]))
			pause(10 * time.Second)
			require.False(t, bytes.Contains(kept(p), name), "bench %d", i)
		}
		s.putBack(4)
		pause(10 * time.Second)
		require.NoError(t, s.equal(nil))
		for i, p := range s.posts {
			require.False(t, bytes.Contains(kept(p), name), "bench %d", i)
		}
	})
}

// A record without a first entry keeps the name of its bench free.
func TestOwnNameIsKeptFree(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		s.log(0, 1)
		s.open()
		pause(time.Minute)
		require.Equal(t, "bench 2", s.posts[1].called(s.posts[0].bench))
		s.log(1, 1)
		pause(5 * time.Second)
		require.NoError(t, s.equal(nil))
		require.Len(t, s.stored(), 2, "the first entry of a bench is sent too")
	})
}

// A bench with a name for the others is called so by them, and not by itself. One that
// gets its name later is called so in the shared record from then on.
func TestNameForTheOthers(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		hearth := s.posts[0]
		hearth.name = "hearth"
		s.log(0, 1)
		s.log(1, 1)
		s.open()
		pause(10 * time.Second)
		require.Equal(t, "hearth", s.posts[1].called(hearth.bench))
		require.Equal(t, share.OwnBench, hearth.called(hearth.bench))
		require.Equal(t, []share.Renaming{{Class: "bench", Here: "bench 2", There: share.OwnBench}}, s.compare(0).Names, "its own name is no difference")

		s.posts[1].stop()
		s.posts[1].name = "window"
		s.open()
		pause(10 * time.Second)
		require.Equal(t, "window", s.there(s.posts[1].bench))
	})
}

// A server that is known to be there gets more time to let a bench in.
func TestPatienceForASlowServer(t *testing.T) {
	inShop(t, 1, func(t *testing.T, s *shop) {
		s.log(0, 3)
		p := s.posts[0]
		ledger, err := share.OpenLedger(p.ledger, "memory")
		require.NoError(t, err)
		c := p.carrier(ledger)
		var given []time.Duration
		c.Dial = func(ctx context.Context, bench string) (share.Store, error) {
			until, _ := ctx.Deadline()
			given = append(given, time.Until(until))
			if time.Until(until) < 8*time.Second {
				<-ctx.Done()
				return nil, share.ErrSlow
			}
			return p.wire.dial(ctx, bench)
		}
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		defer cancel()
		require.NoError(t, c.Run(ctx))
		require.NoError(t, ledger.Close())
		require.Equal(t, []time.Duration{3 * time.Second, 6 * time.Second, 10 * time.Second}, given)
		require.Len(t, s.stored(), 3)
	})
}

// called is the name of an id at a bench, "" for none.
func (p *post) called(id string) string {
	labels, _ := p.local.Labels()
	i := slices.IndexFunc(labels, func(l share.Label) bool { return l.ID == id })
	if i < 0 {
		return ""
	}
	return labels[i].Text
}

// there is the name of an id in the shared record.
func (s *shop) there(id string) string {
	p, err := s.memory.As("").After(context.Background(), 0, 1_000_000)
	require.NoError(s.t, err)
	for _, l := range p.Labels {
		if l.ID == id {
			return l.Text
		}
	}
	return ""
}

// A bench that is not let in as itself still gets what others wrote, and says why its own
// entries stay.
func TestBarred(t *testing.T) {
	for _, bar := range []error{share.ErrRights, share.ErrForged} {
		inShop(t, 2, func(t *testing.T, s *shop) {
			p := s.posts[0]
			p.wire.be(func(w *wire) { w.bar = bar })
			s.log(0, 3)
			s.log(1, 4)
			s.open()
			pause(time.Hour)
			require.Len(t, p.local.all(), 7)
			require.Len(t, s.stored(), 4)
			require.Equal(t, bar.Error(), p.beacon.left().Why)
			require.LessOrEqual(t, p.wire.count("dial"), 2*3600/30+4, "it is tried again, but not at once")
			held := slices.IndexFunc(p.told, func(n share.News) bool { return n.Held })
			require.GreaterOrEqual(t, held, 0)
			require.Less(t, len(p.told), 5, "it is said once")
			p.wire.be(func(w *wire) { w.bar = nil })
			pause(time.Minute)
			require.NoError(t, s.equal(nil))
			require.False(t, p.beacon.left().Shared.IsZero())
		})
	}
}

// A row that no shared record keeps stays, and keeps no other.
func TestRowThatIsNotTaken(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		p := s.posts[0]
		s.log(0, 3)
		row := p.row(s.pieces[0])
		row.Zones = "a\x00b"
		p.local.log(p.labels(), row)
		s.log(0, 3)
		s.log(1, 1)
		s.open()
		pause(time.Minute)
		require.Len(t, s.stored(), 7)
		require.Len(t, p.local.all(), 8)
		d := s.compare(0).Differ
		require.Len(t, d, 1)
		require.Equal(t, 1, d[0].Staying)
	})
}

// A store that takes a while for each answer is asked for less, and gets all of it.
func TestSlowStore(t *testing.T) {
	inShop(t, 2, func(t *testing.T, s *shop) {
		s.log(1, 300)
		for _, p := range s.posts {
			p.wire.be(func(w *wire) { w.slow = 2900 * time.Millisecond })
		}
		s.open()
		pause(10 * time.Minute)
		require.NoError(t, s.equal(nil))
		require.Len(t, s.stored(), 300)
	})
}

// forget takes a label away.
func (d *drawer) forget(id string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.labels = slices.DeleteFunc(d.labels, func(l share.Label) bool { return l.ID == id })
}
