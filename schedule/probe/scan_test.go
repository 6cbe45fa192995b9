package probe

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// linesOf is every line that is not empty, those that are too long as "long".
func linesOf(t *testing.T, r io.Reader) (lines []string, err error) {
	t.Helper()
	s := scanner{from: r}
	for {
		line, long, err := s.next()
		switch {
		case err != nil:
			return lines, err
		case long:
			require.Len(t, line, maxLine)
			lines = append(lines, "long")
		case line != "":
			lines = append(lines, line)
		}
	}
}

func TestLines(t *testing.T) {
	full, over := strings.Repeat("a", maxLine), strings.Repeat("b", maxLine+1)
	cases := []struct {
		name, sent string
		want       []string
		reason     string
	}{
		{"ends", "1\n2\r\n3\r4\n\r5\n", []string{"1", "2", "3", "4", "5"}, "every line end that devices send"},
		{"half", "1\n650", []string{"1"}, "a device that goes leaves half a number"},
		{"full", full + "\n1\n", []string{full, "1"}, "256 bytes are a line"},
		{"long", over + "\n1\n", []string{"long", "1"}, "257 are not"},
		{"endless", strings.Repeat(over, 100) + "\n1\n", []string{"long", "1"}, "a long line is one line"},
		{"nothing", "", nil, "nothing sent"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			for _, slow := range []bool{false, true} {
				var r io.Reader = strings.NewReader(c.sent)
				if slow {
					r = iotest.OneByteReader(r)
				}
				got, err := linesOf(t, r)
				require.ErrorIs(t, err, io.EOF)
				require.Equal(t, c.want, got, "%s; by byte: %v", c.reason, slow)
			}
		})
	}
}

func TestTheLastLineOfAFileCountsWithoutAnEnd(t *testing.T) {
	got, err := linesOf(t, Once(io.NopCloser(strings.NewReader("1\n650"))))
	require.ErrorIs(t, err, ErrEnd)
	require.Equal(t, []string{"1", "650"}, got)
	got, err = linesOf(t, Once(io.NopCloser(io.MultiReader(strings.NewReader("1\n650"), iotest.ErrReader(errors.New("unplugged"))))))
	require.EqualError(t, err, "unplugged")
	require.Equal(t, []string{"1"}, got, "half a number")
}

func TestFromNextLineLeavesOutHalfALine(t *testing.T) {
	for _, sent := range []string{"50.5\n650.5\n", strings.Repeat("x", 9000) + "\n650.5\n", "\n650.5\n"} {
		got, err := linesOf(t, FromNextLine(io.NopCloser(strings.NewReader(sent))))
		require.ErrorIs(t, err, io.EOF)
		require.Equal(t, []string{"650.5"}, got)
		got, _ = linesOf(t, FromNextLine(io.NopCloser(iotest.OneByteReader(strings.NewReader(sent)))))
		require.Equal(t, []string{"650.5"}, got)
	}
}

func TestAReaderThatGivesNothingIsBroken(t *testing.T) {
	_, err := linesOf(t, nothing{})
	require.ErrorIs(t, err, io.ErrNoProgress)
}

type nothing struct{}

func (nothing) Read([]byte) (int, error) { return 0, nil }
