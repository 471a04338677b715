package inventory

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/pipeline/inventory/source"
	"plinth/pipeline/page"
)

// cells that registers are known to hold.
var dirtyCells = []string{
	"", " ", "0", "1", "-1", "4", "12.5", "1e9", "-9999", "NaN", "Inf", "0x1F", "1,234.5", "\"1,234\"", "~5", ">20", "14 ft", "1947?", "19470101", "000000",
	"n/a", "<Null>", "TBD", "RC", "rc", "office", "yes", "Café", "Caf\xe9", "\"a\nb\"", "\"", "a\"b", "\"a\"b", "-150.1234", "40.1234", "B1", "B2", "\x00", "'",
}

// Rows in are buildings and rejects out, whatever the cells, and every building
// has what the stages behind need.
func TestConservation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		b.WriteString(smallHeader)
		for range rapid.IntRange(0, 12).Draw(t, "rows") {
			if rapid.IntRange(0, 3).Draw(t, "clean") > 0 {
				b.WriteString(rowWith(fmt.Sprintf("ref=B%d", rapid.IntRange(0, 9).Draw(t, "id"))))
				continue
			}
			b.WriteString(strings.Join(rapid.SliceOfN(rapid.SampledFrom(dirtyCells), 1, 12).Draw(t, "cells"), ",") + "\n")
		}
		conserve(t, b.String(), rapid.IntRange(1, 5).Draw(t, "batch"))
	})
}

type failer interface {
	require.TestingT
	Helper()
}

// conserve reads a register and checks the tally and the buildings.
func conserve(t failer, text string, batchRows int) []Building {
	t.Helper()
	r, err := NewReader(strings.NewReader(text), "register.csv", smallPlan(), Options{BatchRows: batchRows})
	require.NoError(t, err)
	var raw Raw
	var b Batch
	var all []Building
	rows, line := 0, 1
	for r.Read(&raw, &b) == nil {
		rows += len(b.Buildings) + len(b.Rejects)
		require.Equal(t, b.Rows, len(b.Buildings)+len(b.Rejects))
		for i := range b.Buildings {
			bl := &b.Buildings[i]
			require.Greater(t, bl.Line, line, "lines ascend")
			line = bl.Line
			checkBuilding(t, bl)
		}
		all = append(all, b.Buildings...)
	}
	rep := r.Report()
	require.NoError(t, rep.Tally.Check())
	require.Equal(t, rows, rep.Tally.In)
	for _, l := range strings.Split(rep.String(), "\n") {
		require.LessOrEqual(t, utf8.RuneCountInString(l), page.Width, l)
		require.Equal(t, -1, strings.IndexFunc(l, func(c rune) bool { return !unicode.IsPrint(c) }), "%q", l)
	}
	return all
}

func checkBuilding(t failer, b *Building) {
	require.NotEmpty(t, b.ID)
	require.True(t, b.Storeys >= 1 && b.Storeys <= 200)
	require.True(t, b.Grade >= 'A' && b.Grade <= 'D')
	for _, x := range []float64{b.Lon, b.Lat, b.Height, b.FloorArea, b.Footprint, b.OccupantsDay, b.OccupantsNight} {
		require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
	}
	require.True(t, math.Abs(b.Lon) <= 180 && math.Abs(b.Lat) <= 90)
	require.Greater(t, b.Height/float64(b.Storeys), 2.0)
	require.Greater(t, b.FloorArea, 0.0)
}

