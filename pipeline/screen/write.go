package screen

import (
	"context"
	"errors"
	"slices"

	"golang.org/x/sync/errgroup"

	"plinth/pipeline/areas"
	"plinth/pipeline/assessed"
	"plinth/pipeline/extsort"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report"
)

// topBuildings is the number of buildings that the summary of a screening shows.
const topBuildings = 10

// A written summarizes the rows that were written.
type written struct {
	first       []output.Building  // the foremost buildings
	checks      []output.RankCheck // the order against naive ones
	uncertainty *rankUncertainty   // nil without draws
	book        *output.Workbook   // nil where the plan wants none

	now      int      // buildings an engineer should look at now
	nowFirst []string // ids of the first of them

	areas *areas.Table // nil without areas
}

// write ranks the rows, writes them to the files of set and hands them to the stock of the
// report. Digests go to left.
func (s *sink) write(ctx context.Context, set *output.Set, left *assessed.Writer, about output.About,
	formats []string, workers int, stock *report.Stock) (*written, error) {
	out := new(written)
	if slices.Contains(formats, output.FormatWorkbook) {
		out.book = output.NewWorkbook(about)
	}
	if err := together(ctx, len(s.placings)+1,
		func(ctx context.Context, i int) (err error) {
			if i < len(s.placings) {
				return s.placings[i].rank(ctx, s.counts.Out.Load())
			}
			out.uncertainty, err = s.leave(ctx, left, workers)
			return err
		}); err != nil {
		return nil, err
	}
	list := []string{output.FormatCSV} // for people
	var place int64
	first := newGate(min(report.MaxBuildings, s.counts.Out.Load()))
	joined := s.layers(formats)
	streams := []func(context.Context) error{ // independent but for the first buildings
		s.streamBuildings(set, about, withLarge(tables(formats, true), s.counts.Out.Load()), stock, out,
			first),
		first.before(stream(set, s.candidates, &output.Candidates, output.Candidates.Decoder(), about,
			slices.Concat(tables(formats, false), joined), func(c *output.Candidate, _ []byte) {
				place++
				c.Rank = place
				stock.Candidate(c)
				output.AddToWorkbook(out.book, &output.Candidates, c)
			})),
		first.before(stream(set, s.verdicts, &output.Verdicts, VerdictDecoder(), about, slices.Concat(list, joined),
			func(v *output.Verdict, _ []byte) { stock.Verdict(v) })),
		stream(set, s.rejects, &output.Rejects, output.Rejects.Decoder(), about, list,
			func(r *output.Reject, _ []byte) {
				stock.Reject(r)
				output.AddToWorkbook(out.book, &output.Rejects, r)
			}),
	}
	if err := together(ctx, len(streams),
		func(ctx context.Context, i int) error { return streams[i](ctx) }); err != nil {
		return nil, err
	}
	if err := errors.Join(writeRules(s.study, set, about, joined), s.writeAreas(set, about, out.areas)); err != nil {
		return nil, err
	}
	return out, set.Gather(output.Buildings.Name, output.Areas.Name, output.Candidates.Name, output.Verdicts.Name,
		output.Rules.Name)
}

// streamBuildings returns the stream of buildings with their places in every order.
func (s *sink) streamBuildings(set *output.Set, about output.About, formats []string, stock *report.Stock,
	out *written, first gate) func(context.Context) error {
	var place int64
	var groups ranking.Ranker
	var naive naiveOrders
	var words []byte
	out.areas = areaTable(s.study)
	write := stream(set, s.buildings, &output.Buildings, output.Buildings.Decoder(), about, formats,
		func(b *output.Building, key []byte) {
			place++
			s.order.Note(b, place)
			for _, p := range s.placings {
				p.Note(b, int64(p.places[numberIn(key)]))
			}
			b.TieGroup = int64(groups.Next(b.Score, b.ScoreResolution/ranking.Resolution).Group)
			out.uncertainty.fill(b)
			words = b.Describe(s.counts.Out.Load(), words)
			if out.areas != nil {
				out.areas.Add(b)
			}
			naive.add(b)
			if place <= topBuildings {
				out.first = append(out.first, *b)
			}
			if b.LookNow != "" {
				out.now++
				out.nowFirst = append(out.nowFirst, b.ID)[:min(out.now, topBuildings)]
			}
			stock.Building(b)
			output.AddToWorkbook(out.book, &output.Buildings, b)
			first.count(place)
		})
	return func(ctx context.Context) error {
		err := write(ctx)
		out.checks = naive.checks(s.study.Plan().Uncertainty.Top)
		return err
	}
}

// A gate holds streams back until another stream has written the given number of rows: the
// report keeps the candidates and verdicts of the first buildings and must know them.
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

// stream returns a function that writes every row of a sorter to the files of its
// table, after see has seen and perhaps changed it, with the key of its record. The
// files are started at once.
func stream[R any](set *output.Set, sorter *extsort.Sorter, t *output.Table[R], decode output.Decoder[R],
	about output.About, formats []string, see func(row *R, key []byte)) func(context.Context) error {
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

// each calls f with every row of a sorter in order and the key of its record, which
// may hold several.
func each[R any](ctx context.Context, sorter *extsort.Sorter, decode output.Decoder[R],
	f func(row *R, key []byte) error) error {
	return sorter.Each(ctx, func(key, payload []byte) error {
		return decode(payload, func(row *R) error { return f(row, key) })
	})
}
