package board

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestListen(t *testing.T) {
	cases := []struct{ name, address, says, reason string }{
		{"loopback", "127.0.0.1:0", "", "this machine"},
		{"by name", "localhost:0", "", "it stands for 127.0.0.1, whatever else it may lead to"},
		{"everywhere", ":8080", "reaches beyond this machine", "anybody could read it"},
		{"everywhere by figures", "0.0.0.0:8080", "reaches beyond this machine", "anybody could read it"},
		{"everywhere of six", "[::]:8080", "reaches beyond this machine", "anybody could read it"},
		{"a card", "192.0.2.1:8080", "reaches beyond this machine", "the room could read it"},
		{"a name", "board.example:8080", "reaches beyond this machine", "it may lead anywhere"},
		{"nearly", "127.0.0.1.board.example:8080", "reaches beyond this machine", "it is a name"},
		{"with a zone", "[::1%lo]:8080", "reaches beyond this machine", "nothing that a browser can ask for"},
		{"no port", "127.0.0.1", "is not of the form 127.0.0.1:PORT", "none is guessed"},
		{"no such port", "127.0.0.1:70000", "is not of the form 127.0.0.1:PORT", "ports end at 65535"},
		{"a port by name", "127.0.0.1:http", "is not of the form 127.0.0.1:PORT", "a figure"},
		{"nothing", "", "is not of the form 127.0.0.1:PORT", "it was given empty"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			l, err := Listen(c.address)
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

func TestListenTwice(t *testing.T) {
	l, err := Listen("127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	_, err = Listen(l.Addr().String())
	require.ErrorIs(t, err, ErrAddress)
}

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
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, asksUs(c.host, c.port), c.reason) })
	}
}