// A stray quotation mark costs its own row, not those behind it.
func TestStrayQuote(t *testing.T) {
	text := "\ufeff" + smallHeader + smallRow + rowWith("ref=B2", "name=\"The Hall", "lon=-150.2") + "\n" + rowWith("ref=B3", "lon=-150.3") + rowWith("ref=B4", "lon=-150.4")
	for _, end := range []string{"\n", "\r\n"} {
		for _, batch := range []int{1, 2, 100} {
			r := open(t, strings.ReplaceAll(text, "\n", end), smallPlan(), Options{BatchRows: batch})
			buildings, rejects, _ := read(t, r)
			require.Len(t, rejects, 1)
			assert.Equal(t, BrokenQuote, rejects[0].Rule)
			assert.Equal(t, 3, rejects[0].Line)
			require.Len(t, buildings, 3)
			assert.Equal(t, []int{2, 5, 6}, []int{buildings[0].Line, buildings[1].Line, buildings[2].Line})
		}
	}
	// However many rows follow.
	var long strings.Builder
	long.WriteString(text)
	const more = 250
	name := strings.Repeat("x", 2*source.LongestRecord/more)
	for i := range more {
		long.WriteString(rowWith(fmt.Sprintf("ref=C%d", i), "name="+name, fmt.Sprintf("lon=-150.5%06d", i)))
	}
	_, rejects, rep := read(t, open(t, long.String(), smallPlan(), Options{}))
	require.Len(t, rejects, 1)
	assert.Equal(t, 4+more, rep.Tally.In)
	// Without a seek the loss is named.
	r, err := NewReader(bytes.NewBufferString(text), "register.csv", smallPlan(), Options{})
	require.NoError(t, err)
	_, rejects, _ = read(t, r)
	require.Len(t, rejects, 1)
	assert.Contains(t, rejects[0].Error(), "were taken for one cell and are lost")
}

// Batches of any size, and reports merged in any order, give the same bytes.
func TestDeterminism(t *testing.T) {
	text := string(register(300)) + "B-000007,again,1,1,1,1,1,1,1,1,1,1,1,1,1\nshort,row\n"
	_, _, want := read(t, open(t, text, registerPlan(), Options{}))
	for _, n := range []int{1, 7, 64} {
		_, _, got := read(t, open(t, text, registerPlan(), Options{BatchRows: n}))
		require.Equal(t, want.String(), got.String())
	}
	var parts []*Report
	r := open(t, text, registerPlan(), Options{BatchRows: 32})
	var raw Raw
	var b Batch
	for r.Next(&raw) == nil {
		r.Parse(&raw, &b)
		part := &Report{}
		part.mapping(r.mapping, nil)
		part.add(&b)
		parts = append([]*Report{part}, parts...)
	}
	whole := parts[0]
	for _, p := range parts[1:] {
		whole.Merge(p)
	}
	require.Equal(t, want.Tally.In, whole.Tally.In)
	require.Equal(t, want.Examples[RaggedRow], whole.Examples[RaggedRow])
	require.NoError(t, whole.Tally.Check())
}

// Any number of goroutines may parse; admitted in order, the result is the same.
func TestParseTogether(t *testing.T) {
	text := string(register(400)) + string(register(30)[strings.IndexByte(string(register(1)), '\n')+1:])
	want, wantRejects, wantReport := read(t, open(t, text, registerPlan(), Options{}))
	r := open(t, text, registerPlan(), Options{BatchRows: 16})
	var batches []*Batch
	var all sync.WaitGroup
	for {
		raw, b := new(Raw), new(Batch)
		if r.Next(raw) != nil {
			break
		}
		batches = append(batches, b)
		all.Go(func() { r.Parse(raw, b) })
	}
	all.Wait()
	var got []Building
	var gotRejects []Reject
	for _, b := range batches {
		r.Admit(b)
		got = append(got, b.Buildings...)
		gotRejects = append(gotRejects, b.Rejects...)
	}
	require.Len(t, gotRejects, 30, "ids used before")
	require.Equal(t, wantRejects, gotRejects)
	require.Equal(t, fmt.Sprint(want), fmt.Sprint(got)) // NaN is not equal to itself
	require.Equal(t, wantReport.String(), r.Report().String())
}

func FuzzCSV(f *testing.F) {
	f.Add(smallHeader + smallRow)
	f.Add("\ufeff" + smallHeader + rowWith("name=\"x") + "\r\n\r\n" + smallRow)
	f.Add(smallHeader + rowWith("built=c. 1950", `area="1 234,5"`))
	f.Add(smallHeader + "\"a\nb\",,,\n\"\n\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		if r, err := NewReader(strings.NewReader(text), "register.csv", smallPlan(), Options{}); err == nil {
			read(t, r)
		}
		conserve(t, smallHeader+text, 3)
	})
}
