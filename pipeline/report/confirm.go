package report

import (
	_ "embed" // the page
	"fmt"
	"io"
	"math"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// ConfirmName is the name of the page in the folder of a confirmation.
const ConfirmName = "confirm.html"

// A ConfirmInput holds everything that the page of a confirmation says.
type ConfirmInput struct {
	Title      string // of the plan
	About      output.About
	Design     float64 // yr, return period of the shaking
	PlanSHA256 string
	Notes      []string // how the numbers came about, as in the manifest
	Rows       []output.Confirmed
	Portraits  []*Portrait
}

var (
	//go:embed confirm.html
	confirmText string
	//go:embed confirm.css
	confirmStyle string
	//go:embed film.js
	filmScript string

	confirmPage = newFrame(confirmText, confirmStyle, themeScript+filmScript)
)

// WriteConfirm writes the page of a confirmation. Equal inputs give equal bytes.
func WriteConfirm(w io.Writer, in ConfirmInput) error {
	title := "The shortlist by time histories"
	if in.Title != "" {
		title += ": " + in.Title
	}
	data := films(in.Portraits)
	return confirmPage.write(w, title, data, struct {
		*ConfirmInput
		Checks    []checkRow
		Agreement agreement
		Films     bool
		Cautions  []string
	}{&in, checkRows(&in), agreementOf(in.Rows), len(in.Portraits) > 0 && in.hasFilm(), output.Cautions})
}

func (in *ConfirmInput) hasFilm() bool {
	for _, p := range in.Portraits {
		if p.film != nil {
			return true
		}
	}
	return false
}

// A checkRow compares both methods for one building, as it stands or with a measure.
type checkRow struct {
	Rank, RankHistory int64
	Title, ID         string
	First             bool // the first row of its building
	Portrait          int  // place of its pictures, -1 if it has none
	Measure           string
	Values            []checkValue
	Collapsed         string
	Moved, Status     string
}

// A checkValue is one quantity by both methods.
type checkValue struct {
	Name, Spectral, History, Band string
	Outside                       bool
}

// checkRows returns the rows of the table.
func checkRows(in *ConfirmInput) []checkRow {
	portraits := map[string]int{}
	for i, p := range in.Portraits {
		portraits[p.ID] = i
	}
	var out []checkRow
	for i := range in.Rows {
		r := &in.Rows[i]
		place, ok := portraits[r.BuildingID]
		if !ok {
			place = -1
		}
		row := checkRow{
			Rank: r.Rank, RankHistory: r.RankHistory, Title: shown(r.BuildingName), ID: shown(r.BuildingID),
			First:    r.Measure == ranking.NoMeasure,
			Portrait: place, Measure: upper(measureName(r.Measure)), Moved: r.Moved, Status: r.Status,
			Values: []checkValue{
				value("Storey drift, %", r.DriftSpectral, r.DriftHistory, r.DriftBand, r.DriftOutside),
				value("Floor acceleration, g", r.AccelSpectral, r.AccelHistory, r.AccelBand, r.AccelOutside),
				value("Base shear over weight", r.ShearSpectral, r.ShearHistory, r.ShearBand, r.ShearOutside),
				value("Isolators move, m", r.MoveSpectral, r.MoveHistory, r.MoveBand, r.MoveOutside),
			},
		}
		if row.First {
			row.Measure = "As it stands"
		}
		if r.Collapsed > 0 {
			row.Collapsed = fmt.Sprintf("%d of %d", r.Collapsed, r.Records)
		}
		out = append(out, row)
	}
	return out
}

func value(name string, spectral, history, band float64, outside bool) checkValue {
	v := checkValue{Name: name, Spectral: twoDigits(spectral), History: median(history), Outside: outside}
	if band > 0 {
		v.Band = "\u00b1" + twoDigits(100*band) + " %"
	}
	return v
}

// An agreement counts how often the methods agree.
type agreement struct {
	Buildings, Moved  int // all buildings, and those whose place changes
	Stated, Outside   int // values with a stated band, and those outside their band
	Records           int64
	Collapsed, Flawed int // rows with a collapse, and with another status

	// what becomes of the first choices
	Choices, Confirmed, Changed, Dropped int
	Duration, B20                        string
}

func agreementOf(rows []output.Confirmed) agreement {
	var a agreement
	for i := range rows {
		r := &rows[i]
		if r.Measure == ranking.NoMeasure {
			a.Buildings++
			a.Moved += count(r.Rank != r.RankHistory)
		}
		a.Collapsed += count(r.Collapsed > 0)
		a.Flawed += count(r.Flawed > 0)
		for _, band := range [...]float64{r.DriftBand, r.AccelBand, r.ShearBand, r.MoveBand} {
			a.Stated += count(band > 0)
		}
		for _, outside := range [...]bool{r.DriftOutside, r.AccelOutside, r.ShearOutside, r.MoveOutside} {
			a.Outside += count(outside)
		}
	}
	for _, f := range output.FirstChoices(rows) {
		a.Choices++
		switch {
		case f.Confirmed():
			a.Confirmed++
		case f.Then == ranking.NoMeasure:
			a.Dropped++
		default:
			a.Changed++
		}
	}
	if len(rows) > 0 {
		a.Records = rows[0].Records
		a.Duration, a.B20 = spanOf(rows, func(r *output.Confirmed) float64 { return r.Duration }),
			spanOf(rows, func(r *output.Confirmed) float64 { return r.B20 })
	}
	return a
}

// spanOf returns the least and the largest of a value, in words.
func spanOf(rows []output.Confirmed, of func(*output.Confirmed) float64) string {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range rows {
		low, high = min(low, of(&rows[i])), max(high, of(&rows[i]))
	}
	if from, to := twoDigits(low), twoDigits(high); from != to {
		return from + " to " + to
	}
	return twoDigits(low)
}
