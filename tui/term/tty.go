package term

import (
	"io"
	"sync"
	"unicode/utf8"

	"github.com/gdamore/tcell/v2"
)

// chunk is how many bytes are read from the terminal at a time, as in tcell.
const chunk = 128

// mostEmpty is how many empty reads without an error are borne in a row; the
// bufio package bears as many.
const mostEmpty = 100

// Tty is a terminal whose Read gives valid UTF-8 and nothing else. A byte that
// can never become part of a letter is dropped; the beginning of a letter is
// kept until the next byte shows whether it is one. ASCII, and with it every
// escape sequence, passes unchanged and at once.
//
// Read is for one goroutine at a time, as tcell uses it.
type Tty struct {
	tcell.Tty
	filter filter
	ready  []byte // filtered, not yet handed out
	err    error  // told once ready is handed out
	empty  int    // reads in a row that gave neither bytes nor an error

	mu     sync.Mutex
	change sync.Cond
	inside bool // a Read runs
	over   bool // a Read gave an error, after which tcell reads no more
	held   bool // Read gives nothing
}

// NewTty wraps a terminal.
func NewTty(tty tcell.Tty) *Tty {
	t := &Tty{Tty: tty}
	t.change.L = &t.mu
	return t
}

// Start takes the terminal. The beginning of a letter typed before is forgotten.
func (t *Tty) Start() error {
	t.filter, t.ready, t.err, t.empty = filter{}, nil, nil, 0
	t.mu.Lock()
	t.inside, t.over, t.held = false, false, false
	t.mu.Unlock()
	return t.Tty.Start()
}

// Read waits until there is at least one valid letter, or an error. If all that
// came in was dropped it reads again. An empty read of the terminal itself is
// handed on, since tcell uses it to look whether it should stop; a hundred in a
// row are io.ErrNoProgress, so that a broken terminal does not keep it busy.
func (t *Tty) Read(p []byte) (int, error) {
	if !t.enter() {
		return 0, nil
	}
	n, err := t.read(p)
	if !t.leave(err) {
		return 0, err
	}
	t.ready = t.ready[n:]
	return n, err
}

// enter notes that a Read runs, and reports whether it may give bytes.
func (t *Tty) enter() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.inside = !t.held
	t.over = t.held
	t.change.Broadcast()
	return !t.held
}

// leave notes that it ended, and reports whether its bytes may be given.
func (t *Tty) leave(err error) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.inside = false
	t.over = err != nil || t.held
	t.change.Broadcast()
	return !t.held
}

// hold makes Read give nothing until Start, and returns when tcell holds no
// bytes on their way. tcell waits for the goroutine that reads before it lets
// go of the terminal, and never returns if that one waits to hand bytes on to
// another that ended.
func (t *Tty) hold() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.held = true
	for !t.inside && !t.over {
		t.change.Wait()
	}
}

// read is Read without regard to hold; what it copied stays in ready.
func (t *Tty) read(p []byte) (int, error) {
	for len(t.ready) == 0 {
		if t.err != nil {
			err := t.err
			t.err = nil
			return 0, err
		}
		if len(p) == 0 || t.fill() == 0 && t.err == nil {
			return 0, nil
		}
	}
	return copy(p, t.ready), nil
}

// fill reads the terminal once and returns how many bytes it gave.
func (t *Tty) fill() int {
	var raw [chunk]byte
	n, err := t.Tty.Read(raw[:])
	t.ready = t.filter.append(t.ready[:0], raw[:n])
	t.err = err
	if n > 0 || err != nil {
		t.empty = 0
		return n
	}
	if t.empty++; t.empty >= mostEmpty {
		t.empty, t.err = 0, io.ErrNoProgress
	}
	return 0
}

// filter takes what is not UTF-8 out of a stream that comes in pieces.
type filter struct {
	tail []byte // the beginning of a letter, at most 3 bytes
}

// append adds the valid letters of what is left from before and of in to out.
func (f *filter) append(out, in []byte) []byte {
	data := append(f.tail, in...)
	for len(data) > 0 && utf8.FullRune(data) {
		r, size := utf8.DecodeRune(data)
		if r != utf8.RuneError || size > 1 {
			out = append(out, data[:size]...)
		}
		data = data[size:]
	}
	f.tail = append([]byte(nil), data...)
	return out
}
