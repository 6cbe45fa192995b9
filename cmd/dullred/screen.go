package main

import (
	"errors"
	"time"

	"github.com/spf13/cobra"

	"dullred/schedule/alert"
	"dullred/schedule/alert/desktop"
	"dullred/tui"
	"dullred/tui/term"
)

func (a *app) benchCommand() *cobra.Command {
	var showDemo bool
	cmd := &cobra.Command{
		Use:   "bench",
		Short: "the bench screen: what to do now, one key for each act (also: dullred alone)",
		Example: `  dullred
  dullred bench --demo              (an invented evening class, nothing recorded)`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error { return a.screen(showDemo) },
	}
	cmd.Flags().BoolVar(&showDemo, "demo", false, "the invented class at Saltmarsh Quay, in memory")
	return cmd
}

// screen shows the bench until the smith quits.
func (a *app) screen(showDemo bool) error {
	if err := term.Check(); err != nil {
		return err
	}
	conf, err := a.config()
	if err != nil {
		return err
	}
	wall := a.now
	config := tui.Config{Clock: tui.Clock{Wall: wall, Boot: sinceBoot}, Location: time.Local,
		Limits: conf.limits, Light: conf.light, Theme: tui.ThemeNamed(conf.look)}
	if showDemo {
		config.Desk = a.demoDesk()
		return show(config, conf)
	}
	b, err := a.open()
	if err != nil {
		return err
	}
	config.Desk, config.Demo = desk{b}, a.demoDesk
	return errors.Join(show(config, conf), b.close())
}

func show(config tui.Config, conf config) error {
	b, err := tui.NewBench(config)
	if err != nil {
		return err
	}
	channels := tui.Channels{Bell: conf.bell}
	if conf.awake {
		channels.StayAwake = func() (func() error, error) { return desktop.StayAwake("dullred: something is timing") }
	}
	if conf.desk {
		channels.Herald = openHerald
	}
	return tui.Run(b, channels)
}

// herald tells alerts on the desktop.
type herald struct{ channel *desktop.Channel }

func openHerald(fault func(error)) tui.Herald {
	return herald{desktop.Open(desktop.Options{Fault: fault})}
}

// Tell shows an alert with the time it became due, since it may be shown late.
func (h herald) Tell(t tui.Telling) {
	h.channel.Tell(desktop.Notice{Title: "dullred: " + t.Priority().String(), Urgent: t.Priority() == alert.Danger,
		Body: t.Sentence() + " Due at " + t.Due.Local().Format("15:04:05") + "."})
}

// Close lets go of the desktop.
func (h herald) Close() { h.channel.Close() }
