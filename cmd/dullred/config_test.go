package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
	"dullred/schedule/alert"
	"dullred/schedule/heat"
	theme "dullred/tui/view"
)

// Outside check (standard): the floor of the fire watch, 29 CFR 1910.252, in the settings.
func TestParseConfig(t *testing.T) {
	usual := func(change func(*config), given ...string) config {
		c := usualConfig()
		for _, name := range given {
			c.given[name] = true
		}
		if change != nil {
			change(&c)
		}
		return c
	}
	tests := []struct {
		name, text string
		want       config
		reason     string
	}{
		{"empty", "", usual(nil), "everything may be left out"},
		{"remarks alone", "# nothing yet\r\n\r\n", usual(nil), "a file from Windows, begun and left"},
		{"every kind", "hand = \"ab\"\nlight = \"dim\"\nrecord = \"/srv/record.db\"\n[channels]\nbell = false\n[thresholds]\nhot_left = \"90s\"\n",
			usual(func(c *config) {
				c.hand, c.light, c.record, c.bell, c.limits.HotLeft = "ab", heat.LightDim, "/srv/record.db", false, 90*time.Second
			}, "hand", "light", "record", "channels.bell", "thresholds.hot_left"), "one of each"},
		{"beginning of a light", "light = 'bench'", usual(nil, "light"), "as the command light takes it, and kept as the whole name"},
		{"a filter", "shade = '3'", usual(func(c *config) { c.shade = "3" }, "shade"), "text, as it stands on the glass"},
		{"a risk", "risk = '0,5 %'", usual(func(c *config) { c.risk = "0,5 %" }, "risk"), "with a comma, as many type it"},
		{"two words", "look = 'high contrast'\nunits = 'in'", usual(func(c *config) { c.look, c.units = "high contrast", "in" }, "look", "units"), "a blank in a name"},
		{"dotted", "channels.awake = false", usual(func(c *config) { c.awake = false }, "channels.awake"), "TOML's other way to say it"},
		{"inline", "channels = { awake = false, desktop = true }", usual(func(c *config) { c.awake = false }, "channels.awake", "channels.desktop"), "and its third"},
		{"quoted key", "\"hand\" = 'ab'", usual(func(c *config) { c.hand = "ab" }, "hand"), "the same key"},
		{"mark of the byte order", "\ufeffhand = 'ab'", usual(func(c *config) { c.hand = "ab" }, "hand"), "some editors on Windows put it there"},
		{"said to be the default", "hand = 'smith'", usual(nil, "hand"), "it is given all the same"},
		{"empty section", "[thresholds]\n[channels]\n", usual(nil), "a head without a line settles nothing"},
		{"the floor of the watch", "[thresholds]\nfire_watch = \"30 min\"", usual(func(c *config) { c.limits.FireWatch = 30 * time.Minute }, "thresholds.fire_watch"), "29 CFR 1910.252(a)(2)(iii)(B): at least a half hour"},
		{"compound time", "[thresholds]\ntorch_left = \"1h30m\"", usual(func(c *config) { c.limits.TorchLeft = 90 * time.Minute }, "thresholds.torch_left"), "as unit.ParseDuration reads it"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			got, err := parseConfig("config.toml", []byte(tt.text))
			require.NoError(t, err, tt.reason)
			require.Equal(t, tt.want, got, tt.reason)
		})
	}
}

