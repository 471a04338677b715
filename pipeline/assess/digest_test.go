package assess

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/wire"
	"plinth/pipeline/inventory"
	"plinth/pipeline/ranking"
)

// The digest of a building says what its assessment says, and so does its record. A part of a
// record is refused.
func TestDigest(t *testing.T) {
	study := demo(t, 60, nil)
	n := len(study.measures)
	var read Digest // used again for each building
	everyBuilding(t, study, func(b *inventory.Building, a *Assessment) {
		d := digestOf(a)
		record := d.Append(nil)
		require.NoError(t, read.Read(record, n))
		require.Equal(t, record, read.Append(nil))
		require.Equal(t, b.ID, read.Building.ID)
		require.Equal(t, a.Archetype.Period, read.Period)
		require.Equal(t, a.Archetype.StrengthBeta, read.StrengthBeta)
		best := -1
		for i := range a.Options {
			o := &a.Options[i]
			if o == a.Best() {
				best = i
			}
			got := read.Offer(i)
			require.Equal(t, a.Choosable(o), got != nil)
			if got != nil {
				require.Equal(t, Offer{i, o.Cost, o.Weeks, o.Verdict, o.Benefits[0].Net, o.Parts}, *got)
				require.Equal(t, o.Score, study.objective.Score(&got.Parts))
			}
		}
		require.Equal(t, best, read.Best())
		for k, m := range read.Order {
			slug := ranking.NoMeasure
			if m >= 0 {
				slug = study.measures[m].Slug()
			}
			require.Equal(t, a.Scored(a.Choice.Order[k]).Measure, slug)
		}
		for _, cut := range []int{0, 1, len(record) / 2, len(record) - 1} {
			require.ErrorIs(t, new(Digest).Read(record[:cut], n), wire.ErrShort)
		}
	})
	require.NotEmpty(t, read.Offers)
	m := read.Offers[len(read.Offers)-1].Measure
	assert.Error(t, new(Digest).Read(read.Append(nil), m), "a measure that the study does not have")
}

// Making and writing a digest into room that is there allocates nothing.
func TestDigestAllocatesNothing(t *testing.T) {
	var d Digest
	var b []byte
	everyBuilding(t, demo(t, 3, nil), func(_ *inventory.Building, a *Assessment) {
		write := func() {
			a.Digest(&d)
			b = d.Append(b[:0])
		}
		write()
		require.Zero(t, testing.AllocsPerRun(10, write))
	})
}

// FuzzDigest: bytes are refused, or are a digest that is written and read again alike.
func FuzzDigest(f *testing.F) {
	d := Digest{Offers: []Offer{{Measure: 0}, {Measure: 2}}, Order: []int{2, -1, 0}}
	f.Add(d.Append(nil))
	f.Fuzz(func(t *testing.T, record []byte) {
		var one, two Digest
		if one.Read(record, 3) != nil {
			return
		}
		again := one.Append(nil)
		require.NoError(t, two.Read(again, 3))
		require.Equal(t, again, two.Append(nil))
	})
}
