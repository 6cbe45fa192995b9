package share

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"time"
)

// Carrier carries entries between the record of one bench and a shared one: those that
// the bench wrote go there, those of all other benches come here. It reads the record
// like any other program that has it open, so that the bench neither waits for it nor
// knows of it, and an entry is on the disk of the bench before it is carried.
//
// Nothing is decided by a clock. What the record holds is compared with the Ledger by
// ids and counts, what the store holds by cursor and sums; so either of them may be put
// back to an earlier state, emptied or replaced, and what is missing comes again.
// Entries that this record has of another bench, brought by a merge, wait for the
// carrier of that bench.
type Carrier struct {
	Local  Local
	Dial   Dial
	Ledger *Ledger
	Name   string           // what the others are to call the bench; "" for OwnBench
	Beacon Beacon           // what the bench screen reads; nil for none
	Tell   func(News)       // what is worth a sentence; nil for nobody
	Now    func() time.Time // the wall clock; nil for that of the machine
	Jitter func() float64   // from 0 to below 1, spreads benches that try again; nil for chance

	own     string          // id of the bench, "" before its first entry
	told    map[string]told // the labels of the ledger, by their ids
	at      reach           // that of the ledger
	owes    bool            // the ledger may have unsent entries
	named   bool            // the record may have names that were changed
	limit   int             // rows at once, less while the store is slow
	dials   time.Duration   // how long a connection may take to be made, more while that is slow
	looked  bool            // at the record, since the carrier began
	shrunk  bool            // the record was put back to an earlier state
	settled map[string]Sum  // by how much pieces differ after a repair
	met     bool            // nothing was left to be carried, once
	state   standing
}

// Dial connects to the shared record as the bench with an id; with "", to read only. It
// fails with ErrRights or ErrForged when it is not let in as that bench.
type Dial func(ctx context.Context, bench string) (Store, error)

// News is what happened to a carrier.
type News struct {
	At        time.Time
	Sent      int // entries that the store acknowledged
	Collected int // entries that came in
	Why       error
	Alone     bool // from now on; Why says for what reason
	Held      bool // entries come in, and none go out; Why says for what reason
	First     bool // nothing was left to be carried, for the first time
}

// Bounds of what is done at once. A batch that is written to the record keeps a bench
// that logs at that moment waiting for a few milliseconds; a longer one would be felt.
const (
	mostRows  = 200  // written to the record or sent
	mostSteps = 5000 // ids walked over
)

func (c *Carrier) now() time.Time {
	if c.Now == nil {
		return time.Now()
	}
	return c.Now()
}

func (c *Carrier) jitter() float64 {
	if c.Jitter == nil {
		return rand.Float64()
	}
	return c.Jitter()
}

// begin reads what the carrier goes by in memory, once.
func (c *Carrier) begin() (err error) {
	if c.told != nil {
		return nil
	}
	c.limit, c.settled = mostRows, map[string]Sum{}
	c.owes, c.named = true, true
	return c.recall()
}

// recall reads the ledger.
func (c *Carrier) recall() (err error) {
	if c.at, err = c.Ledger.reach(); err == nil {
		c.told, err = c.Ledger.labels()
	}
	return err
}

// remember takes down what is known of labels, in the ledger and here.
func (c *Carrier) remember(all map[string]told) error {
	for id, t := range all {
		if c.told[id] == t {
			delete(all, id)
		}
	}
	if err := c.Ledger.tell(all); err != nil {
		return err
	}
	maps.Copy(c.told, all)
	return nil
}

// session is a carrier with a connection.
type session struct {
	*Carrier
	store           Store
	as              string // id of the bench that the store knows it by, "" to read only
	barred          error  // why it is not known by the bench that it is
	sent, collected int    // since it was last told
	mute            bool   // nothing is sent
}

// How long an answer may take. With the time between two questions (idle) that is how
// soon a connection that is open at one end only is noticed: within 10 s. Who waits for a
// connection hears of a link that is back only with the next try, so it and the longest
// pause between two together stay below 5 s.
const (
	patience     = 5 * time.Second
	dialPatience = 3 * time.Second
	mostDialling = 10 * time.Second // while the server is known to be there
	sumsPatience = 30 * time.Second // the sums of all pieces are long
	idle         = 3 * time.Second
)

// ask has the store do something in time. When it is slow, it is asked for less from
// then on.
func (s *session) ask(ctx context.Context, limit time.Duration, do func(context.Context) error) error {
	within, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	err := do(within)
	switch {
	case err == nil:
		s.limit = min(mostRows, 2*s.limit)
	case ctx.Err() == nil && errors.Is(within.Err(), context.DeadlineExceeded):
		s.limit = max(1, s.limit/2)
		return fmt.Errorf("%w: there was no answer for %v", ErrUnreachable, limit)
	}
	return err
}

// errAnew ends a session that could do more over a new connection.
var errAnew = errors.New("connect anew")

// Once connects, carries what there is in the directions that are asked for, and ends.
func (c *Carrier) Once(ctx context.Context, send, collect bool) (News, error) {
	done, err := c.once(ctx, send, collect)
	if errors.Is(err, errAnew) { // the bench wrote its first entry just now
		done, err = c.once(ctx, send, collect)
	}
	return done, err
}

func (c *Carrier) once(ctx context.Context, send, collect bool) (News, error) {
	s, err := c.connect(ctx)
	if err != nil {
		return News{At: c.now()}, err
	}
	err = s.round(ctx, send, collect)
	if err == nil && send && collect {
		err = s.audit(ctx)
	}
	if send && err == nil {
		err = s.barred
	}
	return News{At: c.now(), Sent: s.sent, Collected: s.collected}, errors.Join(err, s.store.Close())
}

// connect connects as the bench, or where it is not let in as that, to read.
func (c *Carrier) connect(ctx context.Context) (*session, error) {
	if err := errors.Join(c.begin(), c.whose()); err != nil {
		return nil, err
	}
	s := &session{Carrier: c, as: c.own}
	err := s.dial(ctx)
	if c.own != "" && (errors.Is(err, ErrRights) || errors.Is(err, ErrForged)) {
		s.as, s.barred, s.mute = "", err, true
		if s.dial(ctx) == nil {
			return s, nil
		}
	}
	return s, err
}

// dial connects. Where the server was heard and not done, the next try may take longer.
func (s *session) dial(ctx context.Context) (err error) {
	limit := max(s.dials, dialPatience)
	within, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	s.store, err = s.Dial(within, s.as)
	switch {
	case errors.Is(err, ErrSlow):
		s.dials = min(2*limit, mostDialling)
		return err
	case err != nil && ctx.Err() == nil && within.Err() != nil:
		err = fmt.Errorf("%w: there was no answer for %v", ErrUnreachable, limit)
	}
	s.dials = 0
	return err
}

// round looks at the record and carries what there is. What others wrote comes first, so
// that it comes also where this bench may not send.
func (s *session) round(ctx context.Context, send, collect bool) error {
	if err := s.scan(); err != nil {
		return err
	}
	if collect {
		if err := s.collect(ctx); err != nil {
			return err
		}
	}
	if send {
		return s.send(ctx)
	}
	return nil
}