// What is refused is named with its place, and what to do stands behind it.
//
// Outside check (standard): no watch below that of 29 CFR 1910.252.
func TestParseConfigRefuses(t *testing.T) {
	const every = "mend it; dullred config --example shows every key"
	near := func(what string) string {
		return "did you mean " + what + "? dullred config --example shows every key"
	}
	tests := []struct{ name, text, want, do, reason string }{
		{"misspelled", "\nhnad = 'ab'", `2:1: "hnad" is not a key of this file`, near(`"hand"`), "two letters swapped"},
		{"misspelled in a section", "[thresholds]\n  torch_lef = '5 min'", `2:3: "thresholds.torch_lef" is not a key of this file`, near(`"torch_left"`), "the column is that of the key"},
		{"dash for underscore", "[thresholds]\nfire-watch = '40 min'", `2:1: "thresholds.fire-watch" is not`, near(`"fire_watch"`), "as other files have it"},
		{"other case", "Hand = 'ab'", `1:1: "Hand" is not a key`, near(`"hand"`), "else hand and Hand could both be said"},
		{"out of its section", "bell = false", `1:1: "bell" is not a key`, near(`"bell" under [channels]`), "it would else do nothing"},
		{"in a section", "[channels]\nhand = 'ab'", `2:1: "channels.hand" is not a key`, near(`"hand" above the first [section]`), "a line put at the end of the file"},
		{"in the wrong section", "[channels]\nhot_lift = '5 min'", `2:1: "channels.hot_lift" is not`, near(`"hot_left" under [thresholds]`), "misspelled besides"},
		{"like two keys", "[thresholds]\nair_hot_lef = '1h'", `2:1: "thresholds.air_hot_lef" is not`, near(`"air_hot_left"`), "the nearer of two"},
		{"section misspelled", "[chanels]\nbell = true", `1:2: "chanels" is not a key`, near("[channels]"), "the head is found first"},
		{"section misspelled, dotted", "threshold.hot_left = '5 min'", `1:1: "threshold.hot_left" is not`, near(`"hot_left" under [thresholds]`), "the key is known"},
		{"key with a dot in it", "\"channels.bell\" = true", `1:1: "channels.bell" is not a key`, every, "in quotes the dot is a letter"},
		{"short and unlike", "foo = 1", `1:1: "foo" is not a key`, every, "one letter of three is as far as a guess goes"},
		{"nothing like it", "colour = 'blue'", `1:1: "colour" is not a key`, every, "a guess would not help"},
		{"empty key", "'' = 1", `1:1: "" is not a key`, every, "TOML allows it"},
		{"very long key", strings.Repeat("a", 5000) + " = 1", `1:1: "` + strings.Repeat("a", 60) + `" is not`, every, "cut to what is read"},
		{"under a key", "channels.bell.loud = true", `1:1: "channels.bell.loud" is not`, every, "no key has keys"},
		{"second of two lines", "hand = 'ab'\nfoo = 1", `2:1: "foo" is not`, every, "the first that is wrong"},
		{"in an inline section", "channels = { bell = true, horn = true }", `1:27: "channels.horn" is not`, every, "within the line"},
		{"behind a wide letter", "channels = { bell = true, \"høm\" = 1 , ring = 2 }", `1:27: "channels.høm" is not`, every, "a column is a letter"},

		{"number for text", "hand = 7", `1:1: "hand": a number, expected text in quotes such as "smith"`, every, "a hand by number is text too"},
		{"number for a time", "[thresholds]\ntorch_left = 600", `2:1: "thresholds.torch_left": a number, expected text in quotes such as "10 min"`, every, "seconds or minutes?"},
		{"text for yes or no", "[channels]\nbell = 'true'", `2:1: "channels.bell": text, expected true or false without quotes`, every, "not guessed"},
		{"number for yes or no", "[channels]\nbell = 1", `2:1: "channels.bell": a number, expected true`, every, "not guessed"},
		{"list", "hand = ['ab', 'cd']", `1:1: "hand": a list, expected text`, every, "one hand works"},
		{"time of day", "[thresholds]\nfire_watch = 01:00:00", `2:1: "thresholds.fire_watch": a time of day, expected text in quotes such as "1 h"`, every, "an hour is no time of day"},
		{"date", "hand = 2024-03-05", `1:1: "hand": a date, expected text`, every, "a kind of TOML's own"},
		{"section for a key", "[hand]", `1:2: "hand" is a section here, expected a line with hand = "smith"`, every, "brackets too many"},
		{"inline section for a key", "record = {}", `1:1: "record": a section, expected text in quotes such as "/path/to/record.db"`, every, "the same, within a line"},
		{"key for a section", "channels = true", `1:1: "channels" is true or false, expected a section under [channels]`, every, "all or none cannot be said"},
		{"list of sections", "[[channels]]\nbell = true", `1:3: "channels" is a section, expected [channels] in single brackets`, every, "there is one"},
		{"list of keys", "[[hand]]", `1:3: "hand" is a section here`, every, "brackets too many"},

		{"no hand", "hand = ''", `1:1: "hand": empty`, every, "nobody works"},
		{"hand with a blank", "hand = ' ab'", `1:1: "hand": " ab" has a blank at an end`, every, "as a flag would be refused"},
		{"hand turns the line", "hand = \"a\\u202e\"", `1:1: "hand": "a\u202e" holds a character that does not print`, every, "it would stand in every log"},
		{"unknown light", "light = 'moon'", `1:1: "light": "moon" is not a light: expected one of dark, dim, bench lamp, daylight`, every, "what there is"},
		{"no shade", "shade = 'dark green'", `1:1: "shade": "dark green" is not a filter shade, 0 to 14`, every, "a number is printed on it"},
		{"too much risk", "risk = '50 %'", `1:1: "risk": "50 %" is no risk, 0.1 % to 10 %`, every, "every other piece would split"},
		{"no risk at all", "risk = '0'", `1:1: "risk": "0" is no risk, 0.1 % to 10 %`, every, "no metal gives that"},
		{"blind", "shade = '99'", `1:1: "shade": "99" is not a filter shade, 0 to 14`, every, "no filter is so dark"},
		{"unknown look", "look = 'Dark'", `1:1: "look": "Dark" is not one of dark, light, high contrast, hearth`, every, "what there is"},
		{"unknown dates", "dates = 'y-m-d'", `1:1: "dates": "y-m-d" is not one of locale, iso, day.month.year, day/month/year, month/day/year`, every, "what there is"},
		{"unknown units", "units = 'cm'", `1:1: "units": "cm" is not one of mm, in`, every, "what there is"},
		{"record in a folder", "record = 'record.db'", `1:1: "record": "record.db" is not a whole path, from the root on`, every, "another one in each folder"},
		{"record at home", "record = '~/record.db'", `1:1: "record": "~/record.db" is not a whole path`, every, "the shell reads ~, nobody does here"},
		{"no record", "record = ''", `1:1: "record": "" is not a whole path`, every, "leave it out"},
		{"record with a line end", "record = \"/a\\nb\"", `1:1: "record": "/a\nb" holds a character that does not print`, every, "nobody can type it"},
		{"no time", "[thresholds]\nhot_left = '0'", `2:1: "thresholds.hot_left": "0": expected a time above zero and of one year at most`, every, "it would never be silent"},
		{"no such time", "[thresholds]\nhot_left = 'soon'", `2:1: "thresholds.hot_left": "soon": expected a time such as 90s`, every, "nothing is guessed"},
		{"below zero", "[thresholds]\nhot_left = '-5 min'", `2:1: "thresholds.hot_left": `, every, "time does not run so"},
		{"short watch", "[thresholds]\nfire_watch = '29 min 59 s'", `2:1: "thresholds.fire_watch": "29 min 59 s" is too short, expected 30 min at least`, every, "29 CFR 1910.252(a)(2)(iii)(B)"},

		{"no quotes", "hand = ab", `1:8: this is not TOML: `, every, "syntax"},
		{"no end of text", "hand = 'ab", `1:10: this is not TOML: unterminated`, every, "syntax"},
		{"no bracket", "\n[channels", `2:9: this is not TOML: expected ']' to close table name`, every, "syntax"},
		{"no value", "hand =\n", `1:7: this is not TOML: `, every, "syntax"},
		{"behind a wide letter, syntax", "hand = 'ø' x", `1:12: this is not TOML: `, every, "a column is a letter here too"},
		{"twice", "hand = 'ab'\nhand = 'cd'", `2:1: this is not TOML: key hand is already defined`, every, "which of them?"},
		{"section twice", "[channels]\nbell = true\n[channels]\n", `3:2: this is not TOML: table channels already exists`, every, "which of them?"},
		{"dotted and headed", "channels.bell = true\n[channels]\nbell = false", `2:2: this is not TOML: `, every, "which of them?"},
		{"no such date", "hand = 2024-02-31", `1:16: this is not TOML: impossible date`, every, "checked by the library"},
		{"another alphabet", "hand = 'a\xe9'", `1:10: this is not UTF-8`, "save it as UTF-8", "saved as Latin-1"},
		{"behind a replaced letter", "hand = '\ufffd\xff'", `1:10: this is not UTF-8`, "save it as UTF-8", "the letter that stands for a damaged one is sound itself"},
		{"two bytes a letter", "\xff\xfeh\x00", `1:1: this is not UTF-8`, "save it as UTF-8", "saved as UTF-16"},
		{"zeros", "hand = '\x00'", `1:9: this is not TOML: `, every, "no text"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			_, err := parseConfig("config.toml", []byte(tt.text))
			require.Error(t, err, tt.reason)
			f := explain(err)
			require.Equal(t, exitRefused, f.Code)
			require.Contains(t, err.Error(), "config.toml:"+tt.want, tt.reason)
			require.Equal(t, tt.do, f.Do, tt.reason)
			require.Regexp(t, sentence, reported(err))
		})
	}
}

