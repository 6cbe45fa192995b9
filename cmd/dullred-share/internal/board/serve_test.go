package board_test

import (
	"bufio"
	"context"
	"errors"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/cmd/dullred-share/internal/board"
	rows "dullred/schedule/board"
)

// site is a page that is served until the test has ended.
type site struct {
	t   testing.TB
	url string
	end func() // ends it and waits for that
}

func serve(t testing.TB, f *board.Feed) *site {
	l, err := board.Listen(board.Place{Address: "127.0.0.1:0"})
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	over := make(chan error, 1)
	go func() { over <- board.Serve(ctx, f, l) }()
	ended := false
	s := &site{t, "http://" + l.Addr().String(), func() {
		cancel()
		if !ended {
			require.NoError(t, <-over)
		}
		ended = true
	}}
	t.Cleanup(s.end)
	return s
}

// get asks for a path, as somebody who calls the page by a host.
func (s *site) get(method, path, host string) (*http.Response, string) {
	s.t.Helper()
	r, err := http.NewRequestWithContext(s.t.Context(), method, s.url+path, nil)
	require.NoError(s.t, err)
	if host != "" {
		r.Host = host
	}
	answer, err := http.DefaultClient.Do(r)
	require.NoError(s.t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	require.NoError(s.t, err)
	return answer, string(text)
}

// event is one server-sent event.
type event struct{ kind, data string }

// listen gives the events as they come, until the stream ends.
func (s *site) listen() <-chan event {
	s.t.Helper()
	r, err := http.NewRequestWithContext(s.t.Context(), http.MethodGet, s.url+"/events", nil)
	require.NoError(s.t, err)
	answer, err := http.DefaultClient.Do(r)
	require.NoError(s.t, err)
	require.Equal(s.t, "text/event-stream", answer.Header.Get("Content-Type"))
	events := make(chan event, 100)
	go func() {
		defer close(events)
		defer answer.Body.Close()
		var e event
		for lines := bufio.NewScanner(answer.Body); lines.Scan(); {
			switch kind, data, _ := strings.Cut(lines.Text(), ": "); {
			case kind == "event":
				e.kind = data
			case kind == "data":
				e.data += data + "\n"
			case lines.Text() == "" && e.kind != "":
				events <- e
				e = event{}
			}
		}
	}()
	return events
}

// hears waits for an event of a kind with some words in it.
func hears(t testing.TB, events <-chan event, kind, words string) string {
	t.Helper()
	late := time.After(20 * time.Second)
	for {
		select {
		case e, open := <-events:
			require.True(t, open, "the stream ended before %q", words)
			if e.kind == kind && strings.Contains(e.data, words) {
				return e.data
			}
		case <-late:
			require.Fail(t, "not heard: "+words)
		}
	}
}

func TestPage(t *testing.T) {
	s := newShop(t)
	s.send("bench <3>", `spoon</th><script src="//board.example/x.js">alert(1)</script>`, rod(), to(5))
	f := s.feed()
	until(t, f, shows(1))
	site := serve(t, f)
	answer, page := site.get(http.MethodGet, "/", "")
	require.Equal(t, http.StatusOK, answer.StatusCode)
	policy := answer.Header.Get("Content-Security-Policy")
	nonce := regexp.MustCompile(`'nonce-([A-Z2-7]+)'`).FindStringSubmatch(policy)
	require.NotNil(t, nonce, policy)
	require.Equal(t, "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; style-src 'nonce-"+nonce[1]+
		"'; script-src 'nonce-"+nonce[1]+"'; connect-src 'self'; img-src data:", policy)
	require.Equal(t, 2, strings.Count(page, `nonce="`+nonce[1]+`"`), "the style and the script")
	require.Equal(t, 1, strings.Count(page, "<script"), "what somebody calls a spoon is text")
	require.Contains(t, page, `<th scope="row">spoon&lt;/th&gt;&lt;script`)
	require.Contains(t, page, `<div class="one w16">ANNEAL bench &lt;3&gt;</div>`)
	require.Contains(t, page, `<td class="press">anneal now</td><td>bench &lt;3&gt;</td>`)
	require.Contains(t, page, `<span id="n-stop" class="stop">1 STOP</span>`)
	require.Contains(t, page, `<p id="clock">18:31</p>`)
	require.Contains(t, page, `<noscript><meta http-equiv="refresh" content="5"></noscript>`)
	require.NotContains(t, page, "http://")
	require.NotContains(t, page, "https://")
	_, again := site.get(http.MethodGet, "/", "")
	require.NotContains(t, again, nonce[1], "a nonce is used once")
}

// What somebody calls a piece or a bench turns no line around and is no command.
func TestPageOfStrangeNames(t *testing.T) {
	f := board.NewFeed(nil, now)
	board.Show(f, &board.Picture{Read: evening, Rows: []rows.Row{{ID: "1", Bench: "\u202ebench\x1b[2J 3", Piece: "spoon\u2066\u200f\r\nevent: board", Hot: evening, Dark: true}}})
	site := serve(t, f)
	_, page := site.get(http.MethodGet, "/", "")
	table := hears(t, site.listen(), "board", "bench[2J 3")
	for _, text := range []string{page, table} {
		require.Contains(t, text, "HOT bench[2J 3</div>")
		require.Contains(t, text, `<th scope="row">spoon event: board</th>`)
		require.NotRegexp(t, "[\u202e\u2066\u200f\x1b\r]", text)
	}
}

func TestWhoIsAnswered(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod())
	f := s.feed()
	until(t, f, shows(1))
	site := serve(t, f)
	here := strings.TrimPrefix(site.url, "http://")
	port := here[strings.LastIndex(here, ":"):]
	cases := []struct {
		name, method, path, host string
		status                   int
		says, reason             string
	}{
		{"by figures", http.MethodGet, "/", here, http.StatusOK, "spoon", "it is ours"},
		{"by name", http.MethodGet, "/", "localhost" + port, http.StatusOK, "spoon", "it is ours"},
		{"only the head", http.MethodHead, "/", here, http.StatusOK, "", "a look whether it is there"},
		{"a name from elsewhere", http.MethodGet, "/", "board.example" + port, http.StatusForbidden, "not known by this name", "a page from elsewhere whose name was turned"},
		{"its events", http.MethodGet, "/events", "board.example" + port, http.StatusForbidden, "not known by this name", "the events are no less private"},
		{"something is sent", http.MethodPost, "/", here, http.StatusMethodNotAllowed, "can only be read", "nothing is taken"},
		{"another page", http.MethodGet, "/spoon", here, http.StatusNotFound, "one page", "there is none"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			answer, text := site.get(c.method, c.path, c.host)
			require.Equal(t, c.status, answer.StatusCode, c.reason)
			require.Contains(t, text, c.says)
			if c.status != http.StatusOK {
				require.NotContains(t, text, "spoon", c.reason)
			}
			require.Contains(t, answer.Header.Get("Content-Security-Policy"), "default-src 'none'")
			require.Equal(t, "no-store", answer.Header.Get("Cache-Control"))
			require.Equal(t, "nosniff", answer.Header.Get("X-Content-Type-Options"))
		})
	}
}

