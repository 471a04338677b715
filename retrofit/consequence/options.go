package consequence

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"slices"
	"strings"

	"plinth/retrofit"
)

//go:embed tables/*.csv
var embedded embed.FS

// Options are the tables of a Model. DefaultOptions returns the embedded ones; ReadOptions
// reads the same files from a user's folder.
type Options struct {
	States      [NumStates]State // consequences of the states of the structure
	DriftFitOut []Step           // by drift ratio: partitions, glazing, cladding, stairs
	AccelFitOut []Step           // by floor acceleration in g: ceilings, pipes, plant
	Contents    [3][]Step        // by floor acceleration in g, one table for each retrofit.Contents
	Splits      map[string]Split // by use
	Bands       map[string]Band  // by measure
	Hours       [NumPeriods]Hours

	CollapseShare       float64 // share of buildings beyond collapse prevention that collapse, 0 to 1
	LightCasualtyFactor float64 // factor on casualty rates of light timber and light steel, 0 to 1
	FitOutDays          float64 // d closed if the fit-out of a sound structure is wholly lost
	OnsetReturnPeriod   float64 // yr, return period below which shaking does no harm

	CapacityDispersion       float64 // of the drift at a limit state, ln sd
	RecordDispersion         float64 // record to record, ln sd
	DampingDispersion        float64 // choice of damping model, on drift, ln sd
	IsolatorDispersion       float64 // of the displacement capacity of the isolators, ln sd
	IsolatorRecordDispersion float64 // of isolator displacement, record to record, ln sd
}

// State is the consequence of one state of the structure.
type State struct {
	LossRatio float64 // repair of the structure over its value
	Days      float64 // closed
	Dead      float64 // share of the people inside
	Serious   float64 // share of the people inside with serious injury
	Minor     float64 // share of the people inside with minor injury
}

// The states of the structure beyond no harm, in increasing severity. The first three lie
// between the limit states of ASCE 41; collapse is a share of the buildings beyond the last.
const (
	BeyondIO = iota // beyond immediate occupancy, within life safety
	BeyondLS        // beyond life safety, within collapse prevention
	BeyondCP        // beyond collapse prevention, standing
	Collapse        // people buried
	NumStates
)

var stateWords = []string{"beyond-immediate-occupancy", "beyond-life-safety", "beyond-collapse-prevention",
	"collapse"}

// Step is one grade of damage to a component: a lognormal probability of exceedance in demand,
// and the loss it adds over the value of the component.
type Step struct {
	Median     float64 // demand at 50 % exceedance, in the demand's unit
	Dispersion float64 // ln sd
	Loss       float64 // added share of the component's value
}

// Split divides the replacement value of a building among its components; the first three sum
// to 1 and the contents are extra.
type Split struct{ Structure, DriftFitOut, AccelFitOut, Contents float64 }

// Band is the agreement of a measure's spectral demand with time histories of a shear-stick
// model under artificial records (ln sd). It is not accuracy against reality.
type Band struct{ Drift, Accel, Displacement float64 }

// Hours is one part of the week: its share of all hours, and the people inside as shares of the
// occupants by day and by night.
type Hours struct{ Share, OfDay, OfNight float64 }

// The parts of the week.
const (
	Day = iota
	Night
	Transit
	NumPeriods
)

var periodWords = []string{"day", "night", "transit"}

// DefaultOptions returns the embedded tables. Most rows are judgement and say so: replace them
// where better values are known.
func DefaultOptions() Options {
	sub, err := fs.Sub(embedded, "tables")
	if err == nil {
		var o Options
		if o, err = ReadOptions(sub); err == nil {
			return o
		}
	}
	panic("consequence: embedded tables are broken: " + err.Error())
}

// ReadOptions reads the tables states.csv, components.csv, splits.csv, bands.csv, hours.csv and
// constants.csv, in the form of the embedded ones. An invalid value gives a *TableError.
func ReadOptions(fsys fs.FS) (Options, error) {
	var o Options
	for _, read := range []func(*Options, fs.FS) error{
		readStates, readComponents, readSplits, readBands, readHours, readConstants,
	} {
		if err := read(&o, fsys); err != nil {
			return Options{}, err
		}
	}
	return o, o.check()
}

// OverlayOptions reads the tables of a folder, and the embedded table where the folder does not
// have one. It returns the names found in the folder. A file with any other name is an error,
// since a misspelt table would otherwise be ignored.
func OverlayOptions(fsys fs.FS) (o Options, found []string, err error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return Options{}, nil, fmt.Errorf("consequence tables: %w", err)
	}
	base, err := fs.Sub(embedded, "tables")
	if err != nil {
		return Options{}, nil, err
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if _, err := fs.Stat(base, e.Name()); err != nil {
			return Options{}, nil,
				fmt.Errorf("consequence table %s is not one of states.csv, components.csv, splits.csv, "+
					"bands.csv, hours.csv, constants.csv", e.Name())
		}
		found = append(found, e.Name())
	}
	o, err = ReadOptions(overlay{fsys, base, found})
	return o, found, err
}

