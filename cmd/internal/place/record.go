// Package place knows where the files of a smith are, for every program that opens them.
package place

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/adrg/xdg"
	"github.com/pelletier/go-toml/v2"
)

// Config is the path of the file of settings.
func Config() string { return filepath.Join(xdg.ConfigHome, "dullred", "config.toml") }

// MostConfig is how large the file of settings may be, in bytes; all settings with what
// they are for come to less than two thousand.
const MostConfig = 64 << 10

// Usual is where the record is when nobody says where: dullred/record.db in the XDG data
// folder, whose folder is made.
func Usual() (string, error) { return xdg.DataFile("dullred/record.db") }

// Record is the path of the record: the one that is given, else the one that the
// settings name, else dullred/record.db in the XDG data folder, whose folder is made.
// Of the settings only the key record is looked at; dullred itself checks the others.
func Record(given string) (string, error) {
	if given != "" {
		return given, nil
	}
	named, err := settled(Config())
	if err != nil {
		return "", fmt.Errorf("your configuration cannot be read: %w", err)
	}
	if named != "" {
		return named, nil
	}
	return Usual()
}

// settled is the record that a file of settings names, "" if it names none or is missing.
func settled(path string) (string, error) {
	text, err := Read(path, MostConfig)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	var settings struct {
		Record string `toml:"record"`
	}
	if err := toml.Unmarshal(text, &settings); err != nil {
		return "", fmt.Errorf("%s: %w", path, err)
	}
	if settings.Record != "" && !filepath.IsAbs(settings.Record) {
		return "", fmt.Errorf("%s: record: %.200q is not a whole path", path, settings.Record)
	}
	return settings.Record, nil
}
