package pipeline

import (
	"context"
	"errors"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report"
)

// topBuildings is how many buildings the summary of a run shows.
const topBuildings = 10

// write writes the sorted rows to the files of set, feeds them to the stock of the
// report, and returns the foremost buildings.
func (s *sink) write(ctx context.Context, set *output.Set, about output.About, formats []string, stock *report.Stock) ([]output.Building, error) {
	if err := s.rankAsIs(ctx); err != nil {
		return nil, err
	}
	var first []output.Building
	var place int64
	var groups ranking.Ranker
	err := stream(ctx, set, s.buildings, &output.Buildings, about, tables(formats, true), func(b *output.Building) {
		place++
		b.Rank, b.TieGroup = place, int64(groups.Next(b.Score, b.ScoreResolution/ranking.Resolution).Group)
		if place <= topBuildings {
			first = append(first, *b)
		}
		stock.Building(b)
	})
	if err != nil {
		return nil, err
	}
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
	return first, stream(ctx, set, s.rejects, &output.Rejects, about, list, stock.Reject)
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

// rankAsIs reads the buildings in the order they were sorted in, by annual loss as
// they stand, notes that place in each, and sorts them anew by score.
func (s *sink) rankAsIs(ctx context.Context) error {
	byScore := ranking.NewSorter(s.options)
	var place int64
	var key, payload []byte
	err := each(ctx, s.buildings, &output.Buildings, func(b *output.Building) error {
		place++
		b.RankAsIs = place
		key = ranking.AppendDescending(key[:0], b.Score)
		key = ranking.AppendDescending(key, b.AnnualLoss)
		key = ranking.AppendString(key, b.ID)
		payload = output.Buildings.AppendRow(payload[:0], b)
		return byScore.Add(key, payload)
	})
	err = errors.Join(err, s.buildings.Close())
	s.buildings = byScore
	return err
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
