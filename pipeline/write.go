package pipeline

import (
	"context"
	"errors"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report"
	"plinth/retrofit"
)

// topBuildings is how many buildings the summary of a run shows.
const topBuildings = 10

// A written is what is to be said of the rows once they are in files.
type written struct {
	first  []output.Building  // the foremost buildings
	checks []output.RankCheck // the order against naive ones
	sure   *sureness          // nil without draws

	now      int      // buildings an engineer should look at now
	nowFirst []string // ids of the first of them
}

// write ranks the rows, writes them to the files of set, feeds them to the stock of
// the report and returns what is to be said of them.
func (s *sink) write(ctx context.Context, set *output.Set, about output.About, formats []string, workers int, stock *report.Stock) (*written, error) {
	if err := together(ctx, len(s.placings), func(ctx context.Context, i int) error { return s.placings[i].rank(ctx, s.nOut.Load()) }); err != nil {
		return nil, err
	}
	only, err := s.foremost(ctx)
	if err != nil {
		return nil, err
	}
	out := new(written)
	if out.sure, err = s.run.sample(ctx, workers, only); err != nil {
		return nil, err
	}
	list := []string{output.FormatCSV} // for people
	var place int64
	first := newGate(min(report.MaxBuildings, s.nOut.Load()))
	streams := []func(context.Context) error{ // of no concern to each other but for the foremost buildings
		s.streamBuildings(set, about, withLarge(tables(formats, true), s.nOut.Load()), stock, out, first),
		first.before(stream(set, s.candidates, &output.Candidates, output.Candidates.Decoder(), about, tables(formats, false), func(c *output.Candidate, _ []byte) {
			place++
			c.Rank = place
			stock.Candidate(c)
		})),
		first.before(stream(set, s.verdicts, &output.Verdicts, VerdictDecoder(), about, list, func(v *output.Verdict, _ []byte) { stock.Verdict(v) })),
		stream(set, s.rejects, &output.Rejects, output.Rejects.Decoder(), about, list, func(r *output.Reject, _ []byte) { stock.Reject(r) }),
	}
	if err := together(ctx, len(streams), func(ctx context.Context, i int) error { return streams[i](ctx) }); err != nil {
		return nil, err
	}
	return out, s.run.writeRules(set, about)
}

// streamBuildings returns the stream of buildings with their places in every order.
func (s *sink) streamBuildings(set *output.Set, about output.About, formats []string, stock *report.Stock, out *written, first gate) func(context.Context) error {
	var place int64
	var groups ranking.Ranker
	var naive naiveOrders
	write := stream(set, s.buildings, &output.Buildings, output.Buildings.Decoder(), about, formats, func(b *output.Building, key []byte) {
		place++
		s.order.Note(b, place)
		for _, p := range s.placings {
			p.Note(b, int64(p.places[numberIn(key)]))
		}
		b.TieGroup = int64(groups.Next(b.Score, b.ScoreResolution/ranking.Resolution).Group)
		out.sure.tell(b)
		naive.add(b)
		if place <= topBuildings {
			out.first = append(out.first, *b)
		}
		if b.LookNow != "" {
			out.now++
			out.nowFirst = append(out.nowFirst, b.ID)[:min(out.now, topBuildings)]
		}
		stock.Building(b)
		first.count(place)
	})
	return func(ctx context.Context) error {
		err := write(ctx)
		out.checks = naive.checks(s.run.plan.Uncertainty.Top)
		return err
	}
}

// A gate holds streams back until so many rows of another have gone by: the report
// keeps the candidates and verdicts of the foremost buildings, which come first.
type gate struct {
	rows int64
	open chan struct{}
}

func newGate(rows int64) gate {
	g := gate{rows, make(chan struct{})}
	g.count(0)
	return g
}

// count opens the gate with its last row.
func (g gate) count(n int64) {
	if n == g.rows {
		close(g.open)
	}
}

