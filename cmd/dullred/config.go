package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/pelletier/go-toml/v2/unstable"

	"dullred/alloys/unit"
	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/heat"
)

// config is what the smith settled once and for all. Every value may be used as
// it stands: what the file says is checked, what it leaves out is the default.
type config struct {
	hand   string     // who works, when neither a flag nor the environment says
	light  heat.Light // of the room until another is logged; never unknown
	shade  string     // of the filter before the eyes, a number; "0" is none
	risk   string     // of splitting at the limit that is learned, in per cent
	look   string     // one of looks
	units  string     // one of lengths
	record string     // whole path; empty is the usual place
	bell   bool       // the terminal's
	desk   bool       // notices on the desktop
	awake  bool       // the desktop is asked not to blank the screen
	limits alert.Limits

	temperature string // one of temperatures
	weight      string // one of weights
	decimal     string // one of decimals
	dates       string // one of dates

	exists bool            // there is a file
	given  map[string]bool // settings that stand in the file, by name
}

func usualConfig() config {
	return config{hand: "smith", light: heat.LightLamp, shade: "0", risk: "2 %", look: looks[0], units: lengths[0],
		temperature: temperatures[0], weight: weights[0], decimal: decimals[0], dates: dates[0],
		bell: true, desk: true, awake: true, limits: alert.Usual(), given: map[string]bool{}}
}

var looks = []string{"dark", "light", "high contrast", "hearth"}

// leastWatch is the shortest fire watch that US law allows: half an hour, 29 CFR
// 1910.252(a)(2)(iii)(B).
const leastWatch = 30 * time.Minute

// setting is one key of the file. The table of settings is all that the reader,
// the example and the list of what holds go by.
type setting struct {
	section, key string
	about        string
	place        func(*config) any  // *string, *heat.Light, *bool or *time.Duration
	check        func(string) error // of a *string
	least        time.Duration      // of a *time.Duration
}

var settings = []setting{
	{key: "hand", about: "who works, when neither --hand nor DULLRED_HAND says", place: func(c *config) any { return &c.hand }, check: schedule.CheckName},
	{key: "light", about: "of the room until another is logged: dark, dim, bench lamp or daylight", place: func(c *config) any { return &c.light }},
	{key: "shade", about: "of the filter that you wear at the torch: \"3\"; \"0\" for none. A glow shows later behind it", place: func(c *config) any { return &c.shade }, check: shade},
	{key: "risk", about: "of splitting in one stretch of work, at the limit that is learned of a stock: \"2 %\"; 0.1 to 10", place: func(c *config) any { return &c.risk }, check: risk},
	{key: "look", about: "of the bench screen: dark, light, high contrast or hearth", place: func(c *config) any { return &c.look }, check: oneOf(looks)},
	{key: "units", about: "of lengths, areas and volumes: mm or in. What you type may have either", place: func(c *config) any { return &c.units }, check: oneOf(lengths)},
	{key: "temperature", about: "of temperatures: C or F", place: func(c *config) any { return &c.temperature }, check: oneOf(temperatures)},
	{key: "weight", about: "of weights: g, ozt or dwt. Densities stay in g/cm³", place: func(c *config) any { return &c.weight }, check: oneOf(weights)},
	{key: "decimal", about: "sign of figures: point, comma, or locale for the one of LC_NUMERIC", place: func(c *config) any { return &c.decimal }, check: oneOf(decimals)},
	{key: "dates", about: "iso, day.month.year, day/month/year, month/day/year, or locale for those of LC_TIME", place: func(c *config) any { return &c.dates }, check: oneOf(dates)},
	{key: "record", about: "the record when --record is not given; a whole path", place: func(c *config) any { return &c.record }, check: wholePath},

	{section: "channels", key: "bell", about: "the bell of the terminal", place: func(c *config) any { return &c.bell }},
	{section: "channels", key: "desktop", about: "notices on the desktop", place: func(c *config) any { return &c.desk }},
	{section: "channels", key: "awake", about: "ask the desktop not to blank the screen", place: func(c *config) any { return &c.awake }},

	{section: "thresholds", key: "torch_left", about: "the torch is lit and nothing is in the flame", place: func(c *config) any { return &c.limits.TorchLeft }},
	{section: "thresholds", key: "hot_left", about: "a hot piece waits for its quench", place: func(c *config) any { return &c.limits.HotLeft }},
	{section: "thresholds", key: "air_hot_left", about: "a hot piece cools in the air", place: func(c *config) any { return &c.limits.AirHotLeft }},
	{section: "thresholds", key: "heat_overrun", about: "a piece is held at heat", place: func(c *config) any { return &c.limits.SoakOverrun }},
	{section: "thresholds", key: "flame_overrun", about: "a piece is in the flame without reaching its heat", place: func(c *config) any { return &c.limits.FlameOverrun }},
	{section: "thresholds", key: "pickle_overdue", about: "a piece is in the pickle", place: func(c *config) any { return &c.limits.PickleOverdue }},
	{section: "thresholds", key: "fire_watch", about: "after the last flame; 30 min at least, the floor in US law (29 CFR 1910.252)",
		place: func(c *config) any { return &c.limits.FireWatch }, least: leastWatch},
}

