package field

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// Code is a field of the spectra that a standard derives from a few mapped parameters: the
// ground acceleration of EN 1998-1, the hazard factor of NZS 1170.5, the three parameters of
// NTC 2018. The logarithms of the parameters are interpolated between nodes. The spectrum then
// has the standard's form for the ground of the place, without an approximation.
type Code struct {
	standard Standard
	ln       []float64 // for each node, each level: the logarithms of the parameters
	width    int
	places   places // nil for one node that holds everywhere
	run      []float64
	status   hazard.Status
	class    hazard.SiteClass // default for places without one
	coverage Coverage
}

// Standard tells which parameters a Code reads and how they define a spectrum. The
// implementations are Eurocode8, NZS1170 and NTC2018.
type Standard interface {
	parameters() []parameter // of one level; an acceleration or its factor is the first
	single() float64         // return period in yr of the parameters; 0 if a source states its own
	levels(source []float64, o *Options) levels
	rock() hazard.SiteClass

	// spectrum fills s for one return period from the logarithms of the
	// parameters; fault is in km, +Inf if none is known.
	spectrum(s *hazard.Spectrum, returnPeriod float64, ln [maxParameters]float64, class hazard.SiteClass,
		fault float64) error
}

// A parameter is one column of a file.
type parameter struct {
	name         string
	acceleration bool // in the unit of the options
	least, most  float64
	remedy       string
}

// CodeLevel holds the parameters of a standard at one return period, in the order of its
// columns. The return period is used by NTC2018 only.
type CodeLevel struct {
	ReturnPeriod float64 // yr
	Values       []float64
}

// NewCode returns the field of the same parameters at every place.
func NewCode(s Standard, all []CodeLevel, o Options) (*Code, error) {
	const file = "code parameters"
	var ps Problems
	o.checkCode(file, &ps)
	got := rows{file: file}
	for i, l := range all {
		tr := l.ReturnPeriod
		if s.single() > 0 {
			tr = s.single()
		} else if !isReturnPeriod(tr) {
			ps.add(Problem{File: file, Column: "return period", Value: number(tr),
				Rule: "no return period between 0.01 and 1e9 yr", Remedy: "give years, not a frequency"})
		}
		want := s.parameters()
		if len(l.Values) != len(want) {
			ps.add(Problem{File: file, Rule: fmt.Sprintf("%d parameters are given and %d asked for",
				len(l.Values), len(want)), Remedy: "give one value each"})
			continue
		}
		ln := make([]float64, len(want))
		for k, p := range want {
			v, rule := p.read(l.Values[k], o.Unit)
			if rule != "" {
				ps.add(Problem{File: file, Column: p.name, Value: number(l.Values[k]), Rule: rule,
					Remedy: p.remedy})
			}
			ln[k] = v
		}
		got.add(orb.Point{}, tr, i+1, ln, hazard.Shaking{})
	}
	if len(all) == 0 {
		ps.add(Problem{File: file, Rule: "there are no parameters",
			Remedy: "give those of one return period at least"})
	}
	if err := ps.err(); err != nil {
		return nil, err
	}
	return newCode(s, &got, func(*table, *Problems) places { return nil }, o, &ps)
}

// read returns the logarithm of a value, or the rule it breaks.
func (p *parameter) read(v float64, unit string) (ln float64, rule string) {
	if p.acceleration {
		v *= units[unit]
	}
	if !(v >= p.least && v <= p.most) {
		return 0, fmt.Sprintf("not from %g to %g", p.least, p.most)
	}
	return math.Log(v), ""
}