// before returns f, to be begun when the gate is open.
func (g gate) before(f func(context.Context) error) func(context.Context) error {
	return func(ctx context.Context) error {
		select {
		case <-g.open:
			return f(ctx)
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// writeRules writes the rules that the measures of the run are held against.
func (r *Run) writeRules(set *output.Set, about output.About) error {
	return output.WriteTable(set, &output.Rules, about, r.Rules(), output.FormatCSV)
}

// Rules returns the rows of the rules that the measures of the run are held against.
func (r *Run) Rules() []output.Rule {
	var rows []output.Rule
	for i := range retrofit.DefaultRules() {
		rule := &retrofit.DefaultRules()[i]
		var used []string
		for _, k := range retrofit.Kinds() {
			if slices.Contains(k.Rules, rule.Name) && slices.Contains(r.plan.Measures.Use, k.Slug) {
				used = append(used, k.Slug)
			}
		}
		if len(used) == 0 {
			continue
		}
		row := output.Rule{
			Rule: rule.Name, Measures: strings.Join(used, " "), Criterion: rule.Criterion.String(), Unit: rule.Criterion.Unit(),
			Comparison: rule.Compare.String(), Doubt: rule.Doubt, Bar: rule.Bar, Source: rule.Source,
		}
		if rule.Against != 0 {
			row.Against = rule.Against.String()
		}
		rows = append(rows, row)
	}
	return rows
}

// tables returns the formats that a table is written in; those of maps hold the
// buildings only, one feature each.
func tables(formats []string, maps bool) []string {
	var out []string
	for _, f := range formats {
		if format, ok := output.FormatNamed(f); ok && (maps || !format.Map) {
			out = append(out, f)
		}
	}
	return out
}

// manyBuildings is how many are more than a viewer draws at ease from one file
// (judgement).
const manyBuildings = 50_000

// withLarge adds the formats that also are written where there is a map of many buildings.
func withLarge(formats []string, buildings int64) []string {
	if buildings <= manyBuildings {
		return formats
	}
	out := slices.Clone(formats)
	for _, f := range formats {
		if format, _ := output.FormatNamed(f); format.Large != "" && !slices.Contains(out, format.Large) {
			out = append(out, format.Large)
		}
	}
	return out
}

// stream returns a function that writes every row of a sorter to the files of its
// table, after see has seen and perhaps changed it, with the key of its record. The
// files are started at once.
func stream[R any](set *output.Set, sorter *ranking.Sorter, t *output.Table[R], decode output.Decoder[R], about output.About, formats []string, see func(row *R, key []byte)) func(context.Context) error {
	sheet, err := output.NewSheet(set, t, about, formats...)
	if err != nil {
		return func(context.Context) error { return err }
	}
	return func(ctx context.Context) error {
		err := each(ctx, sorter, decode, func(row *R, key []byte) error {
			see(row, key)
			return sheet.Write(row)
		})
		return errors.Join(err, sheet.Close())
	}
}

// together calls f with 0 to n-1, each in a goroutine of its own, and returns the
// first error, which ends the context of the others.
func together(ctx context.Context, n int, f func(ctx context.Context, i int) error) error {
	g, ctx := errgroup.WithContext(ctx)
	for i := range n {
		g.Go(func() error { return f(ctx, i) })
	}
	return g.Wait()
}

// records calls f with every record of a sorter in order.
func records(ctx context.Context, sorter *ranking.Sorter, f func(key, payload []byte) error) error {
	rows, err := sorter.Sorted()
	if err != nil {
		return err
	}
	for n := 0; rows.Next(); n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if err := f(rows.Key(), rows.Payload()); err != nil {
			return err
		}
	}
	return rows.Err()
}

// each calls f with every row of a sorter in order and the key of its record, which
// may hold several.
func each[R any](ctx context.Context, sorter *ranking.Sorter, decode output.Decoder[R], f func(row *R, key []byte) error) error {
	return records(ctx, sorter, func(key, payload []byte) error {
		return decode(payload, func(row *R) error { return f(row, key) })
	})
}
