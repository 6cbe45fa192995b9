package main

import (
	"bytes"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/require"

	"dullred/schedule/demo"
	"dullred/schedule/picture"
)

func demoFigure() drawn {
	d := demo.Class(time.Date(2026, time.March, 3, 19, 0, 0, 0, time.UTC))[1]
	return drawn{picture.Of(picture.Source{Name: d.Name, Entries: d.Entries}).Strain(), "spoon-limit"}
}

// A PNG is never written to a terminal, and goes into a folder from one.
func TestNoPNGOnATerminal(t *testing.T) {
	screen, terminal, err := pty.Open()
	require.NoError(t, err)
	defer screen.Close()
	defer terminal.Close()
	a := &app{out: terminal, getenv: func(string) string { return "" }}
	err = a.draw(demoFigure(), pictureFlags{format: "png"})
	require.ErrorContains(t, err, "a PNG is no text")
	require.Equal(t, exitRefused, explain(err).Code)
	require.NoError(t, a.draw(demoFigure(), pictureFlags{format: "png", into: t.TempDir()}))
}

// In a terminal a picture is as wide as that, and no wider than is read at a glance.
func TestPictureIsAsWideAsTheTerminal(t *testing.T) {
	screen, terminal, err := pty.Open()
	require.NoError(t, err)
	defer screen.Close()
	defer terminal.Close()
	for wide, want := range map[uint16]int{60: 60, 100: 100, 200: pictureMost} {
		require.NoError(t, pty.Setsize(screen, &pty.Winsize{Cols: wide, Rows: 40}))
		require.Equal(t, want, (&app{out: terminal}).columns(pictureFlags{}))
	}
	require.Equal(t, pictureColumns, (&app{out: &bytes.Buffer{}}).columns(pictureFlags{}))
	require.Equal(t, pictureColumns, (&app{out: terminal}).columns(pictureFlags{into: "x"}), "a file is not as wide as the terminal")
}
