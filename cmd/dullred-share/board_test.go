package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/postgres"
	"dullred/schedule/share"
)

// onBoard runs dullred-share board until it is ended.
func (b *bench) onBoard(args ...string) (out *lockedBuffer, end func() int) {
	out = &lockedBuffer{}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan int, 1)
	var errOut bytes.Buffer
	go func() { ended <- b.app(out).run(ctx, append([]string{"board", "--to", address}, args...), &errOut) }()
	return out, func() int {
		cancel()
		code := <-ended
		require.Empty(b.t, errOut.String())
		return code
	}
}

// A board needs no record on this machine. It goes on without a server.
func TestBoard(t *testing.T) {
	b := newBench(t, 0)
	b.others("there 1")
	out, end := b.onBoard()
	until(t, out, "1 piece at 1 bench")
	until(t, out, "UNSURE")
	require.Equal(t, exitOK, end())

	b.fault = share.ErrPassword
	out, end = b.onBoard()
	until(t, out, "OLD since 18:40. The board is alone: the server does not accept the role or its password.")
	require.Equal(t, exitOK, end())
}

func TestBoardPage(t *testing.T) {
	b := newBench(t, 0)
	b.others("there 1")
	out, end := b.onBoard("--http", "127.0.0.1:0")
	until(t, out, "Ctrl-C ends it\n")
	url := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(out.String())
	require.Eventually(t, func() bool {
		answer, err := http.Get(url)
		require.NoError(t, err)
		defer answer.Body.Close()
		page, err := io.ReadAll(answer.Body)
		require.NoError(t, err)
		return answer.StatusCode == http.StatusOK && bytes.Contains(page, []byte("1 piece at 1 bench"))
	}, 20*time.Second, 10*time.Millisecond)
	require.Equal(t, exitOK, end())
	_, err := http.Get(url)
	require.Error(t, err, "it has ended")
}

// What cannot be a board is refused in one sentence.
func TestBoardRefuses(t *testing.T) {
	cases := []struct {
		name   string
		fault  error
		args   []string
		says   string
		reason string
	}{
		{"no shared record", nil, []string{"board"}, "the address of the shared record is missing", "there is no usual one"},
		{"everywhere", nil, []string{"board", "--to", address, "--http", "0.0.0.0:8080"}, "give --certificate FILE and --key FILE with it, or a loopback address such as 127.0.0.1:8080; no page was given", "anybody could read it"},
		{"a certificate alone", nil, []string{"board", "--to", address, "--http", "127.0.0.1:0", "--certificate", "board.crt"}, "its key is missing; give --key FILE too; no page was given", "half of it is nothing"},
		{"a key alone", nil, []string{"board", "--to", address, "--http", "127.0.0.1:0", "--key", "board.key"}, "there is only the key; give --certificate FILE too", "half of it is nothing"},
		{"no such certificate", nil, []string{"board", "--to", address, "--http", "127.0.0.1:0", "--certificate", "/none.crt", "--key", "/none.key"}, "open /none.crt: no such file or directory; no page was given", "it is said which"},
		{"a certificate for a terminal", nil, []string{"board", "--to", address, "--certificate", "board.crt", "--key", "board.key"}, "a certificate and a key are for the web page; nothing was done; give --http ADDRESS too", "the address was forgotten"},
		{"no port", nil, []string{"board", "--to", address, "--http", "127.0.0.1"}, "is not of the form 127.0.0.1:PORT", "none is guessed"},
		{"a bad address", postgres.ErrAddress, []string{"board", "--to", address}, "the address cannot be used", "trying again would not help"},
		{"a bad address and a page", postgres.ErrAddress, []string{"board", "--to", address, "--http", "127.0.0.1:0"}, "the address cannot be used", "trying again would not help"},
		{"JSON", nil, []string{"board", "--to", address, "--json"}, "leave out --json", "it is not kept silent"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			b := newBench(t, 0)
			b.fault = c.fault
			code, _, errOut := b.ran(c.args...)
			require.Equal(t, exitRefused, code, errOut)
			require.Contains(t, errOut, c.says)
			require.Regexp(t, `^dullred-share: [^\n]+\.\n$`, errOut, "one sentence")
		})
	}
}
