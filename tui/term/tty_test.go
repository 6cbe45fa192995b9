package term

import (
	"bytes"
	"errors"
	"io"
	"testing"
	"unicode/utf8"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// script is a terminal that gives its reads one after the other.
type script struct {
	tcell.Tty
	reads []string
	last  error // after the reads; nil gives empty reads for ever
	size  tcell.WindowSize
	out   bytes.Buffer
	wait  chan struct{} // if set, Read waits for it after the reads
}

func (s *script) Read(p []byte) (int, error) {
	if len(s.reads) == 0 {
		if s.wait != nil {
			<-s.wait
			return 0, io.EOF
		}
		return 0, s.last
	}
	n := copy(p, s.reads[0])
	s.reads = s.reads[1:]
	return n, nil
}

func (s *script) Write(p []byte) (int, error)           { return s.out.Write(p) }
func (s *script) WindowSize() (tcell.WindowSize, error) { return s.size, nil }
func (s *script) Start() error                          { return nil }
func (s *script) Stop() error                           { return nil }
func (s *script) Close() error                          { return nil }
func (s *script) NotifyResize(func())                   {}
func (s *script) Drain() error {
	if s.wait != nil {
		close(s.wait)
	}
	return nil
}

// all reads a terminal to its end.
func all(t require.TestingT, tty io.Reader) string {
	got, err := io.ReadAll(tty)
	require.NoError(t, err)
	return string(got)
}

func TestTtyRead(t *testing.T) {
	cases := []struct {
		name   string
		reads  []string
		want   string
		reason string
	}{
		{"letters", []string{"anneal ", "é█"}, "anneal é█", "what is valid passes"},
		{"a lone byte", []string{"\xff", "q"}, "q", "it can never be a letter"},
		{"a byte of Latin-1 before a key", []string{"\xe9q"}, "q", "the key after it shows that no letter comes"},
		{"a byte of Latin-1 and a later key", []string{"\xe9", "q"}, "q", "an unfinished letter does not hold the key back"},
		{"a letter in two reads", []string{"\xc3", "\xa9"}, "é", "the tail is kept"},
		{"a letter in four reads", []string{"\xf0", "\x9f", "\x94", "\xa5"}, "🔥", "so is a long one"},
		{"two beginnings", []string{"\xc3", "\xc3\xa9"}, "é", "the first cannot go on with a second"},
		{"a beginning and an arrow", []string{"\xe2\x96", "\x1b[A"}, "\x1b[A", "an escape sequence passes untouched"},
		{"the replacement character", []string{"\xef\xbf\xbd"}, "\uFFFD", "it is a letter as well"},
		{"a surrogate", []string{"\xed\xa0\x80q"}, "q", "UTF-8 has none"},
		{"an overlong slash", []string{"\xc0\xafq"}, "q", "UTF-8 has one way to write it"},
		{"an end in a letter", []string{"q\xe2\x96"}, "q", "half a letter is none"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			require.Equal(t, c.want, all(t, NewTty(&script{reads: c.reads, last: io.EOF})), c.reason)
		})
	}
}

func TestTtyReadEnds(t *testing.T) {
	lost := errors.New("input/output error")
	tty := NewTty(&script{reads: []string{"a\xff"}, last: lost})
	var p [8]byte
	n, err := tty.Read(p[:])
	require.NoError(t, err)
	require.Equal(t, "a", string(p[:n]))
	_, err = tty.Read(p[:])
	require.ErrorIs(t, err, lost, "an error of the terminal is told")
}

func TestTtyEmptyReadsEnd(t *testing.T) {
	tty := NewTty(&script{})
	var p [8]byte
	for range mostEmpty - 1 {
		n, err := tty.Read(p[:])
		require.NoError(t, err, "tcell looks whether to stop after an empty read")
		require.Zero(t, n)
	}
	_, err := tty.Read(p[:])
	require.ErrorIs(t, err, io.ErrNoProgress)
}

func TestTtySmallReads(t *testing.T) {
	tty := NewTty(&script{reads: []string{"é█\xff🔥"}, last: io.EOF})
	var got []byte
	for {
		var p [1]byte
		n, err := tty.Read(p[:])
		if err != nil {
			break
		}
		got = append(got, p[:n]...)
	}
	require.Equal(t, "é█🔥", string(got))
}

func TestTtyStartForgetsTheTail(t *testing.T) {
	under := &script{reads: []string{"a\xc3", "\xa9b"}, last: io.EOF}
	tty := NewTty(under)
	var p [8]byte
	_, err := tty.Read(p[:])
	require.NoError(t, err)
	require.NoError(t, tty.Start())
	require.Equal(t, "b", all(t, tty))
}

// pieces cuts bytes at any places.
func pieces(t *rapid.T, data []byte) []string {
	var cut []string
	for len(data) > 0 {
		n := rapid.IntRange(1, min(len(data), chunk)).Draw(t, "piece")
		cut = append(cut, string(data[:n]))
		data = data[n:]
	}
	return cut
}

func TestTtyKeepsWhatIsValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		got := all(t, NewTty(&script{reads: pieces(t, []byte(text)), last: io.EOF}))
		require.Equal(t, string([]rune(text)), got)
	})
}

func TestTtyGivesValidText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")
		got := all(t, NewTty(&script{reads: pieces(t, data), last: io.EOF}))
		require.True(t, utf8.ValidString(got), "%q", got)
		require.Equal(t, string(bytes.ToValidUTF8(data, nil)), got, "the standard library drops the same")
	})
}

// Bytes that no letter holds stand between the letters: none of these is lost.
func TestTtyLosesNoLetter(t *testing.T) {
	garbage := rapid.SampledFrom([]string{"", "\xc0", "\xc1", "\xf5", "\xff", "\xc3", "\xe2\x96", "\xf0\x9f\x94"})
	rapid.Check(t, func(t *rapid.T) {
		var data []byte
		letters := []rune(rapid.String().Draw(t, "letters"))
		for _, r := range letters {
			data = append(data, garbage.Draw(t, "garbage")...)
			data = utf8.AppendRune(data, r)
		}
		got := all(t, NewTty(&script{reads: pieces(t, data), last: io.EOF}))
		require.Equal(t, string(letters), got)
	})
}
