package measured

import (
	"fmt"
	"io/fs"
	"math"
	"regexp"
	"strconv"

	"plinth/archetypes"
)

// A printed is one design force or period as a code or a worked example prints it, and
// that of the program for the same building.
type printed struct {
	row
	predicted float64 // at the level of the printed one
	low, high float64 // the printed band, where the row is an end of one; NaN otherwise
	off       string  // why it is off, where somebody says so
	unused    string
}

func (p *printed) band() bool     { return !math.IsNaN(p.low) }
func (p *printed) ratio() float64 { return p.predicted / p.number("printed") }

// force reports whether the row is a printed force that enters means.
func (p *printed) force() bool {
	return p.unused == "" && !p.band() && p.text("quantity") != "period, s"
}

// missed reports whether the program lies outside the aim or the printed band.
func (p *printed) missed() bool {
	if p.band() {
		return p.predicted < 0.999*p.low || p.predicted > 1.001*p.high
	}
	return p.unused == "" && !oneAim.has(p.ratio())
}

// compareCodes puts the program beside the rows of codes.csv.
func compareCodes(fsys fs.FS, why reasons) ([]printed, error) {
	rows, err := readRows(fsys, "codes.csv",
		[]string{"id", "country", "code", "edition", "region", "zone", "system", "quantity", "level", "rule",
			"test", "basis", "note"},
		[]string{"year", "storeys", "height_m", "printed_period_s", "printed"})
	if err != nil {
		return nil, err
	}
	var out []printed
	for _, r := range rows {
		p := printed{row: r, predicted: math.NaN(), low: math.NaN(), high: math.NaN()}
		k := key{"codes", r.text("id"), "", ""}
		p.off = why.of(k, whyOff)
		if r.text("test") == "no" {
			if p.unused = why.of(k, whyUnused); p.unused == "" {
				p.unused = or(r.text("note"), "not a force the program gives")
			}
		} else if err := p.predict(); err != nil {
			return nil, fmt.Errorf("codes.csv:%d: %w", r.line, err)
		}
		out = append(out, p)
	}
	return out, nil
}

// predict asks the tables of archetypes for the building of the row.
func (p *printed) predict() error {
	tables := archetypes.Default()
	d := archetypes.Unknown()
	var err error
	if d.Region, err = tables.ParseRegion(p.text("region")); err != nil {
		return err
	}
	if d.Zone, err = tables.ParseZone(d.Region, p.text("zone")); err != nil {
		return err
	}
	if d.System, err = archetypes.ParseSystem(p.text("system")); err != nil {
		return err
	}
	d.Year, d.Storeys, d.Height = p.whole("year"), p.whole("storeys"), p.number("height_m")
	t := tables.Traits(d.System)
	if p.text("quantity") == "period, s" {
		p.predicted = t.CodePeriod.At(d.Height)
		return nil
	}
	if math.IsNaN(d.Height) { // the height that gives the printed period
		if period := p.number("printed_period_s"); !math.IsNaN(period) {
			d.Height = math.Pow(period/t.CodePeriod.Ct, 1/t.CodePeriod.X)
		}
	}
	if d.Storeys == 0 {
		d.Storeys = max(1, int(math.Round(d.Height/t.StoreyHeight)))
	}
	d.SDS, d.SD1, d.PGA = p.named("SDS"), p.named("SD1"), p.named("ag")
	if math.IsNaN(d.PGA) {
		d.PGA = p.named("Z") // rules before 1992 do not read it
	}
	d.S1 = d.SD1 // on ground D of this level: Fv 1.5 of ASCE 7-05 Table 11.4-2, two thirds of it for design
	var a archetypes.Archetype
	if err := tables.Assign(&d, &a); err != nil {
		return err
	}
	p.predicted = a.DesignCoefficient
	if p.text("level") == "allowable" {
		p.predicted /= tables.ToStrength(d.Region, d.Zone, d.Year)
	}
	if p.text("test") == "band" {
		return p.readBand()
	}
	return nil
}

// named returns a site value that the rule of the row states, such as SDS 1.0; NaN where
// it states none.
func (p *printed) named(name string) float64 {
	m := regexp.MustCompile(`\b` + name + ` ([0-9.]+)`).FindStringSubmatch(p.text("rule"))
	if m == nil {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// ends are two numbers with "to" between them.
var ends = regexp.MustCompile(`([0-9]+\.[0-9]+) to ([0-9]+\.[0-9]+)`)

// readBand reads the ends of the printed band from the rule or the note.
func (p *printed) readBand() error {
	m := ends.FindStringSubmatch(p.text("rule") + "; " + p.text("note"))
	if m == nil {
		return fmt.Errorf("a row of a band must say its ends in rule or note, such as 0.30 to 0.55")
	}
	p.low, _ = strconv.ParseFloat(m[1], 64)
	p.high, _ = strconv.ParseFloat(m[2], 64)
	return nil
}
