package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"dullred/cmd/internal/say"
	"dullred/schedule"
	"dullred/schedule/probe"
	"dullred/tui"
)

// A heat that a thermocouple follows without the screen: one line for each entry, and
// for what the smith must know of the probe.

const heatProbeHelp = `Log that the piece is in the flame. With --probe it follows a thermocouple (see
dullred probe) until the heat is over:

  heat reached  a reading is in the annealing window, under the ceiling
  TOO HOT       a reading is at the ceiling: take it out
  heat out      60 K under the highest, if the heat was reached
  probe trace   the curve, as soon as the heat is over

The end of the readings and a signal end the heat too. Each entry is in the record
before its line is printed. --json prints one object a line: kind, at and temp_c.`

// orProbe makes a command that logs a heat begun follow a thermocouple if it is
// given one.
func (a *app) orProbe(cmd *cobra.Command) *cobra.Command {
	var device string
	cmd.Flags().StringVar(&device, "probe", "", "follow a thermocouple: `DEVICE` of a serial port, a pipe or file, or - for standard input")
	cmd.Long = heatProbeHelp
	log := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		switch {
		case !cmd.Flags().Changed("probe"):
			return log(cmd, args)
		case given(cmd, []string{"at", "temp"}):
			return refuse("leave --at and --temp out", "with --probe the times and temperatures are those of its readings")
		}
		zones, err := cmd.Flags().GetString("zone")
		if err != nil {
			return err
		}
		return a.heatBy(device, act{name: args[0], zones: zones})
	}
	return cmd
}

// heatBy follows a heat of a piece by a thermocouple, which must be there to begin
// with.
func (a *app) heatBy(device string, t act) error {
	b, err := a.open()
	if err != nil {
		return err
	}
	a.now = steady(a.now)
	return errors.Join(a.heatOn(b, device, t), b.close())
}

// steady is a clock that goes on evenly from now on, whoever sets the one of the
// machine.
func steady(now func() time.Time) func() time.Time {
	start := now()
	return func() time.Time { return start.Add(now().Sub(start)) } // by the monotonic reading
}

func (a *app) heatOn(b *bench, device string, t act) error {
	p, err := b.find(t.name)
	if err != nil {
		return err
	}
	source, err := openProbe(device)
	if err != nil {
		return err
	}
	defer catchPipe()()
	signals, stop := ending()
	defer stop()
	h := &probedHeat{app: a, bench: b, piece: p, zones: splitNames(t.zones), said: map[string]bool{}}
	if err := h.begin(); err != nil {
		return errors.Join(err, source.Close())
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	return h.run(probe.Follow(ctx, openedBefore(source, device), a.now), signals)
}

// ending gives the signals that end the program, but those it was told to ignore.
func ending() (signals chan os.Signal, stop func()) {
	signals = make(chan os.Signal, 1)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(s) {
			signal.Notify(signals, s)
		}
	}
	return signals, func() { signal.Stop(signals) }
}

// probedHeat is a heat that a thermocouple follows.
type probedHeat struct {
	app   *app
	bench *bench
	piece *piece
	zones []string // none for the whole piece
	begun schedule.Entry
	lead  *tui.Lead
	blind bool            // there is no reading now
	said  map[string]bool // what is said once
	mute  error           // why nothing is printed any more; the heat goes on
}

func (h *probedHeat) begin() error {
	body, err := h.bench.fired(schedule.Begun{})
	if err != nil {
		return err
	}
	if h.begun, err = h.log(h.app.now(), body); err != nil {
		return err
	}
	h.lead = tui.NewLead(h.begun.At)
	h.tellNext(h.begun, probe.Reading{})
	return nil
}

// run follows the heat until it is over. A signal ends it like the end of the
// readings does.
func (h *probedHeat) run(events <-chan probe.Event, signals <-chan os.Signal) error {
	for {
		select {
		case sig := <-signals:
			if err := h.end(h.app.now()); err != nil {
				return err
			}
			return tui.Signalled{Signal: sig}
		case e, more := <-events:
			if !more {
				return h.end(h.app.now())
			}
			if h.hear(e) {
				return h.end(e.When())
			}
		}
	}
}

// hear takes what the thermocouple says, and reports whether the heat is over.
func (h *probedHeat) hear(e probe.Event) (over bool) {
	switch e := e.(type) {
	case probe.Reading:
		h.blind = false
		return h.read(e)
	case probe.Fault, probe.Noise:
		h.once(fmt.Sprintf("%T", e), e)
	default:
		h.event(e)
	}
	switch e.(type) {
	case probe.Fault, probe.Silent, probe.Lost:
		h.blind = true
	}
	return false
}

// read takes a reading. What cannot be written is tried again with the next one.
func (h *probedHeat) read(r probe.Reading) (over bool) {
	if err := h.refresh(); err != nil {
		h.fail(r.At, err)
	}
	zones := h.live()
	if len(zones) == 0 {
		return true // somebody proved it, or took it back
	}
	news := h.lead.Read(r, &h.piece.state, zones...)
	r = h.lead.Last()
	if news.TooHot != "" {
		h.tell(heatLine{Kind: "too hot", At: r.At, Temp: degrees(r), Text: "TOO HOT: " + probeText(r) + ": TAKE IT OUT. " + news.TooHot + "."})
	}
	if news.Reached {
		if logged, err := h.log(r.At, schedule.Reached{Temp: r.Temp}); err != nil {
			h.fail(r.At, err)
		} else {
			h.tellNext(logged, r)
		}
	}
	return news.Fallen || news.Ended
}

