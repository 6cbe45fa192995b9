package board

import (
	"net"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestListen(t *testing.T) {
	cases := []struct{ name, address, says, reason string }{
		{"loopback", "127.0.0.1:0", "", "this machine"},
		{"by name", "localhost:0", "", "it stands for 127.0.0.1, whatever else it may lead to"},
		{"everywhere", ":8080", "give --certificate FILE and --key FILE with it, or a loopback address", "anybody could read it"},
		{"everywhere by figures", "0.0.0.0:8080", "give --certificate FILE and --key FILE with it, or a loopback address", "anybody could read it"},
		{"everywhere of six", "[::]:8080", "give --certificate FILE and --key FILE with it, or a loopback address", "anybody could read it"},
		{"a card", "192.0.2.1:8080", "give --certificate FILE and --key FILE with it, or a loopback address", "the room could read it"},
		{"a name", "board.example:8080", "give --certificate FILE and --key FILE with it, or a loopback address", "it may lead anywhere"},
		{"nearly", "127.0.0.1.board.example:8080", "give --certificate FILE and --key FILE with it, or a loopback address", "it is a name"},
		{"with a zone", "[::1%lo]:8080", "give --certificate FILE and --key FILE with it, or a loopback address", "nothing that a browser can ask for"},
		{"no port", "127.0.0.1", "is not of the form 127.0.0.1:PORT", "none is guessed"},
		{"no such port", "127.0.0.1:70000", "is not of the form 127.0.0.1:PORT", "ports end at 65535"},
		{"a port by name", "127.0.0.1:http", "is not of the form 127.0.0.1:PORT", "a figure"},
		{"nothing", "", "is not of the form 127.0.0.1:PORT", "it was given empty"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			l, err := Listen(Place{Address: c.address})
			if c.says == "" {
				require.NoError(t, err, c.reason)
				require.Regexp(t, `^127\.0\.0\.1:\d+$`, l.Addr().String())
				require.NoError(t, l.Close())
				return
			}
			require.ErrorIs(t, err, ErrAddress, c.reason)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// With a certificate every address of this machine will do; none of these is listened at.
func TestAddressWithACertificate(t *testing.T) {
	cases := []struct{ name, address, want, says, reason string }{
		{"loopback", "localhost:8443", "127.0.0.1:8443", "", "this machine"},
		{"everywhere", ":8443", ":8443", "", "every card"},
		{"everywhere by figures", "0.0.0.0:8443", "0.0.0.0:8443", "", "every card"},
		{"a card", "192.0.2.1:8443", "192.0.2.1:8443", "", "the room"},
		{"a card of six", "[2001:db8::1]:8443", "[2001:db8::1]:8443", "", "the room"},
		{"a name", "board.example:8443", "", "is not an address of this machine in figures", "it may lead anywhere"},
		{"with a zone", "[fe80::1%eth0]:8443", "", "is not an address of this machine in figures", "nothing that a browser can ask for"},
		{"no port", "192.0.2.1", "", "is not of the form 127.0.0.1:PORT", "none is guessed"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got, err := Place{Address: c.address}.address(true)
			if c.says == "" {
				require.NoError(t, err, c.reason)
				require.Equal(t, c.want, got)
				return
			}
			require.ErrorIs(t, err, ErrAddress, c.reason)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestListenTwice(t *testing.T) {
	l, err := Listen(Place{Address: "127.0.0.1:0"})
	require.NoError(t, err)
	defer l.Close()
	_, err = Listen(Place{Address: l.Addr().String()})
	require.ErrorIs(t, err, ErrAddress)
	require.ErrorContains(t, err, "another program is at "+l.Addr().String()+"; end it or give another port")
}

// at is an address that is listened at by name only.
type at struct {
	net.Listener
	port int
}

func (a at) Addr() net.Addr { return &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: a.port} }

func TestAsksUs(t *testing.T) {
	cases := []struct {
		name, host string
		port       int
		want       bool
		reason     string
	}{
		{"by figures", "127.0.0.1:8080", 8080, true, "what the program printed"},
		{"by name", "localhost:8080", 8080, true, "what people type"},
		{"of six", "[::1]:8080", 8080, true, "this machine too"},
		{"without the usual port", "localhost", 80, true, "browsers leave 80 out"},
		{"of six without the usual port", "[::1]", 80, true, "browsers leave 80 out"},
		{"another port", "127.0.0.1:8081", 8080, false, "it was meant for another program"},
		{"a name that was turned here", "board.example:8080", 8080, false, "a page from elsewhere asks"},
		{"one that begins like us", "localhost.board.example:8080", 8080, false, "a page from elsewhere asks"},
		{"the room", "192.0.2.1:8080", 8080, false, "it came through a door that we did not open"},
		{"nothing", "", 80, false, "every browser says whom it asks"},
		{"a bracket", "[", 80, false, "no address"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, (&Door{Listener: at{port: c.port}}).asksUs(c.host), c.reason)
		})
	}
}
