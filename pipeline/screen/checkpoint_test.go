package screen

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
)

func someCheckpoint() *checkpoint {
	return &checkpoint{
		Program: "0.1.0, go1.26, amd64", Plan: "00ff",
		Inputs:     []output.Input{{Name: "büildings <1>.csv", Bytes: math.MaxInt64, SHA256: "12"}},
		ParcelRows: 1024, Parcels: 98, Rows: 100_352, Out: 100_000, Rejected: 352,
		Runs: [][]extsort.Run{{{Path: "plinth-sort-1/run-000000", Bytes: 1 << 40, Sum: math.MaxUint32}}, nil},
	}
}

func TestCheckpointRoundTrip(t *testing.T) {
	c := someCheckpoint()
	path := filepath.Join(t.TempDir(), "checkpoint")
	_, err := readCheckpoint(path)
	require.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, c.write(path))
	got, err := readCheckpoint(path)
	require.NoError(t, err)
	assert.Equal(t, c, got)
}

// One bit, one byte less or more, and counts that do not add up are found.
func TestDamagedCheckpoint(t *testing.T) {
	sound, err := someCheckpoint().encode()
	require.NoError(t, err)
	for i := range sound {
		for bit := range 8 {
			bad := append([]byte(nil), sound...)
			bad[i] ^= 1 << bit
			_, err := decodeCheckpoint(bad)
			require.ErrorIs(t, err, errCheckpoint, "byte %d bit %d", i, bit)
		}
		_, err := decodeCheckpoint(sound[:i])
		require.ErrorIs(t, err, errCheckpoint, "cut at byte %d", i)
	}
	_, err = decodeCheckpoint(append(sound, ' '))
	require.ErrorIs(t, err, errCheckpoint)
	_, err = decodeCheckpoint(bytes.Replace(sound, []byte("checkpoint 2"), []byte("checkpoint 1"), 1))
	require.ErrorContains(t, err, "of version 1")
	lost := someCheckpoint()
	lost.Out--
	b, err := lost.encode()
	require.NoError(t, err)
	_, err = decodeCheckpoint(b)
	require.ErrorIs(t, err, errCheckpoint)
}

// FuzzCheckpoint holds the reader to taking what the writer writes and nothing else.
func FuzzCheckpoint(f *testing.F) {
	b, err := someCheckpoint().encode()
	require.NoError(f, err)
	f.Add(b)
	f.Add(b[:len(b)-1])
	f.Add([]byte("plinth checkpoint 1 \n{}"))
	f.Fuzz(func(t *testing.T, b []byte) {
		c, err := decodeCheckpoint(b)
		if err != nil {
			require.ErrorIs(t, err, errCheckpoint)
			return
		}
		again, err := c.encode()
		require.NoError(t, err)
		require.Equal(t, string(b), string(again))
	})
}
