package pipeline

import (
	"context"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report"
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
	if err := s.rank(ctx); err != nil {
		return nil, err
	}
	only, err := s.shortlist(ctx)
	if err != nil {
		return nil, err
	}
	out := new(written)
	if out.sure, err = s.run.sample(ctx, workers, only); err != nil {
		return nil, err
	}
	orders := s.run.Orders()
	order := &orders[len(orders)-1]
	var place int64
	var groups ranking.Ranker
	var naive naiveOrders
	err = stream(ctx, set, s.buildings, &output.Buildings, about, tables(formats, true), func(b *output.Building) {
		place++
		order.Note(b, place)
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
	})
	if err != nil {
		return nil, err
	}
	out.checks = naive.checks(s.run.plan.Uncertainty.Top)
	place = 0
	err = stream(ctx, set, s.candidates, &output.Candidates, about, tables(formats, false), func(c *output.Candidate) {
		place++
		c.Rank = place
		stock.Candidate(c)
	})
	if err != nil {
		return nil, err
	}
	list := []string{output.FormatCSV} // for people
	if err := stream(ctx, set, s.verdicts, &output.Verdicts, about, list, stock.Verdict); err != nil {
		return nil, err
	}
	return out, stream(ctx, set, s.rejects, &output.Rejects, about, list, stock.Reject)
}

// formatHTML is the format of the report.
const formatHTML = "html"

// tables returns the formats that a table is written in; those of maps hold the
// buildings only, one feature each.
func tables(formats []string, maps bool) []string {
	var out []string
	for _, f := range formats {
		if f == output.FormatParquet || f == output.FormatCSV || maps && f != formatHTML {
			out = append(out, f)
		}
	}
	return out
}

// stream writes every row of a sorter to the files of its table, after see has
// seen and perhaps changed it.
func stream[R any](ctx context.Context, set *output.Set, sorter *ranking.Sorter, t *output.Table[R], about output.About, formats []string, see func(*R)) error {
	sheet, err := output.NewSheet(set, t, about, formats...)
	if err != nil {
		return err
	}
	err = each(ctx, sorter, t, func(row *R) error {
		see(row)
		return sheet.Write(row)
	})
	if err != nil {
		return err
	}
	return sheet.Close()
}

// each calls f with every row of a sorter in order. The row is decoded anew for
// each call.
func each[R any](ctx context.Context, sorter *ranking.Sorter, t *output.Table[R], f func(*R) error) error {
	rows, err := sorter.Sorted()
	if err != nil {
		return err
	}
	var row R
	for n := 0; rows.Next(); n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if _, err := t.DecodeRow(rows.Payload(), &row); err != nil {
			return err
		}
		if err := f(&row); err != nil {
			return err
		}
	}
	return rows.Err()
}
