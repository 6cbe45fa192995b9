package main

import (
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"

	"dullred/alloys/unit"
	"dullred/cmd/internal/place"
)

const configHelp = `dullred reads config.toml in the folder dullred of your XDG config folder (usually
~/.config), if it is there. Every key may be left out. A key that does not exist,
a value that cannot be right and what is not TOML stop every command that opens
the record, and nothing is recorded; alloys, mix, worked and safety go on.

A flag goes before the environment, the environment before the file, and the
file before the default. The list says which of them each value is from.

units, temperature, weight, decimal and dates are of what people read: the screen,
printed text and errors. --json, CSV, exports and this help stay in mm, °C, g, with
points and ISO dates. The units follow the file alone; the decimal sign and the dates
follow the locale (LC_ALL, else LC_NUMERIC or LC_TIME, else LANG) until the file says
otherwise. A figure typed with no unit is in mm, °C or g whatever the settings say.`

func (a *app) configCommand() *cobra.Command {
	var example bool
	cmd := &cobra.Command{
		Use:   "config",
		Short: "what is settled in your file of settings, and what holds without it",
		Long:  configHelp,
		Example: `  dullred config
  dullred config --example          (a whole file with the defaults, to begin from)`,
		Args: names(),
		RunE: func(*cobra.Command, []string) error {
			if !example {
				return a.showConfig()
			}
			if a.json {
				return refuse("leave out one of the two", "the example is TOML and no JSON")
			}
			_, err := io.WriteString(a.out, usualConfig().file()) // to be read by a program
			return err
		},
	}
	cmd.Flags().BoolVar(&example, "example", false, "print a file with every key, what it is for, and its default")
	return cmd
}

// file is a whole file of settings that says what this configuration is.
func (c config) file() string {
	var b strings.Builder
	b.WriteString("# Settings of dullred, at dullred/config.toml in your XDG config folder.\n# Every line may be left out.\n")
	section := ""
	for _, s := range settings {
		if s.section != section {
			section = s.section
			fmt.Fprintf(&b, "\n[%s] # %s\n", section, sectionsAbout[section])
		}
		line := s.key + " = " + s.written(c)
		if s.key == "record" && c.record == "" {
			line = "# " + s.key + " = " + s.sample()
		}
		fmt.Fprintf(&b, "\n# %s\n%s\n", s.about, line)
	}
	return b.String()
}

// heldJSON is a value that holds, for a machine.
type heldJSON struct {
	Value   any     `json:"value"`             // text, or true or false
	Seconds float64 `json:"seconds,omitempty"` // of a length of time
	From    string  `json:"from"`              // default, file, environment or flag
}

func (a *app) showConfig() error {
	c, err := a.config()
	if err != nil {
		return err
	}
	held, from := a.holds(c)
	if a.json {
		return a.printJSON(struct {
			File   string         `json:"file"`
			Exists bool           `json:"exists"`
			Values map[string]any `json:"values"`
		}{place.Config(), c.exists, valuesJSON(held, from)})
	}
	state := "is read"
	if !c.exists {
		state = "is not there: the defaults hold"
	}
	a.printf("%s %s\n", clean(place.Config()), state)
	for _, s := range settings {
		a.printf("%-25s  %-11s  %s\n", s.name(), from[s.name()], clean(s.written(held)))
	}
	return nil
}

// holds is the configuration with what the flags and the environment say put in,
// and where each value is from.
func (a *app) holds(c config) (config, map[string]string) {
	from := map[string]string{}
	for _, s := range settings {
		from[s.name()] = "default"
		if c.given[s.name()] {
			from[s.name()] = "file"
		}
	}
	env := a.getenv("DULLRED_HAND")
	if env != "" {
		from["hand"] = "environment"
	}
	if a.hand != "" {
		from["hand"] = "flag"
	}
	if a.record != "" {
		from["record"] = "flag"
	}
	c.hand = cmp.Or(a.hand, env, c.hand)
	c.record = cmp.Or(a.record, c.record, filepath.Join(xdg.DataHome, "dullred", "record.db"))
	return c, from
}

// valuesJSON is every value by its key, those of a section within it.
func valuesJSON(c config, from map[string]string) map[string]any {
	values := map[string]any{}
	for _, s := range settings {
		in := values
		if s.section != "" {
			if values[s.section] == nil {
				values[s.section] = map[string]any{}
			}
			in = values[s.section].(map[string]any)
		}
		held := heldJSON{From: from[s.name()]}
		switch p := s.place(&c).(type) {
		case *time.Duration:
			held.Value, held.Seconds = unit.FormatDuration(*p), p.Seconds()
		default:
			held.Value = p
		}
		in[s.key] = held
	}
	return values
}
