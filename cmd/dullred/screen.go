package main

import (
	"errors"
	"time"

	"github.com/spf13/cobra"

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
	wall := a.now
	config := tui.Config{Clock: tui.Clock{Wall: wall, Boot: sinceBoot}, Location: time.Local}
	if showDemo {
		config.Desk = a.demoDesk()
		return show(config)
	}
	b, err := a.open()
	if err != nil {
		return err
	}
	config.Desk, config.Demo = desk{b}, a.demoDesk
	return errors.Join(show(config), b.close())
}

func show(config tui.Config) error {
	b, err := tui.NewBench(config)
	if err != nil {
		return err
	}
	return tui.Run(b)
}
