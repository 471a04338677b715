package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type emitted struct {
	part  int
	block []byte
}

// screened scouts and assesses a register as one shard and returns what is emitted.
func screened(t testing.TB, j *job) (blocks []emitted, n tally) {
	var lanes []int
	var drawn []draw
	put := func(part int, b []byte) { blocks = append(blocks, emitted{part, b}) }
	scout, sample := &scoutFn{Job: *j}, &sampleFn{j.Ranges}
	require.NoError(t, scout.ProcessElement(t.Context(), shard{}, put, func(lane int, d draw) {
		lanes, drawn = append(lanes, lane), append(drawn, sample.ExtractOutput(d))
	}))
	lane, d := from(lanes), from(drawn)
	borders := func(l *int, b *draw) bool { return lane(l) && d(b) }
	f := &assessFn{Job: *j}
	require.NoError(t, f.ProcessElement(t.Context(), "", from([]shard{{}}), from([]twin(nil)), borders, put,
		put, func(got tally) { n = got }))
	return blocks, n
}

// A step that a runner repeats emits the same bytes.
func TestAgain(t *testing.T) {
	j, err := newJob(town(t, 60), "")
	require.NoError(t, err)
	j.Ranges, j.Rows, j.Memory = 3, 100, 20<<10
	first, n := screened(t, j)
	assert.Greater(t, n.Out, int64(30))
	assert.Equal(t, n.In, n.Out+n.Rejected)
	assert.Greater(t, len(first), 40)
	again, _ := screened(t, j)
	assert.Equal(t, first, again)
}

// BenchmarkShard measures the work on one shard and counts the bytes emitted.
func BenchmarkShard(b *testing.B) {
	j, err := newJob(town(b, 8192), "")
	require.NoError(b, err)
	j.Ranges, j.Rows, j.Memory = 8, 10_000, 256<<20
	var bytes, buildings int64
	for b.Loop() {
		blocks, n := screened(b, j)
		for _, e := range blocks {
			bytes += int64(len(e.block))
		}
		buildings += n.Out
	}
	b.ReportMetric(float64(bytes)/float64(buildings), "B/building")
	b.ReportMetric(b.Elapsed().Seconds()*1e6/float64(buildings), "µs/building")
}
