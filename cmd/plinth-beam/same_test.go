package main

import (
	"bufio"
	"bytes"
	"io"
	"iter"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
)

// ranged returns the files of a table's ranges in order.
func ranged(t *testing.T, dir, table, format string) []string {
	files, err := filepath.Glob(filepath.Join(dir, table+"-*-of-*."+format))
	require.NoError(t, err)
	return files
}

// joined returns the CSV files of a table one after the other, with one header.
func joined(t *testing.T, dir, table string) string {
	var all strings.Builder
	for i, f := range ranged(t, dir, table, "csv") {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		if i > 0 {
			_, text, _ = bytes.Cut(text, []byte("\n"))
		}
		all.Write(text)
	}
	return all.String()
}

// lines yields the lines of CSV files that are one table, with one header.
func lines(t *testing.T, files ...string) iter.Seq[string] {
	return func(yield func(string) bool) {
		for i, name := range files {
			f, err := os.Open(name)
			require.NoError(t, err)
			defer f.Close()
			s := bufio.NewScanner(f)
			s.Buffer(nil, 1<<20)
			if i > 0 {
				s.Scan()
			}
			for s.Scan() {
				if !yield(s.Text()) {
					return
				}
			}
			require.NoError(t, s.Err())
		}
	}
}

// parquetRows yields the rows of Parquet files, each until the next.
func parquetRows(t *testing.T, files ...string) iter.Seq[parquet.Row] {
	return func(yield func(parquet.Row) bool) {
		for _, name := range files {
			f, err := os.Open(name)
			require.NoError(t, err)
			defer f.Close()
			r := parquet.NewReader(f)
			one := make([]parquet.Row, 1)
			for {
				n, err := r.ReadRows(one)
				if n == 1 && !yield(one[0]) {
					return
				}
				if err == io.EOF {
					break
				}
				require.NoError(t, err)
			}
		}
	}
}

// equal asserts that two tables have the same rows in the same order. Neither is held
// in memory.
func equal[R any](t *testing.T, table string, want, got iter.Seq[R], same func(a, b R) bool) {
	next, stop := iter.Pull(got)
	defer stop()
	n := 0
	for w := range want {
		n++
		g, ok := next()
		require.True(t, ok, "%s ends before row %d", table, n)
		if !same(w, g) {
			require.Fail(t, "rows differ", "%s, row %d:\nwant %+v\ngot  %+v", table, n, w, g)
		}
	}
	_, more := next()
	require.False(t, more, "%s goes on after row %d", table, n)
}

// same asserts that a run over machines wrote the rows of the run on one, in their
// order, in every table and format.
func same(t *testing.T, local, spread string) {
	for _, table := range []string{"buildings", "candidates", "verdicts", "rejects"} {
		want, got := lines(t, filepath.Join(local, table+".csv")), lines(t, ranged(t, spread, table, "csv")...)
		equal(t, table+".csv", want, got, func(a, b string) bool { return a == b })
	}
	for _, table := range []string{"buildings", "candidates"} {
		want, got := parquetRows(t, filepath.Join(local, table+".parquet")), parquetRows(t, ranged(t, spread, table, "parquet")...)
		equal(t, table+".parquet", want, got, parquet.Row.Equal)
	}
	one, err := output.ReadManifest(local)
	require.NoError(t, err)
	many, err := output.ReadManifest(spread)
	require.NoError(t, err)
	assert.Equal(t, one.Counts, many.Counts)
	assert.Equal(t, one.Inputs, many.Inputs)
	assert.Equal(t, append(one.Notes, many.Notes[len(many.Notes)-1]), many.Notes, "the last says what carried the rows")
	assert.Regexp(t, `^Spread over machines by the Apache Beam Go SDK [0-9.]+, runner [a-z]+(, on .+)?\.$`, many.Notes[len(many.Notes)-1])
	for _, f := range many.Files {
		in, err := output.HashInput(filepath.Join(spread, f.Name), f.Name)
		require.NoError(t, err)
		assert.Equal(t, f.SHA256, in.SHA256, f.Name)
	}
}
