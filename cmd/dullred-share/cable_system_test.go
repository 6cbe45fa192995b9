//go:build system && linux

package main

import (
	"fmt"
	"net"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// What a cable may do to what goes through it.
const (
	whole  = ""
	pulled = "pulled" // what goes through breaks, and nothing new comes through
	frozen = "frozen" // nothing comes through until it is whole again, and then all of it
	lost   = "lost"   // frozen, but what was open then never hears a word again
	slow   = "slow"   // each piece of it takes a while
)

// delay is what a slow cable takes for each piece.
const delay = 100 * time.Millisecond

// cable is a link to a server, of which both ends are on this machine.
type cable struct {
	to     string
	listen net.Listener

	mu     sync.Mutex
	state  string
	change chan struct{}
	open   map[*line]bool
}

// line is one connection through a cable.
type line struct {
	near, far net.Conn
	dead      bool // nothing will ever come through
}

func newCable(t *testing.T, port int) *cable {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	c := &cable{to: fmt.Sprintf("127.0.0.1:%d", port), listen: l, change: make(chan struct{}), open: map[*line]bool{}}
	t.Cleanup(func() { _ = l.Close(); c.set(pulled) })
	go c.accept()
	return c
}

func (c *cable) set(state string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.state = state
	close(c.change)
	c.change = make(chan struct{})
	for l := range c.open {
		l.dead = l.dead || state == lost
		if state == pulled {
			l.close()
		}
	}
}

// close ends both ends, of which the far one may not be there yet.
func (l *line) close() {
	_ = l.near.Close()
	if l.far != nil {
		_ = l.far.Close()
	}
}

func (c *cable) accept() {
	for {
		near, err := c.listen.Accept()
		if err != nil {
			return
		}
		c.mu.Lock()
		l := &line{near: near, dead: c.state == lost}
		c.open[l] = true
		c.mu.Unlock()
		go c.serve(l)
	}
}

// serve carries both ways, once the cable lets a connection through.
func (c *cable) serve(l *line) {
	defer c.end(l)
	if !c.passes(l) {
		if l.dead {
			c.carry(l, l.near, nil)
		}
		return
	}
	far, err := net.Dial("tcp", c.to)
	if err != nil {
		return
	}
	c.mu.Lock()
	l.far = far
	c.mu.Unlock()
	var back sync.WaitGroup
	back.Go(func() { c.carry(l, far, l.near) })
	c.carry(l, l.near, far)
	c.end(l)
	back.Wait()
}

func (c *cable) end(l *line) {
	c.mu.Lock()
	defer c.mu.Unlock()
	delete(c.open, l)
	l.close()
}

// carry passes bytes on in one direction. What a dead line is given is swallowed, and an
// end of it hears nothing of the other.
func (c *cable) carry(l *line, from, to net.Conn) {
	buffer := make([]byte, 64<<10)
	for {
		n, err := from.Read(buffer)
		through := c.passes(l)
		switch {
		case err == nil && through:
			_, err = to.Write(buffer[:n])
		case err == nil && c.isDead(l):
			continue
		}
		if err == nil && through {
			continue
		}
		if !c.isDead(l) {
			c.end(l)
		}
		return
	}
}

func (c *cable) isDead(l *line) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return l.dead
}

// passes waits until the cable lets a line's bytes through, and reports false where it
// never will.
func (c *cable) passes(l *line) bool {
	waited := false
	for {
		c.mu.Lock()
		state, change, dead := c.state, c.change, l.dead
		c.mu.Unlock()
		switch {
		case dead || state == pulled:
			return false
		case state == whole || state == slow && waited:
			return true
		}
		var enough <-chan time.Time
		if state == slow {
			enough = time.After(delay)
		}
		select {
		case <-enough:
			waited = true
		case <-change:
		}
	}
}
