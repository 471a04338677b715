package extsort

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

type pair struct{ key, payload string }

// drain returns the records of s in the order they come back.
func drain(t require.TestingT, s *Sorter) []pair {
	m, err := s.Sorted()
	require.NoError(t, err)
	var out []pair
	for m.Next() {
		out = append(out, pair{string(m.Key()), string(m.Payload())})
	}
	require.NoError(t, m.Err())
	require.False(t, m.Next(), "stays at the end")
	return out
}

func comparePairs(a, b pair) int {
	return compareRecords([]byte(a.key), []byte(a.payload), []byte(b.key), []byte(b.payload))
}

func TestSorterEqualsSortInMemory(t *testing.T) {
	folder := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		text := func(n int) *rapid.Generator[string] {
			return rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, n), func(b []byte) string { return string(b) })
		}
		in := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) pair {
			return pair{text(12).Draw(t, "key"), text(40).Draw(t, "payload")}
		}), 0, 400).Draw(t, "records")
		s := NewSorter(Options{Memory: rapid.SampledFrom([]int64{1, 2000, 10000, 1 << 20}).Draw(t, "memory"), Folder: folder})
		defer s.Close()
		for _, p := range in {
			require.NoError(t, s.Add([]byte(p.key), []byte(p.payload)))
		}
		want := slices.Clone(in)
		slices.SortFunc(want, comparePairs)
		if got := drain(t, s); !slices.Equal(want, got) {
			t.Fatalf("want %q, got %q", want, got)
		}
	})
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, left, "every run is removed")
}

func TestSorterManyPasses(t *testing.T) {
	// 5,000 records in 32 kB: more runs than are merged at once.
	s := NewSorter(Options{Memory: 32 << 10, Folder: t.TempDir()})
	defer s.Close()
	r := rand.New(rand.NewPCG(1, 2))
	for _, i := range r.Perm(5000) {
		require.NoError(t, s.Add(AppendInt(nil, int64(i)), make([]byte, 100)))
	}
	require.Greater(t, s.Spilled(), 10)
	for i, p := range drain(t, s) {
		require.Equal(t, string(AppendInt(nil, int64(i))), p.key)
	}
}

func TestSorterFromManyGoroutines(t *testing.T) {
	var want []pair
	for _, workers := range []int{1, 2, 7} {
		s := NewSorter(Options{Memory: 64 << 10, Folder: t.TempDir()})
		var wg sync.WaitGroup
		for w := range workers {
			wg.Go(func() {
				for i := w; i < 5000; i += workers {
					// Every seventh record shares its key with others: the payload decides.
					key := AppendDescending(nil, float64(i-i%7*(i%2)))
					assert.NoError(t, s.Add(key, fmt.Appendf(nil, "building %d", i)))
				}
			})
		}
		wg.Wait()
		got := drain(t, s)
		require.Len(t, got, 5000)
		if want == nil {
			want = got
		}
		require.Equal(t, want, got)
		require.NoError(t, s.Close())
	}
}

func TestSorterLargeAndEmptyRecords(t *testing.T) {
	s := NewSorter(Options{Memory: 4096, Folder: t.TempDir()})
	defer s.Close()
	large := make([]byte, 100_000)
	require.NoError(t, s.Add([]byte("b"), large))
	require.NoError(t, s.Add(nil, nil))
	require.NoError(t, s.Add([]byte("a"), large))
	got := drain(t, s)
	require.Len(t, got, 3)
	assert.Equal(t, []string{"", "a", "b"}, []string{got[0].key, got[1].key, got[2].key})
	assert.Len(t, got[2].payload, len(large))
	assert.ErrorIs(t, NewSorter(Options{}).Add(make([]byte, maxRecord), nil), ErrRecordTooLarge)
}

func TestSorterThatFitsTouchesNoFile(t *testing.T) {
	s := NewSorter(Options{Folder: filepath.Join(t.TempDir(), "absent")})
	require.NoError(t, s.Add([]byte("b"), nil))
	require.NoError(t, s.Add([]byte("a"), nil))
	assert.Equal(t, []pair{{"a", ""}, {"b", ""}}, drain(t, s))
	assert.Zero(t, s.Spilled())
	require.NoError(t, s.Close())
	require.NoError(t, s.Close(), "closing twice")
	assert.Empty(t, drain(t, NewSorter(Options{})))
}