func reported(err error) string {
	var out bytes.Buffer
	report(&out, err)
	return out.String()
}

// A file that is no file of settings is refused before any of it is believed.
func TestReadConfig(t *testing.T) {
	tests := []struct {
		name, reason, want string
		make               func(t *testing.T, path string)
	}{
		{"a folder", "somebody made it by mistake", "is a folder", func(t *testing.T, path string) {
			require.NoError(t, os.Mkdir(path, 0o700))
		}},
		{"ten megabytes", "it is no file of settings", "is larger than 64 KiB", func(t *testing.T, path string) {
			require.NoError(t, os.WriteFile(path, bytes.Repeat([]byte("# fire\n"), 10<<20/7), 0o600))
		}},
		{"one byte too large", "the bound is exact", "is larger than 64 KiB", func(t *testing.T, path string) {
			require.NoError(t, os.WriteFile(path, bytes.Repeat([]byte("#"), mostConfig+1), 0o600))
		}},
		{"below a file", "the folder of settings is a file", "cannot be read", func(t *testing.T, path string) {
			require.NoError(t, os.Remove(filepath.Dir(path)))
			require.NoError(t, os.WriteFile(filepath.Dir(path), nil, 0o600))
		}},
		{"a link to nothing", "what was settled is lost, not left out", "is a link to nothing", func(t *testing.T, path string) {
			require.NoError(t, os.Symlink("gone.toml", path))
		}},
		{"a device", "it is no text, and may never end", "is no plain file", func(t *testing.T, path string) {
			require.NoError(t, os.Symlink(os.DevNull, path))
		}},
	}
	if runtime.GOOS == "linux" { // where root may read every file but this one
		tests = append(tests, struct {
			name, reason, want string
			make               func(t *testing.T, path string)
		}{"unreadable", "the disk gives an error", "cannot be read: read ", func(t *testing.T, path string) {
			require.NoError(t, os.Symlink("/proc/self/mem", path))
		}})
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.reason)
			path := filepath.Join(t.TempDir(), "dullred", "config.toml")
			require.NoError(t, os.Mkdir(filepath.Dir(path), 0o700))
			tt.make(t, path)
			_, err := readConfig(path)
			require.Error(t, err, tt.reason)
			require.Equal(t, exitRefused, explain(err).Code)
			require.Contains(t, err.Error(), tt.want, tt.reason)
			require.Regexp(t, sentence, reported(err))
		})
	}
}

