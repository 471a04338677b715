package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// sameOnAll are the endings of files whose bytes no processor decides.
var sameOnAll = []string{".csv", ".parquet"}

// The demo town screened by processors with and without vector instructions, and by one
// of another family with fused multiply and add, gives the same bytes: an office may
// hold its files against those of another. The other family is 64-bit ARM, run by QEMU
// in user mode.
func TestSameBytesOnEveryProcessor(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program twice: minutes")
	}
	if runtime.GOOS != "linux" || runtime.GOARCH != "amd64" {
		t.Skip("compares with linux on amd64")
	}
	dir := t.TempDir()
	here, plan := build(t, dir, "amd64"), filepath.Join(dir, "town", "plan.toml")
	out, err := exec.Command(here, "sample", filepath.Dir(plan)).CombinedOutput()
	require.NoError(t, err, string(out))
	want := screen(t, plan, nil, here)
	require.Greater(t, len(want), 6)
	t.Run("without AVX2", func(t *testing.T) {
		requireSame(t, want, screen(t, plan, []string{"GODEBUG=cpu.avx2=off"}, here))
	})
	t.Run("arm64", func(t *testing.T) {
		qemu, err := exec.LookPath("qemu-aarch64")
		if err != nil {
			t.Skip("needs: apt-get install qemu-user")
		}
		requireSame(t, want, screen(t, plan, nil, qemu, build(t, dir, "arm64")))
	})
}

func requireSame(t *testing.T, want, got map[string]string) {
	require.Len(t, got, len(want))
	for name, b := range want {
		require.True(t, b == got[name], "%s has other bytes", name)
	}
}

// build builds the program for a processor.
func build(t *testing.T, dir, arch string) string {
	path := filepath.Join(dir, "plinth-"+arch)
	c := exec.Command("go", "build", "-o", path, ".")
	c.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS=linux", "GOARCH="+arch)
	out, err := c.CombinedOutput()
	require.NoError(t, err, string(out))
	return path
}

// screen runs a screening by a program and returns its files by name.
func screen(t *testing.T, plan string, env []string, program ...string) map[string]string {
	folder := filepath.Join(filepath.Dir(plan), "out")
	require.NoError(t, os.RemoveAll(folder))
	c := exec.Command(program[0], append(program[1:], "screen", plan)...)
	c.Env = append(os.Environ(), env...)
	out, err := c.CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 3 { // some rows are rejected
		require.NoError(t, err, string(out))
	}
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	files := make(map[string]string)
	for _, e := range entries {
		if slices.Contains(sameOnAll, filepath.Ext(e.Name())) {
			b, err := os.ReadFile(filepath.Join(folder, e.Name()))
			require.NoError(t, err)
			files[e.Name()] = string(b)
		}
	}
	return files
}
