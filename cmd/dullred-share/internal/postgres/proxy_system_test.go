//go:build system && linux

package postgres_test

import (
	"io"
	"net"
	"sync/atomic"
)

// proxy is the way to a server, which can swallow what goes along.
type proxy struct {
	to   string
	drop atomic.Bool
}

func (p *proxy) serve(near net.Conn) {
	far, err := net.Dial("tcp", p.to)
	if err != nil {
		near.Close()
		return
	}
	go p.carry(far, near)
	p.carry(near, far)
}

// carry takes bytes from one end to the other. What is swallowed breaks the connection
// when the way is open again, since the rest would make no sense.
func (p *proxy) carry(to, from net.Conn) {
	defer to.Close()
	buffer, swallowed := make([]byte, 64<<10), false
	for {
		n, err := from.Read(buffer)
		switch {
		case err != nil:
			return
		case p.drop.Load():
			swallowed = true
			continue
		case swallowed:
			return
		}
		if _, err := to.Write(buffer[:n]); err != nil && err != io.EOF {
			return
		}
	}
}