func TestSorterFailures(t *testing.T) {
	fill := func(s *Sorter) (err error) {
		for i := 0; i < 1000 && err == nil; i++ {
			err = s.Add(AppendInt(nil, int64(i)), make([]byte, 50))
		}
		return err
	}
	t.Run("no folder", func(t *testing.T) {
		s := NewSorter(Options{Memory: 4096, Folder: filepath.Join(t.TempDir(), "absent")})
		err := fill(s)
		var at *SortError
		require.ErrorAs(t, err, &at)
		assert.ErrorIs(t, err, fs.ErrNotExist)
		assert.NotContains(t, err.Error(), "(", "room would not mend it")
		assert.Equal(t, err, s.Add(nil, nil), "a failure stays")
		_, again := s.Sorted()
		assert.Equal(t, err, again)
		require.NoError(t, s.Close())
	})
	t.Run("run cut short", func(t *testing.T) {
		s := NewSorter(Options{Memory: 20_000, Folder: t.TempDir()})
		defer s.Close()
		require.NoError(t, fill(s))
		s.wait()
		info, err := os.Stat(s.runs[0].path)
		require.NoError(t, err)
		require.NoError(t, os.Truncate(s.runs[0].path, info.Size()-7))
		m, err := s.Sorted()
		if err == nil {
			for m.Next() {
				continue
			}
			err = m.Err()
		}
		assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
	})
	t.Run("run gone", func(t *testing.T) {
		s := NewSorter(Options{Memory: 20_000, Folder: t.TempDir()})
		defer s.Close()
		require.NoError(t, fill(s))
		s.wait()
		require.NoError(t, os.Remove(s.runs[1].path))
		_, err := s.Sorted()
		assert.ErrorIs(t, err, fs.ErrNotExist)
	})
	t.Run("disk full", func(t *testing.T) {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			t.Skip("this system has no /dev/full")
		}
		s := NewSorter(Options{Memory: 4096, Folder: t.TempDir()})
		defer s.Close()
		w, err := s.newRun()
		require.NoError(t, err)
		require.NoError(t, w.file.Close())
		w.file = full
		for i := range 100_000 { // more than the buffer holds, packed
			w.write([]byte("key"), fmt.Append(nil, i*7919%100_003))
		}
		err = w.close(false)
		var at *SortError
		assert.True(t, errors.As(err, &at))
		assert.ErrorContains(t, err, "no space left")
	})
	t.Run("left half read", func(t *testing.T) {
		folder := t.TempDir()
		s := NewSorter(Options{Memory: 4096, Folder: folder})
		require.NoError(t, fill(s))
		m, err := s.Sorted()
		require.NoError(t, err)
		require.True(t, m.Next())
		require.NoError(t, s.Close())
		left, err := os.ReadDir(folder)
		require.NoError(t, err)
		assert.Empty(t, left)
		assert.False(t, m.Next())
	})
	t.Run("misuse", func(t *testing.T) {
		s := NewSorter(Options{})
		_, err := s.Sorted()
		require.NoError(t, err)
		assert.Panics(t, func() { _ = s.Add(nil, nil) })
		assert.Panics(t, func() { _, _ = s.Sorted() })
	})
}

// BenchmarkSorter sorts 100,000 records of 16 bytes of key and 200 of payload,
// in memory and in a tenth of it.
func BenchmarkSorter(b *testing.B) {
	const n = 100_000
	r := rand.New(rand.NewPCG(1, 2))
	keys := make([][]byte, n)
	for i := range keys {
		keys[i] = AppendInt(AppendDescending(nil, r.NormFloat64()), int64(i))
	}
	payload := make([]byte, 200)
	for name, memory := range map[string]int64{"memory": 64 << 20, "spilled": 3 << 20} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s := NewSorter(Options{Memory: memory, Folder: b.TempDir()})
				for _, k := range keys {
					if err := s.Add(k, payload); err != nil {
						b.Fatal(err)
					}
				}
				m, err := s.Sorted()
				if err != nil {
					b.Fatal(err)
				}
				count := 0
				for m.Next() {
					count++
				}
				if count != n || m.Err() != nil {
					b.Fatal(count, m.Err())
				}
				if err := s.Close(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds(), "records/s")
		})
	}
}

// A remedy stands behind the errors that it mends and no others.
func TestSortErrorRemedies(t *testing.T) {
	for cause, want := range map[error]string{
		syscall.ENOSPC: " (make room on that disk, or name an output folder on another)",
		syscall.EROFS:  " (name an output folder that may be written to)",
		syscall.EACCES: " (name an output folder that may be written to)",
		syscall.EMFILE: " (raise the limit of open files, such as by ulimit -n 1024, or give the run more --memory)",
		ErrDamaged:     "", fs.ErrNotExist: "", syscall.ENOTDIR: "",
	} {
		err := &SortError{"write sorted run", "f", cause}
		assert.EqualError(t, err, "ranking: write sorted run f: "+cause.Error()+want)
	}
}
