package sheet

import (
	"context"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// demoSheet returns the sheet of a building of the demo town.
func demoSheet(t *testing.T, id string) *Sheet {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, sample.Write(dir, sample.Buildings, false))
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	r, err := pipeline.Open(p)
	require.NoError(t, err)
	a, err := r.AssessOne(context.Background(), id)
	require.NoError(t, err)
	return Make(r, a)
}

// section returns the section whose title begins so.
func (s *Sheet) section(t *testing.T, title string) *Section {
	t.Helper()
	for i := range s.Sections {
		if strings.HasPrefix(s.Sections[i].Title, title) {
			return &s.Sections[i]
		}
	}
	t.Fatalf("no section %q", title)
	return nil
}

// find returns the line whose name begins so.
func (s *Section) find(t *testing.T, name string) *Line {
	t.Helper()
	for i := range s.Lines {
		if strings.HasPrefix(s.Lines[i].Name, name) {
			return &s.Lines[i]
		}
	}
	t.Fatalf("no line %q in %q", name, s.Title)
	return nil
}

// input returns the number behind name in the inputs of a line.
func (l *Line) input(t *testing.T, name string) float64 {
	t.Helper()
	m := regexp.MustCompile(`(?:^|[ ,;(])` + regexp.QuoteMeta(name) + ` (-?[0-9.e+-]+)`).FindStringSubmatch(l.Inputs)
	require.NotNil(t, m, "%s in %q", name, l.Inputs)
	v, err := strconv.ParseFloat(m[1], 64)
	require.NoError(t, err)
	return v
}

// column returns a column of a table as numbers.
func (tb *Table) column(t *testing.T, head string) []float64 {
	t.Helper()
	for i, c := range tb.Columns {
		if c == head {
			out := make([]float64, len(tb.Rows))
			for j, r := range tb.Rows {
				v, err := strconv.ParseFloat(r[i], 64)
				require.NoError(t, err)
				out[j] = v
			}
			return out
		}
	}
	t.Fatalf("no column %q", head)
	return nil
}

// The sheet prints four to five digits, so sums redone from it agree to a few
// parts in a thousand.
const printed = 3e-3

// TestSumsRedone redoes the sums of a sheet from what it prints, with the
// formulas as a reviewer would write them, by a way of its own.
func TestSumsRedone(t *testing.T) {
	s := demoSheet(t, "CS-00006") // five storeys of concrete frame, all measures tried
	stand := s.section(t, "As it stands")
	storeys := s.section(t, "As it stands, return period 475 yr: storeys").Table
	stick := s.section(t, "Stick model").Table

	mode := stand.find(t, "Mode 1")
	sd := mode.Value * math.Pow(mode.input(t, "T")/(2*math.Pi), 2) // definition of spectral displacement
	assert.InEpsilon(t, sd, mode.input(t, "Sd"), printed)

	k, v, phi := stick.column(t, "k kN/m"), stick.column(t, "V kN"), stick.column(t, "mode 1")
	d := storeys.column(t, "d mm")
	below, yield := 0.0, math.Inf(1)
	for i := range phi {
		want := math.Abs(mode.input(t, "G")*(phi[i]-below)) * sd
		assert.InEpsilon(t, want, d[i]/1000, printed)
		yield = math.Min(yield, v[i]/(k[i]*want))
		below = phi[i]
	}
	assert.InEpsilon(t, math.Min(1, yield), stand.find(t, "Yield fraction").Value, printed)
	c := stand.find(t, "Displacement ratio")
	assert.InEpsilon(t, c.input(t, "C1")*c.input(t, "C2")*c.input(t, "CL"), c.Value, printed)
	assert.InEpsilon(t, c.Value*mode.input(t, "G")*sd, stand.find(t, "Roof displacement").Value, printed)

	// ASCE 41-17 7.4.3.3, equation 7-28.
	target := stand.find(t, "For comparison")
	te := target.input(t, "Te")
	assert.InEpsilon(t, target.input(t, "C0")*target.input(t, "C1")*target.input(t, "C2")*target.input(t, "Sa")*9.80665*te*te/(4*math.Pi*math.Pi), target.Value, printed)

	a, b, dh, drift := storeys.column(t, "A mm"), storeys.column(t, "B mm"), storeys.column(t, "dh mm"), storeys.column(t, "drift mm")
	for i := range drift {
		assert.InEpsilon(t, math.Hypot((a[i]+b[i])/2, dh[i]), drift[i], printed)
	}
}

// TestLossRedone redoes the annual loss and the worth of each measure.
func TestLossRedone(t *testing.T) {
	s := demoSheet(t, "CS-00006")
	loss := s.section(t, "Consequence as it stands")
	tr, l := loss.Table.column(t, "yr"), loss.Table.column(t, "loss")
	var sum float64
	for i := 1; i < len(tr); i++ { // loss a straight line in ln frequency
		va, vb := 1/tr[i-1], 1/tr[i]
		q := (va - vb) / math.Log(va/vb)
		sum += l[i-1]*(va-q) + l[i]*(q-vb)
	}
	sum += l[len(l)-1] / tr[len(tr)-1] // rarer than the last level, loss held
	annual := loss.find(t, "Annual loss")
	m := regexp.MustCompile(`([0-9.e+-]+) % from shaking more frequent`).FindStringSubmatch(annual.Inputs)
	require.NotNil(t, m)
	frequent, err := strconv.ParseFloat(m[1], 64)
	require.NoError(t, err)
	assert.InEpsilon(t, annual.Value*(1-frequent/100), sum, printed)

	worth := s.section(t, "Worth and choice")
	factor := (1 - math.Pow(1.04, -50)) / 0.04
	assert.InEpsilon(t, factor, worth.find(t, "Present value of 1").Value, printed)
	for i := range worth.Lines {
		line := &worth.Lines[i]
		if !strings.HasPrefix(line.Name, "Score of") {
			continue
		}
		avoided := factor * (line.input(t, "before") - line.input(t, "annual loss"))
		assert.InDelta(t, avoided, line.input(t, "avoided over the life"), 0.01*annual.Value*factor*printed*10)
		assert.InDelta(t, line.input(t, "avoided over the life")-line.input(t, "likely cost"), line.Value, 1e-4*line.input(t, "likely cost")+1e-4*math.Abs(line.Value))
	}
}

// Every computed line that has a formula names where the formula is from, and
// every line says where its value came from.
func TestEveryNumberHasItsOrigin(t *testing.T) {
	s := demoSheet(t, "CS-00007")
	for i := range s.Sections {
		for _, l := range s.Sections[i].Lines {
			if l.Name != "What it is" {
				word, _, _ := strings.Cut(l.Origin, ":") // the rule may follow
				assert.Contains(t, []string{"given", "derived", "assumed", "computed"}, word, l.Name)
			}
		}
	}
	var b strings.Builder
	require.NoError(t, s.Write(&b))
	for _, line := range strings.Split(b.String(), "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 80, line)
	}
}
