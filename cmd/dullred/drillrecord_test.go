package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

func TestLessonsPath(t *testing.T) {
	cases := []struct{ name, record, want string }{
		{"beside the record", "/home/ab/record.db", "/home/ab/record-lessons.db"},
		{"another ending", "evening.sqlite", "evening-lessons.sqlite"},
		{"no ending", "/srv/record", "/srv/record-lessons"},
		{"a dot in the folder", "/srv/a.b/record", "/srv/a.b/record-lessons"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := (&app{record: c.record}).lessonsPath()
			require.NoError(t, err)
			require.Equal(t, c.want, got)
		})
	}
}

// student is a run of the program on a record of its own.
func student(t *testing.T, hand string) *app {
	t.Helper()
	return &app{out: io.Discard, hand: hand, record: filepath.Join(t.TempDir(), "record.db"), conf: &config{hand: "smith"},
		now: func() time.Time { return time.Date(2026, time.March, 3, 19, 0, 0, 0, time.UTC) }, getenv: func(string) string { return "" }}
}

// Lessons are kept by hand, in the order of their time, and the record is never made.
func TestLessonsAreKeptApart(t *testing.T) {
	a := student(t, "ab")
	first := schedule.Drilled{Level: 2, Seed: 7, Asked: 4, Error: 1.25, Heats: 1, Splits: 1}
	require.NoError(t, a.keepLesson(first))
	a.hand, a.now = "cd", func() time.Time { return time.Date(2026, time.March, 3, 20, 0, 0, 0, time.UTC) }
	require.NoError(t, a.keepLesson(schedule.Drilled{Level: 3, Seed: 18446744073709551615}))

	b, err := a.openLessons()
	require.NoError(t, err)
	defer func() { require.NoError(t, b.close()) }()
	all, err := b.lessons()
	require.NoError(t, err)
	require.Len(t, all, 2)
	require.Equal(t, first, all[0].Body)
	require.Equal(t, uint64(18446744073709551615), all[1].Body.(schedule.Drilled).Seed, "every digit of a seed")
	require.NotEqual(t, all[0].Hand, all[1].Hand)
	require.Equal(t, all[0].Bench, all[1].Bench)
	require.NotEqual(t, all[0].Piece, all[1].Piece, "a lesson has an id of its own in place of a piece's")
	id, found, err := b.rec.LabelID("hand", "ab")
	require.NoError(t, err)
	require.True(t, found)
	require.Equal(t, schedule.ID(id), all[0].Hand)

	_, err = os.Stat(a.record)
	require.ErrorIs(t, err, os.ErrNotExist)
}

// A lesson that was taken back, or that a later version wrote, is none.
func TestLessonsThatDoNotCount(t *testing.T) {
	a := student(t, "ab")
	require.NoError(t, a.keepLesson(schedule.Drilled{Level: 2, Seed: 7, Asked: 4}))
	b, err := a.openLessons()
	require.NoError(t, err)
	defer func() { require.NoError(t, b.close()) }()
	all, err := b.lessons()
	require.NoError(t, err)
	require.Len(t, all, 1)

	void := all[0]
	void.ID, void.Body = schedule.NewID(), schedule.Void{Target: all[0].ID}
	later := all[0]
	row, err := schedule.Encode(later)
	require.NoError(t, err)
	row.ID, row.Version = string(schedule.NewID()), 99
	later.ID, later.Body = schedule.ID(row.ID), schedule.Unknown{Row: row}
	require.NoError(t, b.append(nil, void, later))
	all, err = b.lessons()
	require.NoError(t, err)
	require.Empty(t, all)
}
