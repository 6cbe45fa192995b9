//go:build system && linux

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// process is a program that may be killed at any moment.
type process struct {
	cmd    *exec.Cmd
	killed atomic.Bool
	ended  chan struct{} // closed when it has
	err    error         // then, how
}

// launched starts a program. Done is called when it has ended.
func launched(cmd *exec.Cmd, done func(*process)) (*process, error) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	p := &process{cmd: cmd, ended: make(chan struct{})}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	go func() {
		p.err = cmd.Wait()
		close(p.ended)
		done(p)
	}()
	return p, nil
}

// kill ends it at once (SIGKILL), and reports whether it lived until then.
func (p *process) kill() bool {
	p.killed.Store(true)
	lived := p.cmd.Process.Kill() == nil
	<-p.ended
	return lived
}

// memory is the most that it had of the machine, in bytes.
func (p *process) memory() int64 {
	usage, ok := p.cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	return usage.Maxrss << 10
}

// carry starts the carrier of a station. One that ends by itself is a fault.
func (s *station) carry() error {
	said, err := os.OpenFile(s.record+"-said", os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer said.Close()
	cmd := exec.Command(s.carrierProgram, s.args("run", "--json")...)
	cmd.Stdout, cmd.Stderr = said, said
	p, err := launched(cmd, func(p *process) {
		s.most.Store(max(s.most.Load(), p.memory()))
		if !p.killed.Load() {
			s.fault(fmt.Errorf("the carrier of bench %d ended by itself: %v: %s", s.n, p.err, s.said()))
		}
	})
	s.mu.Lock()
	defer s.mu.Unlock()
	s.carrier = p
	return err
}

// said is the end of what the carriers of a station have said.
func (s *station) said() string {
	text, _ := os.ReadFile(s.record + "-said") // what cannot be read is not shown
	return string(text[max(0, len(text)-2000):])
}

// args are those of a command of dullred-share for a station.
func (s *station) args(command ...string) []string {
	return append(command, "--to", s.address(), "--password-file", s.password, "--record", s.record)
}

// killCarrier kills the carrier and starts another.
func (s *station) killCarrier() bool {
	s.mu.Lock()
	p := s.carrier
	s.mu.Unlock()
	lived := p.kill()
	if err := s.carry(); err != nil {
		s.fault(err)
	}
	return lived
}

// killWriter kills the writer, if there is one; write starts another.
func (s *station) killWriter() bool {
	s.mu.Lock()
	p := s.writer
	s.mu.Unlock()
	return p != nil && p.kill()
}

// write has writers write until there are enough entries that were acknowledged.
func (s *station) write() {
	for len(s.told) < s.entries && !s.over.Load() {
		if err := s.writeOn(); err != nil {
			s.fault(fmt.Errorf("the writer of bench %d: %w", s.n, err))
			return
		}
	}
	s.mu.Lock()
	s.writer = nil
	s.mu.Unlock()
}

// writeOn has one writer write until it ends or is killed.
func (s *station) writeOn() error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	text, err := json.Marshal(order{Record: s.record, Bench: s.n, From: s.acts, Rows: s.entries - len(s.told)})
	if err != nil {
		return err
	}
	out, in, err := os.Pipe() // read to its end even when the writer is gone
	if err != nil {
		return err
	}
	defer out.Close()
	var failed strings.Builder
	cmd := exec.Command(self)
	leave, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	cmd.Env = append(os.Environ(), orderVariable+"="+string(text))
	cmd.Stdout, cmd.Stderr = in, &failed
	p, err := launched(cmd, func(*process) {})
	_ = in.Close()
	if err != nil {
		return err
	}
	s.mu.Lock()
	s.writer = p
	s.mu.Unlock()
	s.hear(out, leave)
	<-p.ended
	if p.err != nil && !p.killed.Load() {
		return fmt.Errorf("%w: %s", p.err, failed.String())
	}
	return nil
}

// hear takes down what a writer tells, and gives it leave to go on.
func (s *station) hear(out io.Reader, leave io.Writer) {
	lines := bufio.NewScanner(out)
	s.grant(leave)
	for lines.Scan() {
		switch what, id, _ := strings.Cut(lines.Text(), " "); what {
		case telling:
			s.telling = append(s.telling, id)
		case told:
			s.told = append(s.told, id)
			s.acknowledged.Add(1)
		case acted:
			s.acts++
			s.grant(leave)
		case waited:
			s.busy.Add(1)
		}
	}
}

// grant gives leave for one act, when the weather is as far as the work.
func (s *station) grant(leave io.Writer) {
	for s.acknowledged.Load() > s.leave.Load() && !s.over.Load() {
		time.Sleep(time.Millisecond)
	}
	_, _ = fmt.Fprintln(leave) // who was killed needs none
}

// typed runs dullred as somebody who types at the bench, and gives the id of the entry.
func (s *station) typed(words ...string) {
	var failed strings.Builder
	cmd := exec.Command(s.benchProgram, append(words, "--json", "--record", s.record)...)
	cmd.Env = append(os.Environ(), "XDG_CONFIG_HOME="+s.nowhere)
	cmd.Stderr = &failed
	out, err := cmd.Output()
	var entry struct{ ID string }
	if err == nil {
		err = json.Unmarshal(out, &entry)
	}
	if err != nil {
		s.fault(fmt.Errorf("typed at bench %d: %v: %w: %s", s.n, words, err, failed.String()))
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.byHand = append(s.byHand, entry.ID)
}

// stop ends the carrier in good order.
func (s *station) stop(t *testing.T) {
	t.Helper()
	s.carrier.killed.Store(true)
	require.NoError(t, s.carrier.cmd.Process.Signal(os.Interrupt))
	select {
	case <-s.carrier.ended:
	case <-time.After(30 * time.Second):
		require.Fail(t, "the carrier does not end", "bench %d", s.n)
	}
	require.NoError(t, s.carrier.err, s.said())
}