func TestReadConfigOfNoFile(t *testing.T) {
	c, err := readConfig(filepath.Join(t.TempDir(), "dullred", "config.toml"))
	require.NoError(t, err)
	require.Equal(t, usualConfig(), c)
	require.False(t, c.exists)
}

func TestReadConfigOfAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "config.toml")
	text := append([]byte("hand = 'ab'\n"), bytes.Repeat([]byte("#"), mostConfig-12)...)
	require.NoError(t, os.WriteFile(path, text, 0o600))
	c, err := readConfig(path)
	require.NoError(t, err)
	require.True(t, c.exists)
	require.Equal(t, "ab", c.hand, "up to the bound a file is read")
}

// The example is a file of settings itself, and settles the defaults.
func TestConfigExample(t *testing.T) {
	text := usualConfig().file()
	c, err := parseConfig("config.toml", []byte(text))
	require.NoError(t, err)
	for _, s := range settings {
		require.Equal(t, s.name() != "record", c.given[s.name()], "%s: all but the record have a default to write down", s.name())
		require.Contains(t, text, "# "+s.about+"\n")
		require.True(t, s.section == "" || sectionsAbout[s.section] != "", s.section)
	}
	c.given = usualConfig().given
	require.Equal(t, usualConfig(), c)

	c, err = parseConfig("config.toml", []byte(strings.Replace(text, "\n# record = ", "\nrecord = ", 1)))
	require.NoError(t, err, "the line that is a remark is right too")
	require.Equal(t, "/path/to/record.db", c.record)
}

