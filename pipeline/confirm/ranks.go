package confirm

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// placeByHistory numbers the rows of one building by their scores with time
// histories; equal scores keep the order of the screening.
func placeByHistory(rows []output.Confirmed) {
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(rows[j].ScoreHistory, rows[i].ScoreHistory)
	})
	for place, i := range order {
		rows[i].PlaceHistory = int64(place + 1)
	}
}

// rankResults ranks the shortlist by its scores with time histories, says who
// moved, and returns all rows in the order of the screening.
func rankResults(list []result) []output.Confirmed {
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(list[j].best, list[i].best) })
	for place, i := range order {
		for k := range list[i].rows {
			list[i].rows[k].RankHistory = int64(place + 1)
		}
	}
	var rows []output.Confirmed
	for i := range list {
		for k := range list[i].rows {
			row := list[i].rows[k]
			row.Moved = whatMoved(&row, list[i].rows)
			rows = append(rows, row)
		}
	}
	return rows
}

// whatMoved says what the time histories change: the rank of the building, on its row as it
// stands, and on every row the place of the measure among those that were run.
func whatMoved(row *output.Confirmed, siblings []output.Confirmed) string {
	var out []string
	if row.Measure == ranking.NoMeasure && row.Rank != row.RankHistory {
		out = append(out, fmt.Sprintf("building from %d to %d", row.Rank, row.RankHistory))
	}
	before := int64(1)
	for i := range siblings {
		if siblings[i].Place < row.Place {
			before++
		}
	}
	if before != row.PlaceHistory {
		out = append(out, fmt.Sprintf("measure from %d to %d", before, row.PlaceHistory))
	}
	return strings.Join(out, "; ")
}
