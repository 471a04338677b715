package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
	"plinth/pipeline/sample"
)

// A register without rows is a run without rows.
func TestEmpty(t *testing.T) {
	path := town(t, 1)
	register := filepath.Join(filepath.Dir(path), "buildings.csv")
	for line := range lines(t, register) {
		require.NoError(t, os.WriteFile(register, []byte(line+"\n"), 0o666))
		break
	}
	m, err := output.ReadManifest(spreadOut(t, path, "", 2, 10))
	require.NoError(t, err)
	assert.Equal(t, "0 in = 0 out + 0 rejected", m.Counts.Equation)
}

// BenchmarkSplit measures the pass of one worker over a register of 100,000 rows.
func BenchmarkSplit(b *testing.B) {
	dir := b.TempDir()
	const buildings = 100_000
	require.NoError(b, sample.Write(b.Context(), dir, buildings, false))
	path := filepath.Join(dir, sample.PlanFile)
	j := &job{Plan: path, Registers: []string{filepath.Join(dir, "buildings.csv")}, Rows: 8192}
	info, err := os.Stat(j.Registers[0])
	require.NoError(b, err)
	b.SetBytes(info.Size())
	for b.Loop() {
		f := &splitFn{Job: *j}
		require.NoError(b, f.ProcessElement(b.Context(), 0, func(shard) {}, func(input) {}))
	}
	b.ReportMetric(buildings*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
}
