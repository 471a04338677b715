package inspect

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
)

// findings gather what the workers find. Rows go through a sorter; of a building to be seen only
// a stop stays in memory.
type findings struct {
	rows   *extsort.Sorter
	failed assess.FailedBuildings

	mu    sync.Mutex
	stops []stop
	at    map[string]int32 // number of the visit of each building, once they are grouped
}

func newFindings(o extsort.Options) *findings { return &findings{rows: extsort.NewSorter(o)} }

// add takes the rows of one building, in any order, which it changes.
func (f *findings) add(rows []output.Inspection) error {
	if len(rows) == 0 {
		return nil
	}
	slices.SortFunc(rows, byWorth)
	s := stop{id: rows[0].ID, lon: rows[0].Lon, lat: rows[0].Lat}
	var key, row []byte
	for i := range rows {
		r := &rows[i]
		s.worth += r.Worth
		s.fields = append(s.fields, r.Field)
		key = extsort.AppendDescending(key[:0], r.Worth)
		key = extsort.AppendDescending(key, r.BestChanges)
		key = extsort.AppendString(key, r.ID)
		key = extsort.AppendString(key, r.Field)
		row = output.Inspections.AppendRow(row[:0], r)
		if err := f.rows.Add(key, row); err != nil {
			return err
		}
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.stops = append(f.stops, s)
	return nil
}

// byWorth orders rows by worth, then by how likely they change the best measure, the largest
// first, then by building and field.
func byWorth(x, y output.Inspection) int {
	return cmp.Or(cmp.Compare(y.Worth, x.Worth), cmp.Compare(y.BestChanges, x.BestChanges),
		cmp.Compare(x.ID, y.ID), cmp.Compare(x.Field, y.Field))
}

// each calls see with every row in order, with its place and its visit. It fills what s holds of
// all rows: their number, the first of them, and the sums over fields.
func (f *findings) each(ctx context.Context, s *Search, see func(*output.Inspection) error) error {
	decode := output.Inspections.Decoder()
	at := map[string]int{}
	err := f.rows.Each(ctx, func(_, record []byte) error {
		return decode(record, func(r *output.Inspection) error {
			s.Found++
			r.Place, r.Visit = s.Found, int64(f.at[r.ID])
			if s.Found <= rowsShown {
				s.First = append(s.First, *r)
			}
			s.addField(at, r)
			return see(r)
		})
	})
	slices.SortFunc(s.Fields, func(x, y FieldWorth) int {
		return cmp.Or(cmp.Compare(y.Worth, x.Worth), cmp.Compare(x.Field, y.Field))
	})
	return err
}

// addField adds a row to the sums over its field, whose index is in at.
func (s *Search) addField(at map[string]int, r *output.Inspection) {
	k, ok := at[r.Field]
	if !ok {
		k = len(s.Fields)
		at[r.Field] = k
		s.Fields = append(s.Fields, FieldWorth{Field: r.Field})
	}
	f := &s.Fields[k]
	f.Buildings++
	f.Worth += r.Worth
	f.Best += r.BestChanges
	if !math.IsNaN(r.FundedChanges) {
		f.Funded += r.FundedChanges
	}
}
