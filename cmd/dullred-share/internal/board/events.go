package board

import (
	"fmt"
	"net/http"
	"strings"
	"time"
)

// heartbeat is how often the time is sent, so that both ends find out a connection that is
// dead: the page says that it is old when it has heard nothing for three of them.
const heartbeat = 5 * time.Second

// calm is the least time between two tables, so that a slow tablet keeps up with a class;
// the first one after a pause is sent at once.
const calm = 50 * time.Millisecond

// patience is how long a listener may take to take an event.
const patience = 10 * time.Second

// events sends the table now and each time that it changes, until one of the two ends
// goes. Pictures that come faster than they are taken are left out.
func (s *site) events(w http.ResponseWriter, r *http.Request) {
	select {
	case s.streams <- struct{}{}:
		defer func() { <-s.streams }()
	default:
		http.Error(w, "Too many look at the board.", http.StatusServiceUnavailable)
		return
	}
	out := stream{w, http.NewResponseController(w)}
	w.Header().Set("Content-Type", "text/event-stream")
	if r.Method == http.MethodHead {
		return
	}
	if out.send("retry: 1000\n\n") != nil {
		return
	}
	s.follow(r, out)
}

func (s *site) follow(r *http.Request, out stream) {
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	before, sent := (*Picture)(nil), ""
	for {
		p, changed := s.feed.Look()
		now := s.feed.now()
		table, err := s.pages.table(shownOf(p, now))
		text := event("clock", clock(now, now.Location()))
		if table != sent {
			text, sent = text+event("board", table), table
		}
		if before != nil {
			danger, other := news(before, p, now.Location())
			text += event("danger", danger) + event("news", other)
		}
		if before = p; err != nil || out.send(text) != nil || !pause(r, calm) || !wait(r, beat.C, changed) {
			return
		}
	}
}

// pause lets a while pass, and reports whether the listener is still there.
func pause(r *http.Request, long time.Duration) bool {
	select {
	case <-time.After(long):
		return true
	case <-r.Context().Done():
		return false
	}
}

// wait waits for another picture or the next beat, and reports whether the listener is
// still there.
func wait(r *http.Request, beat <-chan time.Time, changed <-chan struct{}) bool {
	select {
	case <-changed:
	case <-beat:
	case <-r.Context().Done():
		return false
	}
	return true
}

// event is one server-sent event of a kind; nothing is no event.
func event(kind, data string) string {
	if data == "" {
		return ""
	}
	data = strings.ReplaceAll(strings.TrimRight(data, "\n"), "\r", "")
	return fmt.Sprintf("event: %s\ndata: %s\n\n", kind, strings.ReplaceAll(data, "\n", "\ndata: "))
}

// stream is an answer that goes on.
type stream struct {
	w       http.ResponseWriter
	control *http.ResponseController
}

func (s stream) send(text string) error {
	_ = s.control.SetWriteDeadline(time.Now().Add(patience)) // a recorder of tests has none
	if _, err := s.w.Write([]byte(text)); err != nil {
		return err
	}
	return s.control.Flush()
}