// overlay opens the files named in found from above and all others from below.
type overlay struct {
	above, below fs.FS
	found        []string
}

func (o overlay) Open(name string) (fs.File, error) {
	if slices.Contains(o.found, name) {
		return o.above.Open(name)
	}
	return o.below.Open(name)
}

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
	return wantCount(err, "states.csv", len(seen), NumStates*5)
}

func readComponents(o *Options, fsys fs.FS) error {
	words := []string{"drift-fit-out", "accel-fit-out", "ordinary-contents", "sensitive-contents",
		"fragile-contents"}
	lists := []*[]Step{&o.DriftFitOut, &o.AccelFitOut, &o.Contents[retrofit.OrdinaryContents],
		&o.Contents[retrofit.SensitiveContents], &o.Contents[retrofit.FragileContents]}
	header := []string{"component", "demand", "median", "dispersion", "loss_ratio", "source"}
	return eachRow(fsys, "components.csv", header, func(r *row) {
		i := r.word("component", words)
		if i < 0 {
			return
		}
		want := "g"
		if i == 0 {
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
		"collapse_share":             {&o.CollapseShare, 0, 1},
		"light_casualty_factor":      {&o.LightCasualtyFactor, 0, 1},
		"fit_out_days":               {&o.FitOutDays, 0, 10000},
		"onset_return_period":        {&o.OnsetReturnPeriod, 0.1, 1000},
		"capacity_dispersion":        {&o.CapacityDispersion, 0, 2},
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

// whole reports whether the parts of the building sum to 1.
func (s Split) whole() bool {
	return math.Abs(s.Structure+s.DriftFitOut+s.AccelFitOut-1) <= 0.001
}

// cover returns an error for the measures of slugs without a row in the table of bands. Without
// a row a measure would have no dispersion, and look better than it is.
func (o *Options) cover(slugs []string) error {
	var errs []error
	for _, slug := range slugs {
		k, ok := retrofit.KindOf(slug)
		if !ok {
			errs = append(errs, fmt.Errorf("consequence: no measure %q", slug))
			continue
		}
		for _, band := range k.AllBands() {
			if _, ok := o.Bands[band]; !ok {
				errs = append(errs,
					fmt.Errorf("consequence table bands.csv: no row %s; copy it from the default table, or "+
						"leave %s out of measures.use", band, slug))
			}
		}
	}
	return errors.Join(errs...)
}

// check returns the first fault that would make a worse state cost less, or a component cost
// more than its value.
func (o *Options) check() error {
	for i := 1; i < NumStates; i++ {
		a, b := o.States[i-1], o.States[i]
		if a.LossRatio > b.LossRatio || a.Days > b.Days || a.Dead > b.Dead || a.Serious > b.Serious ||
			a.Minor > b.Minor {
			return fmt.Errorf("consequence table states.csv: %s is less grave than %s in some quantity; "+
				"values must not fall from state to state", stateWords[i], stateWords[i-1])
		}
	}
	if o.FitOutDays > o.States[BeyondIO].Days {
		return fmt.Errorf("consequence table constants.csv: fit_out_days %g is above the %g days beyond "+
			"immediate occupancy", o.FitOutDays, o.States[BeyondIO].Days)
	}
	for _, steps := range append([][]Step{o.DriftFitOut, o.AccelFitOut}, o.Contents[:]...) {
		var sum float64
		for _, s := range steps {
			sum += s.Loss
		}
		if len(steps) == 0 || len(steps) > maxSteps || sum > 1+1e-9 {
			return fmt.Errorf("consequence table components.csv: each component needs 1 to %d steps whose "+
				"loss ratios sum to 1 at most; found %d summing to %g", maxSteps, len(steps), sum)
		}
	}
	var share float64
	for _, h := range o.Hours {
		share += h.Share
	}
	if math.Abs(share-1) > 0.001 {
		return fmt.Errorf("consequence table hours.csv: hours_share sums to %g, must sum to 1", share)
	}
	if err := o.cover([]string{"none"}); err != nil {
		return err
	}
	switch {
	case !(o.OnsetReturnPeriod > 0):
		return fmt.Errorf("consequence: onset return period %g yr must be positive", o.OnsetReturnPeriod)
	case !(o.CollapseShare >= 0 && o.CollapseShare <= 1):
		return fmt.Errorf("consequence: collapse share %g must lie from 0 to 1", o.CollapseShare)
	}
	return nil
}
