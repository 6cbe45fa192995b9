//go:build system && linux

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/pgtest"
	"dullred/cmd/internal/built"
)

// fleetBenches is how many benches there are: a large class.
const fleetBenches = 30

// fleet is a class of benches that share one record, each a process that writes and one
// that carries.
type fleet struct {
	server         *pgtest.Server
	database       string
	benchProgram   string // dullred
	carrierProgram string // dullred-share
	nowhere        string // a folder without settings
	entries        int    // of each bench, acknowledged
	stations       []*station

	acknowledged atomic.Int64
	leave        atomic.Int64 // acknowledged entries up to which the writers may go on
	busy         atomic.Int64 // appends that found the record locked for five seconds
	over         atomic.Bool  // the test has ended, however it did
	most         atomic.Int64 // bytes that one carrier had of the machine
	faults       chan error
}

// station is a bench of the fleet.
type station struct {
	*fleet
	*cable
	n              int
	record         string
	role, password string // password is a file

	telling, told []string // ids, as the writers told them
	acts          int

	mu              sync.Mutex
	carrier, writer *process
	byHand          []string // ids of what was typed
}

func (s *station) address() string {
	return fmt.Sprintf("postgres://%s@%s/%s", s.role, s.listen.Addr(), s.database)
}

// fault takes down what must not happen.
func (f *fleet) fault(err error) {
	select {
	case f.faults <- err:
	default: // the first ones are enough
	}
}

// sound fails the test if anything happened that must not.
func (f *fleet) sound(t *testing.T) {
	t.Helper()
	select {
	case err := <-f.faults:
		require.NoError(t, err)
	default:
	}
}

// fleetEntries is how many entries each bench is to write.
func fleetEntries(t *testing.T) int {
	text := os.Getenv("DULLRED_FLEET")
	if text == "" {
		return 500
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	require.Positive(t, n)
	return n
}

func newFleet(t *testing.T, benches, entries int) *fleet {
	f := &fleet{server: pgtest.Start(t), nowhere: t.TempDir(), entries: entries, faults: make(chan error, 10)}
	f.benchProgram, f.carrierProgram = built.Program(t, "dullred/cmd/dullred"), built.Program(t, "dullred/cmd/dullred-share")
	f.database = f.server.Database(t)
	code, _, errOut := did(t, nil, "prepare", "--to", f.server.URL(pgtest.Owner, f.database), "--password-file", f.server.PasswordFile)
	require.Equal(t, exitOK, code, errOut)
	folder, password := t.TempDir(), pgtest.Secret(t, rolePassword)
	for n := range benches {
		s := &station{fleet: f, cable: newCable(t, f.server.Port), n: n, role: f.newRole(t), password: password,
			record: filepath.Join(folder, fmt.Sprint(n), "record.db")}
		f.stations = append(f.stations, s)
		s.typed("piece", "new", s.byHandName(), "--alloy", "sterling", "--size", "8x8", "--cast")
		f.sound(t)
	}
	return f
}

// newRole makes a role that writes.
func (f *fleet) newRole(t *testing.T) string {
	t.Helper()
	name := pgtest.Name("bench")
	code, _, errOut := did(t, strings.NewReader(rolePassword+"\n"), "role", name, "--as", "writer", "--to", f.server.URL(pgtest.Owner, f.database), "--password-file", f.server.PasswordFile)
	require.Equal(t, exitOK, code, errOut)
	return name
}

// byHandName is the piece that is typed about with dullred itself.
func (s *station) byHandName() string { return fmt.Sprint("typed at ", s.n) }

// start has all carriers run, and ends whatever runs when the test does.
func (f *fleet) start(t *testing.T) {
	t.Cleanup(func() {
		f.over.Store(true)
		for _, s := range f.stations {
			s.killWriter()
			if s.carrier != nil {
				s.carrier.kill()
			}
		}
	})
	for _, s := range f.stations {
		require.NoError(t, s.carry())
	}
}

// Thirty benches write while their links, their programs and the server fail. Afterwards
// every entry that was acknowledged is in every record and in the shared one, once.
// DULLRED_FLEET is how many entries each of them writes.
func TestSystemFleet(t *testing.T) {
	const seed = 18050
	f := newFleet(t, fleetBenches, fleetEntries(t))
	w := &weather{fleet: f, chance: rand.New(rand.NewPCG(seed, 0)), happened: map[string]int{}}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("seed %d", seed)
		}
	})
	f.start(t)
	begun := time.Now()
	var writing sync.WaitGroup
	for _, s := range f.stations {
		writing.Go(s.write)
	}
	w.rage(t)
	writing.Wait()
	w.clear(t)
	f.sound(t)
	healed := time.Now()
	t.Logf("%v of writing", healed.Sub(begun).Round(time.Millisecond))
	rows := f.written(t)
	f.converge(t, len(rows))
	converged := time.Since(healed)
	found := f.count(t, rows)
	for _, s := range f.stations {
		s.stop(t)
	}
	t.Logf("%s", w.summary(found, converged))
	require.Zero(t, found.lost, "entries that were acknowledged are nowhere or not everywhere")
	require.Zero(t, found.doubled)
	require.Zero(t, found.unknown, "entries that nobody wrote")
}
