package board

import (
	"bufio"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/require"
)

// FuzzRequest sends bytes to the page as a browser would: each request gets one of five
// answers, guarded, and none repeats what was asked; who asks for another machine gets
// nothing.
func FuzzRequest(f *testing.F) {
	for _, seed := range []string{"GET / HTTP/1.1\r\nHost: localhost:8080\r\n\r\n", "HEAD / HTTP/1.1\r\nHost: 127.0.0.1:8080\r\n\r\n", "GET /<script>EVIL HTTP/1.1\r\nHost: [::1]:8080\r\n\r\n",
		"POST /events HTTP/1.1\r\nHost: localhost:8080\r\nContent-Length: 4\r\n\r\nEVIL", "GET http://EVIL/ HTTP/1.1\r\nHost: localhost:8080\r\n\r\n", "GET //%00/../ HTTP/1.0\r\n\r\n",
		"GET / HTTP/1.1\r\nHost: [\r\n\r\n", "GET /?EVIL HTTP/1.1\r\nHost: 127.1:8080\r\nLast-Event-ID: EVIL\r\n\r\n", "OPTIONS * HTTP/1.1\r\nHost: localhost:8080\r\n\r\n",
		"GET / HTTP/1.1\r\nHost: [localhost]:8080\r\n\r\n"} {
		f.Add([]byte(seed))
	}
	door := &Door{Listener: at{port: 8080}}
	s := newSite(NewFeed(nil, time.Now), door.asksUs)
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := http.ReadRequest(bufio.NewReader(strings.NewReader(string(text))))
		if err != nil || r.URL.Path == "/events" && (r.Method == http.MethodGet || r.Method == http.MethodHead) {
			return // the events go on for ever
		}
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		require.Contains(t, []int{http.StatusOK, http.StatusForbidden, http.StatusMethodNotAllowed, http.StatusNotFound}, w.Code)
		require.Contains(t, w.Header().Get("Content-Security-Policy"), "default-src 'none'")
		require.Equal(t, "no-store", w.Header().Get("Cache-Control"))
		require.NotContains(t, w.Body.String(), "EVIL")
		if w.Code == http.StatusOK {
			host := strings.Trim(strings.TrimSuffix(r.Host, ":8080"), "[]")
			require.True(t, host == "localhost" || loopback(host), "%q", r.Host)
		}
	})
}

// FuzzPlace: an address that may be listened at without a certificate is of this machine,
// in figures; one that is refused is named in one line.
func FuzzPlace(f *testing.F) {
	for _, seed := range []string{"127.0.0.1:8080", "localhost:0", "[::1]:65535", ":8080", "0.0.0.0:1", "board.example:80", "127.0.0.1:65536", "127.0.0.1:+1", "[fe80::1%eth0]:1", "[::ffff:127.0.0.1]:1", "\x1b:1", "127.0.0.1:\n1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, certified := range []bool{false, true} {
			got, err := Place{Address: text}.address(certified)
			if err != nil {
				require.ErrorIs(t, err, ErrAddress)
				require.False(t, strings.ContainsFunc(err.Error(), unicode.IsControl), "%q", err)
				continue
			}
			again, err := Place{Address: got}.address(certified)
			require.NoError(t, err)
			require.Equal(t, got, again)
			require.True(t, certified || strings.HasPrefix(got, "127.") || strings.HasPrefix(got, "["), "%q", got)
		}
	})
}
