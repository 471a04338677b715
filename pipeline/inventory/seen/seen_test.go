package seen

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A ledger finds what a map of lists finds.
func TestLedgerIsAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Few different keys: long runs of equal ones, over the end of the table too.
		keys := rapid.SliceOfN(rapid.Uint64Range(1, 200), 0, 2000).Draw(t, "keys")
		var l Ledger[int]
		want := map[uint64][]int{}
		for i, k := range keys {
			if at := l.Find(k); (at != nil) != (len(want[k]) > 0) {
				t.Fatalf("key %d: found %v, want %v", k, at, want[k])
			}
			l.Enter(k, i)
			want[k] = append(want[k], i)
		}
		for k, list := range want {
			var got []int
			for i := l.seek(k); l.keys[i] != 0; i = l.next(i) {
				if l.keys[i] == k {
					got = append(got, l.values[i])
				}
			}
			require.ElementsMatch(t, list, got)
		}
	})
}

// What a stock costs: 20 bytes an entry over the load, ids and points alike.
func TestLedgerIsSmall(t *testing.T) {
	var l Ledger[Likeness]
	r := rand.New(rand.NewPCG(4, 2))
	for n := 1; n <= 300_000; n++ {
		l.Enter(Point(-180+360*r.Float64(), -90+180*r.Float64()), Likeness{})
		if n > 10_000 && n%1000 == 0 {
			require.Less(t, 20*float64(len(l.keys))/float64(n), 20/ledgerFull*ledgerGrown+0.1)
		}
	}
}

// Ids are the same where their texts are, and alike where letters and digits are.
func TestIDSetAgainstTexts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ids := rapid.SliceOf(rapid.StringMatching(`[abAB1é\-_ .]{0,4}`)).Draw(t, "ids")
		var s IDs
		s.Init()
		first, letters := map[string]int{}, map[string]int{}
		for i, id := range ids {
			line := i + 1
			same, alike := s.Add(id, line)
			require.Equal(t, first[id], same, "%q", id)
			if same > 0 {
				continue
			}
			first[id] = line
			bare := strings.ToLower(strings.NewReplacer("-", "", "_", "", " ", "", ".", "").Replace(id))
			require.Equal(t, letters[bare], alike, "%q", id)
			if bare != "" && letters[bare] == 0 {
				letters[bare] = line
			}
		}
	})
}

// Neither ids of signs only nor many alike slow an id down with their number.
func TestIDsOfSigns(t *testing.T) {
	var s IDs
	s.Init()
	for i := range 20_000 {
		id := strings.Map(func(r rune) rune { return r - '0' + '!' }, fmt.Sprint(i))
		same, alike := s.Add(id, i+1)
		require.Zero(t, same, id)
		require.Zero(t, alike, id)
	}
	same, _ := s.Add("!", 99)
	assert.Equal(t, 1, same)
}

// BenchmarkAdmitID is what remembering an id takes in a stock of a million.
func BenchmarkAdmitID(b *testing.B) {
	ids := make([]string, 1_000_000)
	for i := range ids {
		ids[i] = fmt.Sprintf("CS-%07d", i)
	}
	b.ReportAllocs()
	for b.Loop() {
		var s IDs
		s.Init()
		for i, id := range ids {
			s.Add(id, i+1)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(ids)), "ns/id")
}
