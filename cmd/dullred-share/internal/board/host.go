package board

import (
	"errors"
	"fmt"
	"net"
	"net/netip"
	"strconv"
	"syscall"
	"time"
)

// ErrAddress is returned for an address at which the page is not to be given.
var ErrAddress = errors.New("the address for the page cannot be used")

// Place is where the page is to be given. Certificate and Key are PEM files; with both of
// them it is given over TLS, and may be given beyond this machine.
type Place struct {
	Address          string // such as 127.0.0.1:8080; port 0 takes any that is free
	Certificate, Key string
	Now              time.Time // by which a certificate is valid or not
}

// Door is a place that is listened at.
type Door struct {
	net.Listener
	names *identity // by what names it is asked for beyond loopback; nil without TLS
}

// Listen listens at a place; localhost stands for 127.0.0.1. What reaches beyond this
// machine is refused before it is listened at, unless there is a certificate. Errors are
// ErrAddress and ErrCertificate.
func Listen(p Place) (*Door, error) {
	names, err := p.identity()
	if err != nil {
		return nil, err
	}
	at, err := p.address(names != nil)
	if err != nil {
		return nil, err
	}
	l, err := net.Listen("tcp", at)
	if err != nil {
		return nil, fmt.Errorf("%w: %s", ErrAddress, taken(at, err))
	}
	if names != nil {
		l = names.over(l)
	}
	return &Door{l, names}, nil
}

// taken is why nobody can listen at an address.
func taken(at string, err error) string {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return "another program is at " + at + "; end it or give another port"
	case errors.Is(err, syscall.EADDRNOTAVAIL):
		return at + " is not an address of this machine"
	case errors.Is(err, syscall.EACCES):
		return "ports below 1024, as in " + at + ", are not for everybody; give another one"
	}
	return err.Error()
}

// address is the address in figures, of which only those with a certificate may be beyond
// this machine.
func (p Place) address(certified bool) (string, error) {
	host, port, err := net.SplitHostPort(p.Address)
	if n, bad := strconv.ParseUint(port, 10, 16); err != nil || bad != nil || n > 65535 {
		return "", fmt.Errorf("%w: %.100q is not of the form 127.0.0.1:PORT", ErrAddress, p.Address)
	}
	if host == "localhost" {
		host = "127.0.0.1"
	}
	if loopback(host) {
		return net.JoinHostPort(host, port), nil
	}
	if !certified {
		return "", fmt.Errorf("%w: %.100q reaches beyond this machine, where others could read the board and change it on the way; "+
			"give --certificate FILE and --key FILE with it, or a loopback address such as 127.0.0.1:%s", ErrAddress, p.Address, port)
	}
	if ip, err := netip.ParseAddr(host); host != "" && (err != nil || ip.Zone() != "") {
		return "", fmt.Errorf("%w: %.100q is not an address of this machine in figures", ErrAddress, p.Address)
	}
	return net.JoinHostPort(host, port), nil
}

// URL is what a browser is to ask for.
func (d *Door) URL() string {
	at := d.Addr().(*net.TCPAddr)
	if d.names == nil {
		return "http://" + at.String() + "/"
	}
	return "https://" + net.JoinHostPort(d.names.called(at.IP), strconv.Itoa(at.Port)) + "/"
}

// Open reports whether others than this machine can reach it.
func (d *Door) Open() bool { return !d.Addr().(*net.TCPAddr).IP.IsLoopback() }

func loopback(host string) bool {
	ip, err := netip.ParseAddr(host)
	return err == nil && ip.Zone() == "" && ip.Unmap().IsLoopback()
}

// asksUs reports whether a Host header names this machine, or what the certificate is for,
// and the port of the page. A name of elsewhere that was made to lead here does not.
func (d *Door) asksUs(host string) bool {
	name, given, err := net.SplitHostPort(host)
	if err != nil {
		name, given = host, d.usualPort()
		if len(name) > 1 && name[0] == '[' {
			name = name[1 : len(name)-1]
		}
	}
	if given != strconv.Itoa(d.Addr().(*net.TCPAddr).Port) {
		return false
	}
	return name == "localhost" || loopback(name) || d.names.has(name)
}

// usualPort is the port that browsers leave out.
func (d *Door) usualPort() string {
	if d.names == nil {
		return "80"
	}
	return "443"
}
