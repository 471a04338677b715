package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A cluster is a job service and a pool of workers, each a process of its own, on the loopback
// interface. Jobs are given to it by plinth-beam in a third process.
type cluster struct {
	bin     string // folder of the programs: plinth-beam, prism
	service process
	pool    process
}

// A process is a program that serves on a port until it is killed.
type process struct {
	cmd *exec.Cmd
	log string
}

const (
	servicePort = 8073
	poolPort    = 50001
)

// clusterFor skips the test unless PLINTH_CLUSTER names the folder of the programs: .ci/cluster
// builds them and gives the test a network that has no interface but the loopback one.
func clusterFor(t *testing.T) *cluster {
	bin := os.Getenv("PLINTH_CLUSTER")
	if bin == "" {
		t.Skip("needs processes and ports of its own: make cluster")
	}
	c := &cluster{bin: bin}
	c.startService(t)
	c.startPool(t)
	return c
}

func (c *cluster) startService(t *testing.T) {
	c.service = c.start(t, servicePort, "prism", fmt.Sprintf("--job_port=%d", servicePort), "--serve_http=false")
}

func (c *cluster) startPool(t *testing.T) {
	c.pool = c.start(t, poolPort, "plinth-beam", fmt.Sprintf("--pool=%d", poolPort))
}

// start starts a program and waits until it answers on its port.
func (c *cluster) start(t *testing.T, port int, program string, args ...string) process {
	log, err := os.CreateTemp(t.TempDir(), program)
	require.NoError(t, err)
	defer log.Close()
	p := process{exec.Command(filepath.Join(c.bin, program), args...), log.Name()}
	p.cmd.Stdout, p.cmd.Stderr = log, log
	require.NoError(t, p.cmd.Start())
	t.Cleanup(func() { p.kill() })
	require.Eventually(t, func() bool {
		conn, err := net.Dial("tcp", fmt.Sprintf("localhost:%d", port))
		if err == nil {
			conn.Close()
		}
		return err == nil
	}, 30*time.Second, 50*time.Millisecond, "%s does not answer", program)
	return p
}

// kill ends the process at once, as a machine that fails does, and returns the CPU time that it took.
func (p *process) kill() time.Duration {
	if p.cmd.ProcessState == nil {
		p.cmd.Process.Signal(syscall.SIGKILL)
		p.cmd.Wait()
	}
	return p.cmd.ProcessState.UserTime() + p.cmd.ProcessState.SystemTime()
}

// cpu returns the CPU time that the process has taken so far.
func (p *process) cpu(t *testing.T) time.Duration {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", p.cmd.Process.Pid))
	require.NoError(t, err)
	_, after, _ := strings.Cut(string(text), ") ")
	var user, system int64 // fields 14 and 15 of proc(5), in ticks of 10 ms
	fields := strings.Fields(after)
	_, err = fmt.Sscan(fields[11]+" "+fields[12], &user, &system)
	require.NoError(t, err)
	return time.Duration(user+system) * 10 * time.Millisecond
}

// peak returns the most memory that the process has held so far, in MB.
func (p *process) peak(t *testing.T) (kB int64) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	require.NoError(t, err)
	_, after, _ := strings.Cut(string(text), "VmHWM:")
	_, err = fmt.Sscan(after, &kB)
	require.NoError(t, err)
	return kB / 1024
}

// submit gives the job of a plan to the cluster. It returns what plinth-beam said.
func (c *cluster) submit(t *testing.T, plan string, args ...string) (string, error) {
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Minute)
	defer cancel()
	args = append([]string{"--runner=portable", "--engine=prism in a process of its own",
		fmt.Sprintf("--endpoint=localhost:%d", servicePort),
		"--environment_type=EXTERNAL", fmt.Sprintf("--environment_config=localhost:%d", poolPort)}, args...)
	cmd := exec.CommandContext(ctx, filepath.Join(c.bin, "plinth-beam"), append(args, plan)...)
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	err := cmd.Run()
	return said.String(), errors.Join(err, ctx.Err())
}

// loopback returns the bytes that came in over the loopback interface so far.
func loopback(t *testing.T) (n int64) {
	text, err := os.ReadFile("/proc/net/dev")
	require.NoError(t, err)
	_, after, _ := strings.Cut(string(text), "lo:")
	_, err = fmt.Sscan(after, &n)
	require.NoError(t, err)
	return n
}
