package consequence

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"plinth/retrofit"
)

func readStates(o *Options, fsys fs.FS) error {
	seen := map[string]bool{}
	err := eachRow(fsys, "states.csv", []string{"state", "quantity", "value", "source"}, func(r *row) {
		i := r.word("state", stateWords)
		if i < 0 {
			return
		}
		s := &o.States[i]
		switch r.text("quantity") {
		case "loss_ratio":
			s.LossRatio = r.number("value", 0, 1)
		case "days":
			s.Days = r.number("value", 0, 10000)
		case "dead":
			if i == Collapse {
				r.fail("quantity", "dead", "the dead of a collapse go with the system: set collapse_volume and "+
					"collapse_fatality in the table of systems")
			}
			s.Dead = r.number("value", 0, 1)
		case "serious":
			s.Serious = r.number("value", 0, 1)
		case "minor":
			s.Minor = r.number("value", 0, 1)
		default:
			r.fail("quantity", r.text("quantity"), "want one of loss_ratio, days, dead, serious, minor")
		}
		once(r, seen, r.text("state")+" "+r.text("quantity"))
	})
	return wantCount(err, "states.csv", len(seen), NumStates*5-1)
}

func readComponents(o *Options, fsys fs.FS) error {
	words := []string{"drift-fit-out", "infill", "accel-fit-out", "ordinary-contents", "sensitive-contents",
		"fragile-contents"}
	lists := []*[]Step{&o.DriftFitOut, &o.Infill, &o.AccelFitOut, &o.Contents[retrofit.OrdinaryContents],
		&o.Contents[retrofit.SensitiveContents], &o.Contents[retrofit.FragileContents]}
	header := []string{"component", "demand", "median", "dispersion", "loss_ratio", "source"}
	return eachRow(fsys, "components.csv", header, func(r *row) {
		i := r.word("component", words)
		if i < 0 {
			return
		}
		want := "g"
		if i <= 1 {
			want = "drift ratio"
		}
		r.word("demand", []string{want})
		*lists[i] = append(*lists[i], Step{
			r.number("median", 1e-6, 100), r.number("dispersion", 0, 3), r.number("loss_ratio", 0, 1)})
		if len(*lists[i]) > maxSteps {
			r.fail("component", r.text("component"), fmt.Sprintf("at most %d steps a component", maxSteps))
		}
	})
}

func readSplits(o *Options, fsys fs.FS) error {
	o.Splits = map[string]Split{}
	seen := map[string]bool{}
	header := []string{"use", "structure", "drift_fit_out", "accel_fit_out", "contents", "source"}
	return eachRow(fsys, "splits.csv", header, func(r *row) {
		s := Split{r.number("structure", 0, 1), r.number("drift_fit_out", 0, 1),
			r.number("accel_fit_out", 0, 1), r.number("contents", 0, 100)}
		if !s.whole() {
			r.fail("", strings.Join(r.cell, ","), "structure and fit-out must sum to 1 within 0.001")
		}
		once(r, seen, r.text("use"))
		o.Splits[r.text("use")] = s
	})
}

func readWorths(o *Options, fsys fs.FS) error {
	o.Worths = map[string]Worth{}
	seen := map[string]bool{}
	header := []string{"use", "value_ratio", "downtime_ratio", "source"}
	err := eachRow(fsys, "values.csv", header, func(r *row) {
		once(r, seen, r.text("use"))
		o.Worths[r.text("use")] = Worth{r.number("value_ratio", 0.01, 100), r.number("downtime_ratio", 0, 100)}
	})
	if err == nil && !seen["other"] {
		return fmt.Errorf("consequence table values.csv: no row other, for uses that have none; " +
			"copy it from the default table")
	}
	return err
}

func readBands(o *Options, fsys fs.FS) error {
	o.Bands = map[string]Band{}
	seen := map[string]bool{}
	var known []string
	for _, k := range retrofit.Kinds() {
		known = append(known, k.AllBands()...)
	}
	header := []string{"measure", "drift", "acceleration", "displacement", "source"}
	return eachRow(fsys, "bands.csv", header, func(r *row) {
		r.word("measure", known)
		once(r, seen, r.text("measure"))
		o.Bands[r.text("measure")] = Band{r.number("drift", 0, 2), r.number("acceleration", 0, 2),
			r.number("displacement", 0, 2)}
	})
}

func readHours(o *Options, fsys fs.FS) error {
	seen := map[string]bool{}
	header := []string{"period", "hours_share", "of_day", "of_night", "source"}
	err := eachRow(fsys, "hours.csv", header, func(r *row) {
		if i := r.word("period", periodWords); i >= 0 {
			o.Hours[i] = Hours{r.number("hours_share", 0, 1), r.number("of_day", 0, 1),
				r.number("of_night", 0, 1)}
		}
		once(r, seen, r.text("period"))
	})
	return wantCount(err, "hours.csv", len(seen), NumPeriods)
}

func readConstants(o *Options, fsys fs.FS) error {
	type target struct {
		to        *float64
		low, high float64
	}
	targets := map[string]target{
		"light_casualty_factor": {&o.LightCasualtyFactor, 0, 1},
		"fit_out_days":          {&o.FitOutDays, 0, 10000},
		"onset_return_period":   {&o.OnsetReturnPeriod, 0.1, 1000},
		"residual_drift":        {&o.ResidualDrift, 1e-4, 0.2},
		"residual_dispersion":   {&o.ResidualDispersion, 0, 2},
		"demolition_share":      {&o.DemolitionShare, 0, 1},
		"contents_buried":       {&o.ContentsBuried, 0, 1},
		"infill_share":          {&o.InfillShare, 0, 1},
		"contact_factor":        {&o.ContactFactor, 1, 20},

		"street_people":                   {&o.Street.People, 0, 10},
		"street_fall_life_safety":         {&o.Street.BeyondLS, 0, 1},
		"street_fall_collapse_prevention": {&o.Street.BeyondCP, 0, 1},
		"street_fatality":                 {&o.Street.Fatality, 0, 1},

		"class_dispersion":           {&o.ClassDispersion, 0, 2},
		"known_dispersion":           {&o.KnownDispersion, 0, 2},
		"record_dispersion":          {&o.RecordDispersion, 0, 2},
		"damping_model_dispersion":   {&o.DampingDispersion, 0, 2},
		"isolator_record_dispersion": {&o.IsolatorRecordDispersion, 0, 2},
		"isolator_dispersion":        {&o.IsolatorDispersion, 0, 2},
	}
	names := slices.Sorted(maps.Keys(targets))
	seen := map[string]bool{}
	err := eachRow(fsys, "constants.csv", []string{"name", "value", "unit", "source"}, func(r *row) {
		if r.word("name", names) >= 0 {
			t := targets[r.text("name")]
			*t.to = r.number("value", t.low, t.high)
		}
		once(r, seen, r.text("name"))
	})
	return wantCount(err, "constants.csv", len(seen), len(targets))
}

// once reports an error for a row that repeats a key.
func once(r *row, seen map[string]bool, key string) {
	if seen[key] {
		r.fail("", key, "given twice; keep one row")
	}
	seen[key] = true
}

// wantCount returns an error for a table with missing rows.
func wantCount(err error, file string, got, want int) error {
	if err == nil && got != want {
		return fmt.Errorf("consequence table %s: %d of %d rows; copy the missing ones from the default table",
			file, got, want)
	}
	return err
}