// What is promised to hold without a file.
func TestConfigDefaults(t *testing.T) {
	c := usualConfig()
	require.Equal(t, "smith", c.hand)
	require.Equal(t, heat.LightLamp, c.light, "the light that misleads is assumed")
	require.Equal(t, "dark", c.look)
	require.Equal(t, []string{"mm", "C", "g", "locale", "locale"}, []string{c.units, c.temperature, c.weight, c.decimal, c.dates})
	require.True(t, c.bell && c.desk && c.awake)
	require.Equal(t, alert.Limits{TorchLeft: 10 * time.Minute, HotLeft: 10 * time.Minute, AirHotLeft: 2 * time.Hour,
		SoakOverrun: 5 * time.Minute, FlameOverrun: 10 * time.Minute, PickleOverdue: 30 * time.Minute, FireWatch: time.Hour}, c.limits)
}

// Every setting has a place of its own.
func TestSettings(t *testing.T) {
	var c config
	names, places := map[string]bool{}, map[any]bool{}
	for _, s := range settings {
		require.False(t, names[s.name()], "%s is there twice", s.name())
		require.False(t, places[s.place(&c)], "%s shares a place", s.name())
		names[s.name()], places[s.place(&c)] = true, true
		require.Equal(t, s.key, strings.ToLower(s.key), "a misspelling is looked for in lower case")
		require.NotEmpty(t, s.written(c))
		if _, text := s.place(&c).(*string); text {
			require.NotNil(t, s.check, s.name())
		}
	}
	require.Len(t, settings, 21)
	sections := slices.Compact(mapped(settings, func(s setting) string { return s.section }))
	require.Equal(t, []string{"", "channels", "thresholds"}, sections, "each section in one piece, or the example would open it twice")
}

func mapped[T, U any](in []T, f func(T) U) (out []U) {
	for _, x := range in {
		out = append(out, f(x))
	}
	return out
}

// The looks are those that the screen has.
func TestLooks(t *testing.T) {
	require.Equal(t, mapped([]theme.Theme{theme.Dark, theme.Light, theme.Contrast, theme.Hearth}, theme.Theme.String), looks)
	require.Equal(t, "theme 4", (theme.Hearth + 1).String(), "there is one that cannot be chosen")
}