func TestEvents(t *testing.T) {
	s := newShop(t)
	s.send("bench 3", "spoon", rod(), to(7))
	f := s.feed()
	until(t, f, shows(1))
	site := serve(t, f)
	events := site.listen()
	table := hears(t, events, "board", "carry on")
	_, page := site.get(http.MethodGet, "/", "")
	for part := range strings.SplitSeq(table, "\n") {
		require.Contains(t, page, part, "the same as on the page")
	}

	s.send("bench 3", "spoon", to(5))
	hears(t, events, "board", "anneal now")
	hears(t, events, "news", "bench 3: spoon: anneal now, ")

	s.lose(errors.New("the cable\nis out"))
	hears(t, events, "board", `<b id="since">OLD since 18:31</b><span id="why">The board is alone: the cable is out; below is what was known at 18:31.</span>`)
	hears(t, events, "news", "The board is alone since 18:31.")
	_, page = site.get(http.MethodGet, "/", "")
	require.Contains(t, page, "OLD since 18:31")
	s.lose(nil)
	hears(t, events, "news", "The board is with the shared record again.")

	site.end()
	for open := true; open; {
		_, open = <-events
	}
}

// A page whose program cannot read from the start says so.
func TestPageWithoutARecord(t *testing.T) {
	s := newShop(t)
	s.lose(errors.New("no server answers"))
	f := s.feed()
	until(t, f, func(p *board.Picture) bool { return !p.Alone.IsZero() })
	_, page := serve(t, f).get(http.MethodGet, "/", "")
	require.Contains(t, page, "The board is alone: no server answers.</span>")
	require.Contains(t, page, "NOT READ YET", "and nothing is called calm")
	require.Contains(t, page, "nothing was read yet")
}

// So many may listen and no more, and who goes makes room.
func TestManyListeners(t *testing.T) {
	s := newShop(t)
	f := s.feed()
	until(t, f, shows(0))
	site := serve(t, f)
	ctx, leave := context.WithCancel(t.Context())
	ask := func() int {
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, site.url+"/events", nil)
		require.NoError(t, err)
		answer, err := http.DefaultClient.Do(r)
		require.NoError(t, err)
		t.Cleanup(func() { _ = answer.Body.Close() })
		return answer.StatusCode
	}
	for range 64 {
		require.Equal(t, http.StatusOK, ask())
	}
	require.Equal(t, http.StatusServiceUnavailable, ask())
	leave()
	ctx = t.Context()
	require.Eventually(t, func() bool { return ask() == http.StatusOK }, 20*time.Second, 20*time.Millisecond)
}
