//go:build linux || freebsd || netbsd || openbsd || illumos

package desktop

import (
	"net"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFindBus(t *testing.T) {
	dir := t.TempDir()
	socket, file, none := filepath.Join(dir, "a b"), filepath.Join(dir, "file"), filepath.Join(dir, "none")
	listener, err := net.Listen("unix", socket)
	require.NoError(t, err)
	defer func() { require.NoError(t, listener.Close()) }()
	require.NoError(t, os.WriteFile(file, nil, 0o600))

	escaped := "unix:path=" + filepath.Join(dir, "a%20b")
	cases := []struct {
		name    string
		stated  string
		sockets []string
		want    string // empty is no bus
		reason  string
	}{
		{"stated", "unix:abstract=x", []string{socket}, "unix:abstract=x", "what is stated goes first"},
		{"socket", "", []string{none, socket}, escaped, "the first that is there"},
		{"launch with a socket", "autolaunch:", []string{socket}, escaped, "nothing need be launched"},
		{"nothing", "", []string{none}, "", "a library would launch a bus"},
		{"no socket", "", []string{file}, "", "a file of that name is no bus"},
		{"launch", "autolaunch:", nil, "", "asks for just that"},
		{"launch after all else", "unix:path=/none;autolaunch:scope=*user", nil, "", "may come to that"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			got, err := findBus(c.stated, c.sockets)
			require.Equal(t, c.want, got, c.reason)
			if c.want == "" {
				require.ErrorIs(t, err, noBus)
				return
			}
			require.NoError(t, err)
		})
	}
}

func TestDefaultSockets(t *testing.T) {
	t.Setenv("XDG_RUNTIME_DIR", "/run/own")
	require.Equal(t, "/run/own/bus", defaultSockets()[0])
	require.Len(t, defaultSockets(), 2)
	t.Setenv("XDG_RUNTIME_DIR", "")
	require.Len(t, defaultSockets(), 1)
}

func TestStayAwakeWithoutABus(t *testing.T) {
	release, err := StayAwake("annealing")
	require.EqualError(t, err, "the desktop does not offer to stay awake: set its screen lock off yourself")
	require.ErrorIs(t, err, os.ErrNotExist, "the address of the tests leads nowhere")
	require.Nil(t, release)
}