// sectionsAbout says what the settings of a section have in common.
var sectionsAbout = map[string]string{
	"channels":   "what tells you besides the screen",
	"thresholds": "after how long you are told, such as 90s, 10 min or 1h30m; never 0",
}

func (s setting) name() string { return strings.TrimPrefix(s.section+"."+s.key, ".") }

// written is the value as the file would say it.
func (s setting) written(c config) string {
	switch p := s.place(&c).(type) {
	case *bool:
		return fmt.Sprint(*p)
	case *time.Duration:
		return fmt.Sprintf("%q", unit.FormatDuration(*p))
	case *heat.Light:
		return fmt.Sprintf("%q", string(*p))
	case *string:
		return fmt.Sprintf("%q", *p)
	}
	panic("setting " + s.name() + " is of no kind")
}

// mostShade is the darkest filter that is made for welding.
const mostShade = 14

func shade(text string) error {
	if v, err := strconv.ParseFloat(text, 64); err != nil || !(v >= 0 && v <= mostShade) {
		return fmt.Errorf("%.60q is not a filter shade, 0 to %d", text, mostShade)
	}
	return nil
}

// risk checks a chance in per cent.
func risk(text string) error {
	if r := riskOf(text); !(r >= 0.001 && r <= 0.1) {
		return fmt.Errorf("%.60q is no risk, 0.1 %% to 10 %%", text)
	}
	return nil
}

// riskOf is a chance in per cent as a number from 0 to 1; 0 where it is none.
func riskOf(text string) float64 {
	figure := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	v, err := strconv.ParseFloat(strings.Replace(figure, ",", ".", 1), 64)
	if err != nil {
		return 0
	}
	return v / 100
}

// shadeOf is the filter as a number.
func (c config) shadeOf() float64 {
	v, _ := strconv.ParseFloat(c.shade, 64) // it was checked
	return v
}

func oneOf(words []string) func(string) error {
	return func(text string) error {
		if slices.Contains(words, text) {
			return nil
		}
		return fmt.Errorf("%.60q is not one of %s", text, strings.Join(words, ", "))
	}
}

// wholePath refuses a path that would name another file in another folder.
func wholePath(text string) error {
	if !filepath.IsAbs(text) {
		return fmt.Errorf("%.60q is not a whole path, from the root on", text)
	}
	if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return fmt.Errorf("%.60q holds a character that does not print", text)
	}
	return nil
}

// read puts what the file says into its place.
func (s setting) read(c *config, v *unstable.Node) error {
	var err error
	p := s.place(c)
	if b, ok := p.(*bool); ok {
		if v.Kind != unstable.Bool {
			return fmt.Errorf("%s, expected true or false without quotes", kinds[v.Kind])
		}
		*b = string(v.Data) == "true"
		return nil
	}
	if v.Kind != unstable.String {
		return fmt.Errorf("%s, expected text in quotes such as %s", kinds[v.Kind], s.sample())
	}
	text := string(v.Data)
	switch p := p.(type) {
	case *time.Duration:
		*p, err = unit.ParseDuration(text)
		if err == nil && *p < s.least {
			return fmt.Errorf("%.60q is too short, expected %s at least", text, unit.FormatDuration(s.least))
		}
	case *heat.Light:
		*p, err = heat.ParseLight(text)
	case *string:
		*p, err = text, s.check(text)
	}
	return err
}

// sample is a value that a setting may have.
func (s setting) sample() string {
	if s.key == "record" {
		return `"/path/to/record.db"`
	}
	return s.written(usualConfig())
}

// kinds are the values that TOML has, as they are read aloud.
var kinds = map[unstable.Kind]string{
	unstable.String: "text", unstable.Bool: "true or false", unstable.Integer: "a number", unstable.Float: "a number",
	unstable.LocalDate: "a date", unstable.LocalTime: "a time of day", unstable.LocalDateTime: "a date", unstable.DateTime: "a date",
	unstable.Array: "a list", unstable.InlineTable: "a section",
}
