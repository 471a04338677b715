package consequence

import (
	"embed"
	"errors"
	"fmt"
	"math"

	"plinth/retrofit"
)

//go:embed tables/*.csv
var embedded embed.FS

// Options are the tables of a Model. DefaultOptions returns the embedded ones; ReadOptions
// reads the same files from a user's folder.
type Options struct {
	States      [NumStates]State // consequences of the states of the structure
	DriftFitOut []Step           // by drift ratio: partitions, glazing, cladding, stairs
	Infill      []Step           // by drift ratio: masonry infill of frames
	AccelFitOut []Step           // by floor acceleration in g: ceilings, pipes, plant
	Contents    [3][]Step        // by floor acceleration in g, one table for each retrofit.Contents
	Splits      map[string]Split // by use
	Worths      map[string]Worth // by use
	Bands       map[string]Band  // by measure
	Hours       [NumPeriods]Hours

	LightCasualtyFactor float64 // factor on casualty rates of light timber and steel that stand, 0 to 1
	FitOutDays          float64 // d closed if the fit-out of a sound structure is wholly lost
	OnsetReturnPeriod   float64 // yr, return period below which shaking does no harm

	ResidualDrift      float64 // median residual drift ratio beyond which a building is pulled down
	ResidualDispersion float64 // of it, ln sd
	DemolitionShare    float64 // cost of pulling down and clearing over the value of the building
	ContentsBuried     float64 // share of contents lost in a building that is pulled down, 0 to 1
	InfillShare        float64 // share of infill in the drift-sensitive fit-out of infilled frames
	ContactFactor      float64 // on floor accelerations when isolators run into their moat, 1 or more

	Street Street

	ClassDispersion          float64 // of buildings known by system and age alone, of shaking, ln sd
	KnownDispersion          float64 // of buildings whose strength or period is known, of shaking, ln sd
	RecordDispersion         float64 // record to record, ln sd
	DampingDispersion        float64 // choice of damping model, on drift, ln sd
	IsolatorDispersion       float64 // of the displacement capacity of the isolators, ln sd
	IsolatorRecordDispersion float64 // of isolator displacement, record to record, ln sd
}

// Street is the danger to people beside walls that fall outward.
type Street struct {
	People float64 // for each metre of frontage, mean over the week
	// shares of the frontage that fall between life safety and collapse prevention, and beyond;
	// a collapse brings all of it down
	BeyondLS, BeyondCP float64
	Fatality           float64 // share of the people under falling walls who die
}

// State is the consequence of one state of the structure.
type State struct {
	LossRatio float64 // repair of the structure over its value
	Days      float64 // closed
	// Shares of the people inside; in a collapse, of the survivors in the volume that is lost.
	// The dead of a collapse are in the Exposure, since they go with the system.
	Dead, Serious, Minor float64
}

// The states of the structure beyond no harm, in increasing severity. The first three lie
// between the limit states of ASCE 41; collapse has a drift of its own beyond the last.
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
		if a.LossRatio > b.LossRatio || a.Days > b.Days || i < Collapse && a.Dead > b.Dead ||
			a.Serious > b.Serious || a.Minor > b.Minor {
			return fmt.Errorf("consequence table states.csv: %s is less grave than %s in some quantity; "+
				"values must not fall from state to state", stateWords[i], stateWords[i-1])
		}
	}
	if o.FitOutDays > o.States[BeyondIO].Days {
		return fmt.Errorf("consequence table constants.csv: fit_out_days %g is above the %g days beyond "+
			"immediate occupancy", o.FitOutDays, o.States[BeyondIO].Days)
	}
	for _, steps := range append([][]Step{o.DriftFitOut, o.Infill, o.AccelFitOut}, o.Contents[:]...) {
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
	case o.KnownDispersion > o.ClassDispersion:
		return fmt.Errorf("consequence table constants.csv: known_dispersion %g is above class_dispersion %g; "+
			"a building that is known better must not scatter more", o.KnownDispersion, o.ClassDispersion)
	case !(o.ContactFactor >= 1):
		return fmt.Errorf("consequence: contact factor %g must be 1 or more", o.ContactFactor)
	case o.Street.BeyondLS > o.Street.BeyondCP:
		return fmt.Errorf("consequence table constants.csv: street_fall_life_safety %g is above "+
			"street_fall_collapse_prevention %g; a graver state must not let fewer walls fall",
			o.Street.BeyondLS, o.Street.BeyondCP)
	}
	return nil
}