// end logs what is left to log when the heat is over: out of the flame, if it was
// reached and nobody logged it, and the curve.
func (h *probedHeat) end(at time.Time) error {
	if err := h.refresh(); err != nil {
		return kept(err)
	}
	if schedule.Voided(h.piece.entries)[h.begun.ID] && len(h.live()) == 0 {
		h.tell(heatLine{Kind: "taken back", At: at, Text: "the heat was taken back: its curve is not kept."})
		return quiet(h.mute)
	}
	zones, last := h.live(), h.lead.Last()
	if len(zones) > 0 && zones[0].Heat.Phase == schedule.AtHeat {
		out := schedule.Out{}
		if !h.blind {
			out.Temp = last.Temp
		}
		logged, err := h.log(at, out)
		if err != nil {
			return kept(err)
		}
		h.tellNext(logged, last)
	}
	if len(zones) == 0 {
		at = last.At // when it was in the heat yet
	}
	if err := h.keepCurve(at); err != nil {
		return kept(err)
	}
	if len(zones) > 0 && zones[0].Heat.Phase == schedule.InFlame {
		h.tell(heatLine{Kind: "not reached", At: at, Text: "NOT REACHED: the record has the piece in the flame still; log what becomes of it with dullred heat."})
	}
	return quiet(h.mute)
}

// kept is an error of the record after part of the heat was written.
func kept(err error) error { return keeping("what was printed before is recorded", err) }

func (h *probedHeat) keepCurve(at time.Time) error {
	trace, ok := h.lead.Trace()
	if !ok {
		return nil
	}
	logged, err := h.log(at, trace)
	if err != nil {
		return err
	}
	highest := figure(float64(trace.Max))
	h.tell(heatLine{Kind: string(schedule.KindTrace), At: at, Temp: &highest, Text: logged.Describe() + "."})
	return nil
}

// refresh reads the piece again if others wrote to it.
func (h *probedHeat) refresh() error {
	changed, err := h.bench.rec.Changed()
	if err != nil || !changed {
		return err
	}
	if err := h.bench.readSteps(); err != nil {
		return err
	}
	p, err := h.bench.load(h.piece.id, h.piece.name)
	if err == nil {
		h.piece = p
	}
	return err
}

// live are the zones of the heat as long as it is not proved or taken back.
func (h *probedHeat) live() (zones []schedule.Zone) {
	for _, z := range h.piece.state.Zones {
		in := len(h.zones) == 0 || slices.Contains(h.zones, z.Name)
		if in && z.Heat.Phase != schedule.Cold {
			zones = append(zones, z)
		}
	}
	return zones
}

// log writes what was done at a moment, checked like any act, and returns when it is
// on disk.
func (h *probedHeat) log(at time.Time, body schedule.Body) (schedule.Entry, error) {
	b, p, now := h.bench, h.piece, h.app.now()
	e := schedule.Entry{ID: schedule.NewID(), At: schedule.Moment(at), Written: schedule.Moment(now), Bench: b.here.bench,
		Hand: b.here.hand, Piece: p.id, Zones: h.zones, Version: 1, Body: body}
	if err := schedule.AcceptIn(b.book, p.entries, e, now); err != nil {
		return e, asRefusal(err)
	}
	if err := b.append(nil, e); err != nil {
		return e, err
	}
	p.entries = append(p.entries, e)
	p.state = b.fold(p.entries)
	return e, nil
}

// heatLine is one line of a heat; Text is for people.
type heatLine struct {
	Kind string    `json:"kind"`
	At   time.Time `json:"at"`
	Temp *float64  `json:"temp_c,omitempty"`
	Text string    `json:"-"`
}

func degrees(r probe.Reading) *float64 {
	if r.At.IsZero() {
		return nil
	}
	temp := figure(float64(r.Temp))
	return &temp
}

// tell prints a line with one write. An output that nobody reads stops the lines and
// not the heat.
func (h *probedHeat) tell(l heatLine) {
	if h.mute != nil {
		return
	}
	text := l.At.Local().Format(time.TimeOnly) + " " + clean(l.Text)
	if h.app.json {
		l.At = schedule.Moment(l.At)
		object, err := say.JSON(l, "")
		if err != nil {
			h.mute = err
			return
		}
		text = strings.TrimSuffix(string(object), "\n")
	}
	if _, err := io.WriteString(h.app.out, text+"\n"); err != nil {
		h.mute = fmt.Errorf("the output cannot be written: %w", err)
	}
}

// tellNext tells of an entry with what to do next.
func (h *probedHeat) tellNext(e schedule.Entry, r probe.Reading) {
	next := h.piece.state.Advise(h.app.now(), nil).Next
	h.tell(heatLine{Kind: string(e.Kind()), At: e.At, Temp: degrees(r), Text: e.Describe() + "; next: " + next + "."})
}

func (h *probedHeat) event(e probe.Event) {
	h.tell(heatLine{Kind: probeWord(e), At: e.When(), Text: probeText(e)})
}

// once tells of something that would come again and again.
func (h *probedHeat) once(what string, e probe.Event) {
	if !h.said[what] {
		h.said[what] = true
		h.event(e)
	}
}

// fail tells once that something could not be written; it is tried again.
func (h *probedHeat) fail(at time.Time, err error) {
	if !h.said["fail"] {
		h.said["fail"] = true
		h.tell(heatLine{Kind: "not logged", At: at, Text: "NOT LOGGED: " + err.Error() + "; trying again."})
	}
}
