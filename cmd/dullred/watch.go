package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule"
	"dullred/tui"
)

// The plain mode: one sentence for each change. A watcher knows what was told and
// gives the lines of a moment; plain wakes it, when something becomes due or when
// the record changes, and prints them.

const watchHelp = `Print one plain sentence per change, the priority first, for a screen reader, a
log or a pipe: no colour, nothing moves. It begins with the present state, and
ends with a signal or when its output is closed. Alerts are written into the
record before they are told, so that it may run beside the bench screen.

  DANGER, ACT, NOTE  an alert: now, within a minute or two, within ten minutes
  READY              what you asked for, such as a hold that is over
  NOW                a verdict or a step of a heat that is new
  SEEN, OVER         an alert that somebody acknowledged, or that no longer holds
  CLOCK              the clock of this machine was set

With NAME it tells of that piece and of the bench as a whole. Letters beyond ASCII
are written by the nearest ones, or as a question mark; --json has them all.`

func (a *app) watchCommand() *cobra.Command {
	var once bool
	cmd := &cobra.Command{
		Use:   "watch [NAME]",
		Short: "the plain mode: one sentence per change, for a screen reader, a log or a pipe",
		Long:  watchHelp,
		Args:  perhaps("NAME"),
		RunE:  func(_ *cobra.Command, args []string) error { return a.watch(args, once) },
	}
	cmd.Flags().BoolVar(&once, "once", false, "print the present state and end")
	return cmd
}

func (a *app) watch(args []string, once bool) error {
	wall := a.now // the line of time of the bench is found anew at every look
	b, err := a.open()
	if err != nil {
		return err
	}
	w, err := a.newWatcher(b, args)
	if err != nil {
		return errors.Join(err, b.close())
	}
	stop := catchPipe()
	defer stop()
	p := &plain{watcher: w, bench: b, wall: wall, out: a.out, json: a.json}
	if once {
		return errors.Join(quiet(p.turn()), b.close())
	}
	return p.run()
}

func (a *app) newWatcher(b *bench, args []string) (*watcher, error) {
	conf, err := a.config()
	if err != nil {
		return nil, err
	}
	w := watcherOf(desk{b, a.now}, conf.limits)
	if !a.json {
		w.say = a.sayLine
	}
	if len(args) == 1 {
		p, err := b.find(args[0])
		if err != nil {
			return nil, err
		}
		w.only, w.desk = p.id, deskWith{desk{b, a.now}, p.name}
	}
	if _, err := w.desk.Load(); err != nil {
		return nil, err
	}
	return w, nil
}

// deskWith is a desk that has a piece on it, however long ago it was worked.
type deskWith struct {
	desk
	name string
}

func (d deskWith) Load() (tui.Contents, error) {
	c, err := d.desk.Load()
	if err != nil {
		return c, err
	}
	p, err := d.bench.find(d.name)
	if err != nil {
		return c, told(err)
	}
	if !slices.ContainsFunc(c.Pieces, func(l tui.Loaded) bool { return l.ID == p.id }) {
		c.Pieces = append(c.Pieces, tui.Loaded{ID: p.id, Name: p.name, Entries: p.entries})
	}
	return c, nil
}

// plain prints what a watcher has to tell.
type plain struct {
	watcher *watcher
	bench   *bench
	wall    func() time.Time
	out     io.Writer
	json    bool
}

// linger is how long a signal waits for a line that nobody takes.
const linger = time.Second

// catchPipe makes a closed output an error of the write instead of the end of the
// process.
func catchPipe() (stop func()) {
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, syscall.SIGPIPE)
	return func() { signal.Stop(caught) }
}

// run prints until a signal comes or the output is closed. A signal ends it also
// while a line cannot be written: the record is whole without being closed.
func (p *plain) run() error {
	signals := make(chan os.Signal, 1)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(s) {
			signal.Notify(signals, s)
		}
	}
	defer signal.Stop(signals)
	news, quit, ended := make(chan struct{}, 1), make(chan struct{}), make(chan error, 1)
	stop := p.listen(news)
	go func() { ended <- p.loop(news, quit) }()
	select {
	case err := <-ended:
		return errors.Join(err, stop(), p.bench.close())
	case sig := <-signals:
		close(quit)
		select {
		case <-ended:
			return errors.Join(tui.Signalled{Signal: sig}, stop(), p.bench.close())
		case <-time.After(linger):
			return tui.Signalled{Signal: sig}
		}
	}
}

// listen gives notice when somebody may have written.
func (p *plain) listen(news chan<- struct{}) (stop func() error) {
	spawn := func(f func()) { go f() }
	return tui.Listen(p.bench.rec, spawn, func() {
		select {
		case news <- struct{}{}:
		default: // one waits already
		}
	})
}

func (p *plain) loop(news, quit <-chan struct{}) error {
	due := time.NewTimer(0)
	defer due.Stop()
	for {
		select {
		case <-quit:
			return nil
		case <-due.C:
		case <-news:
			if !p.watcher.hear(p.bench.rec.Changed()) {
				continue
			}
		}
		if err := p.turn(); err != nil {
			return quiet(err)
		}
		due.Stop()
		if wait, ok := p.watcher.wait(); ok {
			due.Reset(wait)
		}
	}
}

// turn prints the lines of this moment, each with a write of its own.
func (p *plain) turn() error {
	boot, ok := sinceBoot()
	for _, l := range p.watcher.step(schedule.Clocks{Wall: p.wall(), Boot: boot, OK: ok}) {
		text := l.text
		if p.json {
			text = l.object()
		}
		if _, err := io.WriteString(p.out, text+"\n"); err != nil {
			return fmt.Errorf("the output cannot be written: %w", err)
		}
	}
	return nil
}

// quiet is no error for an output that nobody reads any more.
func quiet(err error) error {
	if errors.Is(err, syscall.EPIPE) {
		return nil
	}
	return err
}
