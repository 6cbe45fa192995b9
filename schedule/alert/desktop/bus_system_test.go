//go:build system

package desktop

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/godbus/dbus/v5"
	"github.com/stretchr/testify/require"
)

// busRules let everybody on the bus do everything, and start no service.
const busRules = `<busconfig><type>session</type><listen>unix:tmpdir=/tmp</listen>
<policy context="default"><allow send_destination="*" eavesdrop="true"/>
<allow eavesdrop="true"/><allow own="*"/></policy></busconfig>`

// daemon is a dbus-daemon of a test's own.
type daemon struct {
	t       *testing.T
	address string
	cmd     *exec.Cmd
}

// startBus starts a message bus and points the test at it.
func startBus(t *testing.T) *daemon {
	t.Helper()
	rules := filepath.Join(t.TempDir(), "bus.conf")
	require.NoError(t, os.WriteFile(rules, []byte(busRules), 0o600))
	d := &daemon{t: t, cmd: exec.Command("dbus-daemon", "--config-file="+rules, "--nofork", "--print-address=1")}
	out, err := d.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, d.cmd.Start())
	t.Cleanup(func() {
		_ = d.cmd.Process.Kill()
		_ = d.cmd.Wait() // says that it was killed
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	d.address = strings.TrimSpace(line)
	t.Setenv(addressName, d.address)
	return d
}

// pause stops the bus as a machine in trouble would; resume lets it go on.
func (d *daemon) pause()  { require.NoError(d.t, d.cmd.Process.Signal(syscall.SIGSTOP)) }
func (d *daemon) resume() { require.NoError(d.t, d.cmd.Process.Signal(syscall.SIGCONT)) }

// serve puts an object on the bus under a name.
func (d *daemon) serve(name string, object any, paths ...dbus.ObjectPath) {
	d.t.Helper()
	conn, err := dbus.Connect(d.address)
	require.NoError(d.t, err)
	d.t.Cleanup(func() { require.NoError(d.t, conn.Close()) })
	for _, path := range paths {
		require.NoError(d.t, conn.Export(object, path, name))
	}
	reply, err := conn.RequestName(name, dbus.NameFlagDoNotQueue)
	require.NoError(d.t, err)
	require.Equal(d.t, dbus.RequestNameReplyPrimaryOwner, reply)
}

// launched are the processes of that name on this machine.
func launched(t *testing.T, name string) map[string]bool {
	t.Helper()
	found := map[string]bool{}
	paths, err := filepath.Glob("/proc/[0-9]*/comm")
	require.NoError(t, err)
	for _, path := range paths {
		comm, err := os.ReadFile(path)
		if err == nil && strings.TrimSpace(string(comm)) == name { // else it has ended
			found[filepath.Dir(path)] = true
		}
	}
	return found
}

// addressPath is the path of a socket in an address such as
// unix:path=/tmp/dbus-x,guid=y.
func addressPath(address string) (string, bool) {
	path, _, _ := strings.Cut(address, ",")
	return strings.CutPrefix(path, "unix:path=")
}
