package main

import (
	"path/filepath"
	"slices"
	"strings"

	"dullred/schedule"
)

// lessonsPath is the file of lessons: beside the record, in the same format, and
// never the record itself, because a simulated bar is no piece.
func (a *app) lessonsPath() (string, error) {
	path, err := a.path()
	if err != nil {
		return "", err
	}
	ext := filepath.Ext(path)
	return strings.TrimSuffix(path, ext) + "-lessons" + ext, nil
}

// openLessons opens the file of lessons, and makes it where there is none; the
// caller closes it. Who works is found by label, as in the record, but in that file.
func (a *app) openLessons() (*bench, error) {
	conf, err := a.config()
	if err != nil {
		return nil, err
	}
	path, err := a.lessonsPath()
	if err != nil {
		return nil, err
	}
	return a.openAt(path, conf)
}

// lessons are all that were ended, by whichever hand, in the order of their time.
// Those taken back and those of a version to come are left out; one that is damaged
// is an error.
func (b *bench) lessons() (all []schedule.Entry, err error) {
	for row, err := range b.rec.All() {
		if err != nil {
			return nil, err
		}
		e, err := schedule.Decode(schedule.Row(row))
		if err != nil {
			return nil, err
		}
		all = append(all, e)
	}
	dead := schedule.Voided(all)
	return slices.DeleteFunc(all, func(e schedule.Entry) bool {
		_, lesson := e.Body.(schedule.Drilled)
		return !lesson || dead[e.ID]
	}), nil
}
