package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"dullred/cmd/internal/place"
)

// config is the smith's configuration, read once. A missing file is the
// defaults; with a bad one no command goes on that would open the record.
func (a *app) config() (config, error) {
	if a.conf == nil {
		c, err := readConfig(place.Config())
		if err != nil {
			return config{}, err
		}
		a.conf = &c
	}
	return *a.conf, nil
}

const mostConfig = place.MostConfig

const mendConfig = "mend it; dullred config --example shows every key"

func readConfig(path string) (config, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return noConfig(path)
	case err != nil:
		return config{}, refuse("make it a file that you may read", "your configuration cannot be read: %w", err)
	case info.IsDir():
		return config{}, refuse("move it away", "%s is a folder, expected a file of settings", path)
	case !info.Mode().IsRegular():
		return config{}, refuse("move it away", "%s is no plain file", path) // a pipe would be waited for
	}
	text, err := readStart(path, mostConfig+1)
	if err != nil {
		return config{}, refuse("make it a file that you may read", "your configuration cannot be read: %w", err)
	}
	if len(text) > mostConfig {
		return config{}, refuse(mendConfig, "%s is larger than %d KiB", path, mostConfig>>10)
	}
	c, err := parseConfig(path, text)
	c.exists = true
	return c, err
}

// noConfig is the defaults, but not where a link leads to a file that is gone:
// what it settled is lost, and nobody left it out.
func noConfig(path string) (config, error) {
	if _, err := os.Lstat(path); err == nil {
		return config{}, refuse("put its file back, or take the link away", "%s is a link to nothing", path)
	}
	return usualConfig(), nil
}

// readStart reads no more of a file than its first n bytes.
func readStart(path string, n int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(f, n))
	return text, errors.Join(err, f.Close())
}

// configText is a file of settings as it is read.
type configText struct {
	path    string
	text    []byte
	section []string // that the last head opened
	found   config
}

// parseConfig reads settings. It walks over the text by itself, since the strict
// mode of the library takes a key in any case, so that hand and Hand would both
// be taken and the last would win, and does not say where an accepted value
// stands. The path is for the errors.
func parseConfig(path string, text []byte) (config, error) {
	t := &configText{path: path, text: bytes.TrimPrefix(text, []byte("\uFEFF")), found: usualConfig()}
	if err := t.checkTOML(); err != nil {
		return config{}, err
	}
	var p unstable.Parser
	p.Reset(t.text)
	for p.NextExpression() {
		if err := t.take(p.Expression()); err != nil {
			return config{}, err
		}
	}
	if err := p.Error(); err != nil {
		return config{}, refuse(mendConfig, "%s: this is not TOML: %w", t.at(0), err)
	}
	return t.found, nil
}

// checkTOML refuses what is no TOML at all, and a key or section that stands
// there twice.
func (t *configText) checkTOML() error {
	if !utf8.Valid(t.text) {
		return refuse("save it as UTF-8", "%s: this is not UTF-8", t.at(sound(t.text)))
	}
	err := toml.Unmarshal(t.text, &map[string]any{})
	if err == nil {
		return nil
	}
	offset := 0
	if e, ok := errors.AsType[*toml.DecodeError](err); ok {
		offset = t.offset(e.Position())
	}
	return refuse(mendConfig, "%s: this is not TOML: %s", t.at(offset), shorten(strings.TrimPrefix(err.Error(), "toml: ")))
}

// sound is how many bytes of a text come before the first that is no UTF-8.
func sound(text []byte) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(text)
}

// at names a place in the file: its line and the character there, from 1 on.
func (t *configText) at(offset int) string {
	before := t.text[:offset]
	line := before[bytes.LastIndexByte(before, '\n')+1:]
	return fmt.Sprintf("%s:%d:%d", t.path, 1+bytes.Count(before, []byte("\n")), 1+utf8.RuneCount(line))
}

// offset is where a line and a byte in it are in the text.
func (t *configText) offset(line, column int) int {
	start := 0
	for range line - 1 {
		start += bytes.IndexByte(t.text[start:], '\n') + 1
	}
	return min(start+column-1, len(t.text))
}

// take reads a head of a section or a line with a key.
func (t *configText) take(n *unstable.Node) error {
	if n.Kind == unstable.KeyValue {
		return t.keyValue(t.section, n)
	}
	path, offset := keyOf(n)
	t.section = path
	switch {
	case n.Kind == unstable.ArrayTable && isSection(path):
		return refuse(mendConfig, "%s: %q is a section, expected [%s] in single brackets", t.at(offset), path[0], path[0])
	case isSection(path):
		return nil
	}
	if s, ok := settingOf(path); ok {
		return refuse(mendConfig, "%s: %q is a section here, expected a line with %s = %s", t.at(offset), s.name(), s.key, s.sample())
	}
	return t.unknown(path, offset)
}

func (t *configText) keyValue(section []string, n *unstable.Node) error {
	key, offset := keyOf(n)
	path, v := slices.Concat(section, key), n.Value()
	if s, ok := settingOf(path); ok {
		if err := s.read(&t.found, v); err != nil {
			return refuse(mendConfig, "%s: %q: %w", t.at(offset), s.name(), err)
		}
		t.found.given[s.name()] = true
		return nil
	}
	if !isSection(path) {
		return t.unknown(path, offset)
	}
	if v.Kind != unstable.InlineTable {
		return refuse(mendConfig, "%s: %q is %s, expected a section under [%s]", t.at(offset), path[0], kinds[v.Kind], path[0])
	}
	for inside := v.Children(); inside.Next(); {
		if err := t.keyValue(path, inside.Node()); err != nil {
			return err
		}
	}
	return nil
}