func TestLetters(t *testing.T) {
	tests := []struct {
		a, b   string
		far    int
		reason string
	}{
		{"", "", 0, "nothing to do"},
		{"hand", "hand", 0, "the same"},
		{"", "hand", 4, "all put in"},
		{"hand", "", 4, "all taken out"},
		{"hnad", "hand", 1, "two swapped"},
		{"kitten", "sitting", 3, "two changed, one put in"},
		{"lük", "luk", 1, "letters, not bytes"},
	}
	for _, tt := range tests {
		t.Run(tt.a+" "+tt.b, func(t *testing.T) {
			require.Equal(t, tt.far, letters(tt.a, tt.b), tt.reason)
			require.Equal(t, tt.far, letters(tt.b, tt.a), "the way back is as long")
		})
	}
}

// The record that the file names is the one that is written, and a flag goes
// before it.
func TestConfigRecord(t *testing.T) {
	settled, flagged := filepath.Join(t.TempDir(), "settled.db"), filepath.Join(t.TempDir(), "flagged.db")
	do := func(args ...string) string {
		var out bytes.Buffer
		conf := usualConfig()
		conf.record, conf.hand = settled, "ab"
		a := &app{out: &out, now: time.Now, getenv: func(string) string { return "" }, conf: &conf}
		root := a.root()
		root.SetArgs(args)
		require.NoError(t, root.Execute())
		return out.String()
	}
	do("piece", "new", "spoon", "--alloy", "sterling", "--size", "8x8")
	require.FileExists(t, settled)
	do("piece", "new", "bowl", "--alloy", "sterling", "--size", "8x8", "--record", flagged)
	require.FileExists(t, flagged)
	require.Contains(t, do("piece", "list"), "spoon")
	require.NotContains(t, do("piece", "list"), "bowl")
	require.Contains(t, do("log", "--json"), `"hand": "ab"`)
}

// placed is how every refusal of a text begins.
var placed = regexp.MustCompile(`^config\.toml:[1-9]\d*:[1-9]\d*: `)

// Whatever is in the file, it is refused at a place in one clean sentence, or
// what it settles can be written down and read again.
func FuzzConfig(f *testing.F) {
	for _, seed := range []string{"", usualConfig().file(), "hnad = 1", "[channels]\nbell = 'x'", "channels = { bell = false }",
		"record = '/a \"b\\c'\n[thresholds]\nfire_watch = '90:00'", "\ufeffhand = \"\"\"\n\u00f8\"\"\"", "hand = '\xff'", "[[a.b]]\n'' = [1, {c = 2}]", "x = 1979-05-27T07:32:00Z"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := parseConfig("config.toml", text)
		if err != nil {
			require.Equal(t, exitRefused, explain(err).Code)
			require.Regexp(t, placed, err.Error())
			require.NotEmpty(t, explain(err).Do)
			require.Regexp(t, sentence, reported(err))
			return
		}
		require.NoError(t, schedule.CheckName(c.hand))
		require.Contains(t, heat.Lights(), c.light)
		require.GreaterOrEqual(t, c.limits.FireWatch, leastWatch)
		again, err := parseConfig("config.toml", []byte(c.file()))
		require.NoError(t, err)
		again.given, c.given = nil, nil
		require.Equal(t, c, again)
	})
}

// BenchmarkConfig is the time to read the example, with which every command
// that opens the record begins.
func BenchmarkConfig(b *testing.B) {
	text := []byte(usualConfig().file())
	for b.Loop() {
		_, err := parseConfig("config.toml", text)
		require.NoError(b, err)
	}
}

// BenchmarkConfigHostile is the longest that a file within the bound took of many
// shapes that were tried: sections without end.
func BenchmarkConfigHostile(b *testing.B) {
	var text bytes.Buffer
	for i := 0; text.Len() < mostConfig-20; i++ {
		fmt.Fprintf(&text, "x.a%d.b=1\n", i)
	}
	for b.Loop() {
		_, err := parseConfig("config.toml", text.Bytes())
		require.Error(b, err)
	}
}
