package field

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// Parameters is a field of the mapped accelerations of ASCE 7-16. SS and S1 are interpolated
// between nodes in their logarithms, as spectra are; the MCER spectrum of a place is the
// two-period one (11.4.6, 11.4.7) through SMS = Fa SS and SM1 = Fv S1 for its site class. That
// spectrum holds for one return period. Options.K extends it to those of the run by the power
// law.
//
// The MCER is about 2475 yr, 2 % in 50 years before its adjustments
// (commentary C11.4).
type Parameters struct {
	values   []values // of the nodes
	places   places   // nil for one node that holds everywhere
	soil     soil
	run      []float64 // yr
	factor   []float64 // of the accelerations at each level
	status   hazard.Status
	coverage Coverage
}

// values are the parameters at a node.
type values struct {
	lnSS, lnS1 float64          // g
	tl         float64          // s
	class      hazard.SiteClass // 0 if the source does not say
}

// Mapped are the parameters of ASCE 7-16 11.4.2 and 11.4.5 at a place, for the
// rock of the maps.
type Mapped struct {
	SS, S1 float64 // g, in the unit of the options
	TL     float64 // s, long-period transition
}

// DefaultTL in s is the long-period transition where a source gives none:
// ASCE 7-16 Figure 22-14, the value of much of the western coast.
const DefaultTL = 8

// NewParameters returns the field of the same parameters everywhere, for the return period
// reference in yr.
func NewParameters(m Mapped, reference float64, o Options) (*Parameters, error) {
	const file = "mapped accelerations"
	var ps Problems
	o.check(file, &ps)
	checkReference(file, reference, &ps)
	ss, s1 := m.SS*units[o.Unit], m.S1*units[o.Unit]
	if !isAcceleration(ss) || !isAcceleration(s1) {
		ps.add(Problem{File: file, Column: "SS, S1", Value: number(m.SS) + ", " + number(m.S1),
			Rule: "no accelerations of the ground", Remedy: "check the numbers and their unit"})
	}
	if !isPeriod(m.TL) {
		ps.add(Problem{File: file, Column: "TL", Value: number(m.TL), Rule: "no period from 0.001 to 100 s",
			Remedy: "ASCE 7-16 Figures 22-14 to 22-17 give 4 to 16 s"})
	}
	if err := ps.err(); err != nil {
		return nil, err
	}
	p := &Parameters{values: []values{{math.Log(ss), math.Log(s1), m.TL, 0}}}
	p.carry(reference, o)
	t := &table{file: file, node: make([]orb.Point, 1), levels: []float64{reference},
		periods: []float64{shortPeriod, longPeriod}}
	t.ln = []float64{math.Log(0.4 * ss), math.Log(ss), math.Log(s1)}
	p.coverage = newCoverage(t, nil)
	return p, nil
}

func checkReference(file string, reference float64, ps *Problems) {
	if !isReturnPeriod(reference) {
		ps.add(Problem{File: file, Column: "reference return period", Value: number(reference),
			Rule:   "no return period between 0.01 and 1e9 yr",
			Remedy: "the MCER of ASCE 7-16 is about 2475 yr"})
	}
}

// carry computes the factors from the reference to the levels of the run.
func (p *Parameters) carry(reference float64, o Options) {
	l := newLevels([]float64{reference}, &o)
	p.run, p.status = l.run, l.status
	for _, s := range l.shift {
		p.factor = append(p.factor, math.Exp(s))
	}
	if o.LargestDirection {
		for i := range p.values {
			p.values[i].lnSS -= math.Log(hazard.MaximumDirection(shortPeriod))
			p.values[i].lnS1 -= math.Log(hazard.MaximumDirection(longPeriod))
		}
	}
	p.soil = soil{included: o.SoilIncluded, standard: o.DefaultClass}
}

// ReturnPeriods returns the levels of the run in yr.
func (p *Parameters) ReturnPeriods() []float64 { return append([]float64(nil), p.run...) }

// Periods returns nil: the corners of the spectrum differ from place to place.
func (p *Parameters) Periods() []float64 { return nil }

// Bound returns the extent of the nodes.
func (p *Parameters) Bound() orb.Bound { return p.coverage.Bound }

// Coverage describes the nodes.
func (p *Parameters) Coverage() Coverage { return p.coverage }

// Lookup fills site for a place.
func (p *Parameters) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	lon, ok := place(lon, lat)
	if !ok {
		return nowhere(lon, lat)
	}
	b, distance, status := only(0), 0.0, hazard.Status(0)
	if p.places != nil {
		var err error
		if b, distance, status, err = p.places.locate(orb.Point{lon, lat}); err != nil {
			return err
		}
	}
	v := p.mean(b)
	if class == 0 && !p.soil.included && v.class != 0 {
		class, status = v.class, status|hazard.AssumedClass
	}
	site.Distance, site.Status = distance, p.status|status
	return p.fill(v, class, site)
}

// mean weights the logarithms of SS and S1; TL and the class are those of the heaviest node.
func (p *Parameters) mean(b blend) values {
	v := p.values[b.node[b.heaviest()]]
	v.lnSS, v.lnS1 = 0, 0
	for k, n := range b.node {
		v.lnSS += b.w[k] * p.values[n].lnSS
		v.lnS1 += b.w[k] * p.values[n].lnS1
	}
	return v
}

// fill makes the two-period spectrum at each level. It keeps the flags already in the site's
// status.
func (p *Parameters) fill(v values, class hazard.SiteClass, site *hazard.Site) error {
	class, row, assumed, err := p.soil.class(class)
	if err != nil {
		return err
	}
	if p.soil.included {
		row = ground(hazard.ASCE7BEstimated) // the rock of the maps: Fa = Fv = 1
	}
	m, err := hazard.ASCE7(hazard.ASCE716, hazard.ASCE7Class(row), math.Exp(v.lnSS), math.Exp(v.lnS1))
	if err != nil {
		return err
	}
	site.ReturnPeriod, site.Class = p.run, class
	site.Status |= assumed | m.Status
	site.Spectra = grow(site.Spectra, len(p.run))
	for i, f := range p.factor {
		if err := hazard.TwoPeriod(&site.Spectra[i], m.SMS*f, m.SM1*f, v.tl); err != nil {
			return fmt.Errorf("a place with SS %.3g g and S1 %.3g g: %w", math.Exp(v.lnSS), math.Exp(v.lnS1),
				err)
		}
	}
	return nil
}
