package board

import (
	"context"
	"crypto/rand"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"time"
)

// site gives the page and its events.
type site struct {
	feed    *Feed
	asksUs  func(host string) bool
	pages   pages
	streams chan struct{} // holds a token for each that listens
}

// mostStreams is how many may listen at a time: more than one room has tablets.
const mostStreams = 64

func newSite(f *Feed, asksUs func(string) bool) *site {
	return &site{feed: f, asksUs: asksUs, pages: newPages(), streams: make(chan struct{}, mostStreams)}
}

// goodbye is how long an answer that is under way has when the program ends.
const goodbye = 2 * time.Second

// Serve gives the page at d until ctx ends, and closes d. What others do at the door, such
// as not to trust the certificate, is not told.
func Serve(ctx context.Context, f *Feed, d *Door) error {
	s := &http.Server{Handler: newSite(f, d.asksUs), ReadHeaderTimeout: 5 * time.Second, WriteTimeout: patience, IdleTimeout: time.Minute,
		MaxHeaderBytes: 16 << 10, ErrorLog: log.New(io.Discard, "", 0), BaseContext: func(net.Listener) context.Context { return ctx }}
	over := make(chan error, 1)
	go func() { over <- s.Serve(d) }()
	select {
	case err := <-over:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), goodbye)
	defer cancel()
	if err := s.Shutdown(last); err != nil {
		_ = s.Close()
	}
	if err := <-over; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// ServeHTTP answers who asks for us by a name of ours.
func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	guard(w.Header())
	switch {
	case !s.asksUs(r.Host):
		http.Error(w, "The board is not known by this name: ask for it as the program printed it.", http.StatusForbidden)
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "The board can only be read.", http.StatusMethodNotAllowed)
	case r.URL.Path == "/":
		s.page(w)
	case r.URL.Path == "/events":
		s.events(w, r)
	default:
		http.Error(w, "There is one page here, at /.", http.StatusNotFound)
	}
}

// guard sets what holds for every answer: no other page may have it in a frame or load
// it, and nobody keeps it.
func guard(h http.Header) {
	h.Set("Content-Security-Policy", policy(""))
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}

// policy allows the style and the script that bear the nonce, the events, and nothing
// else; without a nonce nothing at all. The icon is an empty one in the page.
func policy(nonce string) string {
	const nothing = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
	if nonce == "" {
		return nothing
	}
	return nothing + "; style-src 'nonce-" + nonce + "'; script-src 'nonce-" + nonce + "'; connect-src 'self'; img-src data:"
}

func (s *site) page(w http.ResponseWriter) {
	p, _ := s.feed.Look()
	v := shownOf(p, s.feed.now())
	v.Nonce = rand.Text()
	w.Header().Set("Content-Security-Policy", policy(v.Nonce))
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_ = s.pages.page(w, v) // who went away wants no more of it
}
