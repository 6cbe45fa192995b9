package board

import (
	"errors"
	"fmt"
	"net"
	"net/netip"
	"strconv"
)

// ErrAddress is returned for an address at which the page is not to be given.
var ErrAddress = errors.New("the address for the page cannot be used")

// Listen listens at a loopback address, such as 127.0.0.1:8080; localhost stands for
// 127.0.0.1, and port 0 takes any that is free. Any other address is refused before it
// is listened at.
func Listen(address string) (net.Listener, error) {
	host, port, err := net.SplitHostPort(address)
	if n, bad := strconv.ParseUint(port, 10, 16); err != nil || bad != nil || n > 65535 {
		return nil, fmt.Errorf("%w: %.100q is not of the form 127.0.0.1:PORT", ErrAddress, address)
	}
	if host == "localhost" {
		host = "127.0.0.1"
	}
	if !loopback(host) {
		return nil, fmt.Errorf("%w: %.100q reaches beyond this machine, where anybody could read the board; give a loopback address such as 127.0.0.1:%s", ErrAddress, address, port)
	}
	l, err := net.Listen("tcp", net.JoinHostPort(host, port))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrAddress, err)
	}
	return l, nil
}

func loopback(host string) bool {
	ip, err := netip.ParseAddr(host)
	return err == nil && ip.Zone() == "" && ip.Unmap().IsLoopback()
}

// asksUs reports whether a Host header names this machine and the port of the page. A
// name of elsewhere that was made to lead to 127.0.0.1 does not.
func asksUs(host string, port int) bool {
	name, given, err := net.SplitHostPort(host)
	if err != nil {
		name, given = host, "80"
		if len(name) > 1 && name[0] == '[' {
			name = name[1 : len(name)-1]
		}
	}
	return given == strconv.Itoa(port) && (name == "localhost" || loopback(name))
}
