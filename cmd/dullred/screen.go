package main

import (
	"context"
	"errors"
	"time"

	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/schedule/alert"
	"dullred/schedule/alert/desktop"
	"dullred/schedule/probe"
	"dullred/tui"
	"dullred/tui/term"
)

func (a *app) benchCommand() *cobra.Command {
	var shown screenFlags
	cmd := &cobra.Command{
		Use:   "bench",
		Short: "the bench screen: what to do now, one key for each act (also: dullred alone)",
		Example: `  dullred
  dullred bench --demo              (an invented evening class, nothing recorded)`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error { return a.screen(shown) },
	}
	cmd.Flags().BoolVar(&shown.demo, "demo", false, "the invented class at Saltmarsh Quay, in memory")
	shown.flags(cmd)
	return cmd
}

// screenFlags is what the screen was given.
type screenFlags struct {
	demo  bool
	probe string // device of a thermocouple; empty for none
}

func (s *screenFlags) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&s.probe, "probe", "", "follow a thermocouple: `DEVICE` of a serial port, a pipe or file, or - for standard input")
}

// screen shows the bench until the smith quits.
func (a *app) screen(shown screenFlags) error {
	if shown.probe == "-" {
		if err := keysFromTerminal(); err != nil {
			return err
		}
	}
	if err := term.Check(); err != nil {
		return err
	}
	conf, err := a.config()
	if err != nil {
		return err
	}
	wall := a.now
	config := tui.Config{Clock: tui.Clock{Wall: wall, Boot: sinceBoot}, Location: time.Local,
		Limits: conf.limits, Light: conf.light, Shade: conf.shadeOf(), Theme: tui.ThemeNamed(conf.look), Style: a.style()}
	lead, err := a.follow(shown.probe)
	if err != nil {
		return err
	}
	defer lead.close()
	if shown.demo {
		config.Desk = a.demoDesk()
		return show(config, conf, lead)
	}
	b, err := a.open()
	if err != nil {
		return err
	}
	config.Desk, config.Demo = desk{b, a.now}, a.demoDesk
	config.Sharing = &lookout{record: b.rec.Path(), now: wall, ended: carrierEnded}
	return errors.Join(show(config, conf, lead), b.close())
}

func show(config tui.Config, conf config, lead lead) error {
	style := config.Style
	b, err := tui.NewBench(config)
	if err != nil {
		return err
	}
	channels := tui.Channels{Bell: conf.bell, Probe: lead.events}
	if conf.awake {
		channels.StayAwake = func() (func() error, error) { return desktop.StayAwake("dullred: something is timing") }
	}
	if conf.desk {
		channels.Herald = func(fault func(error)) tui.Herald { return openHerald(fault, style) }
	}
	return tui.Run(b, channels)
}

// lead is a thermocouple that is followed; the zero lead is none.
type lead struct {
	events <-chan probe.Event
	cancel context.CancelFunc
}

func (l lead) close() {
	if l.cancel != nil {
		l.cancel()
	}
}

// follow opens the device of a thermocouple, which must be there to begin with.
func (a *app) follow(device string) (lead, error) {
	if device == "" {
		return lead{}, nil
	}
	first, err := openProbe(device)
	if err != nil {
		return lead{}, err
	}
	ctx, cancel := context.WithCancel(context.Background())
	return lead{events: probe.Follow(ctx, openedBefore(first, device), a.now), cancel: cancel}, nil
}

// herald tells alerts on the desktop.
type herald struct {
	channel *desktop.Channel
	style   unit.Style
}

func openHerald(fault func(error), style unit.Style) tui.Herald {
	return herald{desktop.Open(desktop.Options{Fault: fault}), style}
}

// Tell shows an alert with the time it became due, since it may be shown late.
func (h herald) Tell(t tui.Telling) {
	h.channel.Tell(desktop.Notice{Title: "dullred: " + t.Priority().String(), Urgent: t.Priority() == alert.Danger,
		Body: h.style.Keeping(append(t.Zones, t.Name)...).Text(t.Sentence()) + " Due at " + t.Due.Local().Format("15:04:05") + "."})
}

// Close lets go of the desktop.
func (h herald) Close() { h.channel.Close() }