// newCode interpolates the rows at the levels of the run.
func newCode(s Standard, got *rows, lay func(*table, *Problems) places, o Options, ps *Problems) (*Code,
	error) {
	width := len(s.parameters())
	t := got.table(make([]float64, width-1), ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	l := s.levels(t.levels, &o)
	c := &Code{standard: s, width: width, run: l.run, status: l.status, class: o.DefaultClass}
	in, out := len(t.levels)*width, len(l.run)*width
	c.ln = make([]float64, len(t.node)*out)
	for n := range t.node {
		dst := c.ln[n*out : (n+1)*out]
		src := t.ln[n*in : (n+1)*in]
		l.fit(dst, src, width)
		for i := range dst {
			if c := i % width; c > 0 && l.held(i/width) { // only the acceleration follows a slope
				dst[i] = src[l.lo[i/width]*width+c]
			}
		}
	}
	if err := c.show(t); err != nil {
		ps.add(Problem{File: t.file, Rule: err.Error(), Remedy: "check the parameters"})
		return nil, ps.err()
	}
	c.places = lay(t, ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	c.coverage = newCoverage(t, c.places)
	return c, nil
}

// show replaces the table's parameters with the spectra on rock, for its coverage.
func (c *Code) show(t *table) error {
	var s hazard.Spectrum
	var ln []float64
	var of [maxParameters]float64
	for n := range t.node {
		for l, tr := range t.levels {
			at := (n*len(t.levels) + l) * c.width
			copy(of[:], t.ln[at:at+c.width])
			if err := c.standard.spectrum(&s, tr, of, c.standard.rock(), math.Inf(1)); err != nil {
				return err
			}
			ln = append(ln, math.Log(s.PGA), math.Log(s.Sa(shortPeriod)), math.Log(s.Sa(longPeriod)))
		}
	}
	t.periods, t.ln = []float64{shortPeriod, longPeriod}, ln
	return nil
}

// checkCode returns the problems of options for parameters on rock.
func (o *Options) checkCode(file string, ps *Problems) {
	p := *o
	p.DefaultClass = 0 // check would hold it against ASCE 7-16
	p.check(file, ps)
	if o.SoilIncluded {
		ps.add(Problem{File: file, Column: "option SoilIncluded", Value: "true",
			Rule:   "the parameters of a standard hold for rock",
			Remedy: "say false, and give the class of the ground"})
	}
	if c := o.DefaultClass; c != 0 && (c < 'A' || c > 'E') {
		ps.add(Problem{File: file, Column: "option DefaultClass", Value: c.String(),
			Rule: "no spectrum for this ground", Remedy: "write A to E"})
	}
}

// ReturnPeriods returns the levels of the run in yr.
func (c *Code) ReturnPeriods() []float64 { return append([]float64(nil), c.run...) }

// Periods returns nil: the corners of the spectrum differ from place to place.
func (c *Code) Periods() []float64 { return nil }

// Bound returns the extent of the nodes.
func (c *Code) Bound() orb.Bound { return c.coverage.Bound }

// Coverage describes the nodes by their spectra on rock.
func (c *Code) Coverage() Coverage { return c.coverage }

// Lookup fills site for a place with no known fault.
func (c *Code) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	return c.LookupNear(lon, lat, class, math.Inf(1), site)
}

// LookupNear fills site for a place fault km from the nearest major fault, NaN or +Inf where
// none is known. Only NZS 1170.5 uses the distance (3.1.6).
func (c *Code) LookupNear(lon, lat float64, class hazard.SiteClass, fault float64, site *hazard.Site) error {
	lon, ok := place(lon, lat)
	if !ok {
		return nowhere(lon, lat)
	}
	b, distance, status := only(0), 0.0, c.status
	if c.places != nil {
		var read hazard.Status
		var err error
		if b, distance, read, err = c.places.locate(orb.Point{lon, lat}); err != nil {
			return err
		}
		status |= read
	}
	if class == 0 {
		if c.class == 0 {
			return ErrNoClass
		}
		class, status = c.class, status|hazard.AssumedClass
	}
	if math.IsNaN(fault) {
		fault = math.Inf(1)
	}
	site.ReturnPeriod, site.Class, site.Distance, site.Status = c.run, class, distance, status
	site.Spectra = grow(site.Spectra, len(c.run))
	var ln [maxParameters]float64
	stride := len(c.run) * c.width
	for l, tr := range c.run {
		for i := range c.width {
			at := l*c.width + i
			ln[i] = b.w[0]*c.ln[b.node[0]*stride+at] + b.w[1]*c.ln[b.node[1]*stride+at] +
				b.w[2]*c.ln[b.node[2]*stride+at] + b.w[3]*c.ln[b.node[3]*stride+at]
		}
		if err := c.standard.spectrum(&site.Spectra[l], tr, ln, class, fault); err != nil {
			return err
		}
	}
	return nil
}

// maxParameters is the most parameters a standard has, those of NTC 2018.
const maxParameters = 3
