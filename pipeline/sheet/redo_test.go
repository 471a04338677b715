package sheet

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A reviewer has the printed sheet and the formulas of docs/methods, nothing else.
// These tests are that reviewer: they read the Markdown and redo its sums with code
// of their own. The sheet prints four to five digits, so sums redone from it agree
// to a few parts in a thousand; a difference of near numbers agrees less well, which
// is said where it is so.
const printed = 3e-3

const gravity = 9.80665 // m/s2, ISO 80000-3

// reviewed returns the sheet of a building of the demo town as a reviewer has it.
func reviewed(t *testing.T, id string) *record {
	var b strings.Builder
	require.NoError(t, demoSheet(t, id).WriteMarkdown(&b))
	return parse(t, b.String())
}

// A spectrum is what the sheet says of the shaking.
type spectrum struct{ pga, tb, tc, t, sa []float64 }

func (r *record) spectrum(t *testing.T) spectrum {
	s := r.step(t, "Spectrum")
	one := func(name string) []float64 { return []float64{s.value(t, name)} }
	return spectrum{one("Peak ground"), one("Corner period TB"), one("Corner period TC"), s.column(t, "T s"), s.column(t, "Sa g")}
}

// at reads the 5 % damped spectrum in g.
func (sp *spectrum) at(period float64) float64 {
	last := len(sp.t) - 1
	if period <= sp.t[0] {
		return sp.pga[0] + (sp.sa[0]-sp.pga[0])*period/sp.t[0]
	}
	for i := 1; i <= last; i++ {
		if period <= sp.t[i] {
			f := math.Log(period/sp.t[i-1]) / math.Log(sp.t[i]/sp.t[i-1])
			return sp.sa[i-1] * math.Pow(sp.sa[i]/sp.sa[i-1], f)
		}
	}
	return sp.sa[last] * sp.t[last] * sp.t[last] / (period * period)
}

// damped reads it in m/s2 at damping b: demand.md, "Reading the spectrum".
func (sp *spectrum) damped(period, b float64) float64 {
	divisor := reduced(b)
	if period >= sp.tb[0] {
		return sp.at(period) / divisor * gravity
	}
	return (sp.pga[0] + (sp.at(period)-sp.pga[0])/divisor - sp.pga[0]*(1-1/divisor)*period/sp.tb[0]) * gravity
}

// reduced returns B of ASCE 41-17 up to half of critical, and beyond what demand.md says.
func reduced(b float64) float64 {
	divisor := 4 / (5.6 - math.Log(100*min(b, 0.5)))
	if b > 0.5 {
		divisor *= math.Pow(b/0.5, 0.75)
	}
	return divisor
}

// A stick is what the sheet says of the building's model.
type stick struct {
	height, mass, k, v []float64 // m, t, kN/m, kN
	phi                [3][]float64
	r, cl, h, fall     float64
}

func (r *record) stick(t *testing.T) stick {
	s := r.step(t, "Stick model")
	c := func(head string) []float64 { return s.column(t, head) }
	return stick{c("height m"), c("mass t"), c("k kN/m"), c("V kN"), [3][]float64{c("mode 1"), c("mode 2"), c("mode 3")},
		s.value(t, "Post-yield"), s.value(t, "Stiffness-degrading"), s.value(t, "Largest resistance"),
		s.value(t, "Drift that counts") / 100}
}

// TestArchetypeRedone redoes weight, height of storeys, period and the periods of
// the printed masses and stiffnesses.
func TestArchetypeRedone(t *testing.T) {
	r := reviewed(t, "CS-00006")
	a, building, st := r.step(t, "Archetype"), r.step(t, "Building"), r.stick(t)
	perArea := within(t, strings.Replace(a.line(t, "Seismic weight")[formulaHead], "W = ", "W ", 1), "W")
	assert.InEpsilon(t, perArea*building.value(t, "floor_area"), a.value(t, "Seismic weight"), printed)
	h := a.value(t, "Height")
	f := strings.ReplaceAll(a.line(t, "Period T1")[formulaHead], "H^", "H ")
	lower, upper, power := within(t, f, "bounds"), within(t, f, "and"), within(t, f, "H")
	period := math.Pow(h, power) * math.Sqrt(lower*upper)
	assert.InEpsilon(t, period, a.value(t, "Period T1"), printed)

	height, mass, foot := 0.0, 0.0, a.value(t, "Yield strength ratio")*a.value(t, "Seismic weight")
	for i := range st.mass {
		height, mass = height+st.height[i], mass+st.mass[i]
	}
	assert.InEpsilon(t, h, height, printed)
	assert.InEpsilon(t, a.value(t, "Seismic weight"), mass*gravity, printed)
	assert.InEpsilon(t, foot, st.v[0], printed)
	for j, name := range []string{"Mode 1", "Mode 2", "Mode 3"} { // Rayleigh's quotient of the printed shape
		var kinetic, strain, moved, below float64
		for i, phi := range st.phi[j] {
			kinetic += st.mass[i] * phi * phi
			moved += st.mass[i] * phi
			strain += st.k[i] * (phi - below) * (phi - below)
			below = phi
		}
		stand := r.step(t, "As it stands")
		assert.InEpsilon(t, 2*math.Pi*math.Sqrt(kinetic/strain), stand.input(t, name, "T"), printed)
		assert.InEpsilon(t, moved/kinetic, stand.input(t, name, "G"), printed)
	}
}

// modes redoes the reading of the spectrum for each mode and returns Sa, Sd and G.
func (s *step) modes(t *testing.T, sp *spectrum) (sa, sd, g, viscous []float64) {
	for j := 1; j <= 3; j++ {
		name := "Mode " + string(rune('0'+j))
		period, b := s.input(t, name, "T"), s.input(t, name, "damping b")
		a := sp.damped(period, b)
		assert.InEpsilon(t, a, s.value(t, name), printed, name)
		d := a * math.Pow(period/(2*math.Pi), 2)
		assert.InEpsilon(t, d, s.input(t, name, "Sd"), printed, name)
		sa, sd, g = append(sa, a), append(sd, d), append(g, s.input(t, name, "G"))
		viscous = append(viscous, s.input(t, name, "of it from viscous dampers"))
	}
	return sa, sd, g, viscous
}

// redoSpectral redoes a whole spectral calculation on st: demand.md from "Reading the
// spectrum" to "Floor acceleration and base shear".
func redoSpectral(t *testing.T, r *record, title string, st stick) {
	sp, s, f := r.spectrum(t), r.step(t, title), r.step(t, title+": storeys and floors")
	sa, sd, g, viscous := s.modes(t, &sp)
	n := len(st.k)
	d, dh := make([]float64, n), make([]float64, n)
	yield := 1.0
	below := [3]float64{}
	for i := range n {
		d[i] = math.Abs(g[0]*(st.phi[0][i]-below[0])) * sd[0]
		yield = min(yield, st.v[i]/(st.k[i]*d[i]))
		for j := 1; j < 3; j++ {
			dh[i] = math.Hypot(dh[i], g[j]*(st.phi[j][i]-below[j])*sd[j])
		}
		below = [3]float64{st.phi[0][i], st.phi[1][i], st.phi[2][i]}
		assert.InEpsilon(t, 1000*d[i], f.column(t, "d mm")[i], printed)
	}
	assert.InEpsilon(t, yield, s.value(t, "Yield fraction"), printed)
	mu, t1 := 1/yield, s.input(t, "Mode 1", "T")
	assert.InEpsilon(t, mu, s.value(t, "Strength ratio"), printed)
	require.Greater(t, mu, 1.0, "the case is of a frame that yields")

	pushed, held := 0.0, 0.0
	above := 0.0
	for i := n - 1; i >= 0; i-- {
		above += st.mass[i] * gravity
		pushed, held = pushed+above/st.height[i]*d[i]*d[i], held+st.k[i]*d[i]*d[i]
	}
	th := pushed / held
	assert.InEpsilon(t, th, s.value(t, "Stability"), printed)
	g2 := (143*math.Pow(mu-1, -2.29) + 5.19) * math.Pow(t1/sp.tc[0], 3.42) * (1 + 2.78*viscous[0])
	c := ratio(mu, g2-mu*th/((mu-1)*(1+th)), st.r, st.h)
	fade := min(1, max(0, (1-t1)/0.3))
	c *= 1 + st.cl*min(0.393, math.Pow((mu-1)/max(t1, 0.2), 2)/800)*fade
	assert.Greater(t, s.value(t, "Largest strength ratio"), mu)
	assert.InEpsilon(t, c, s.value(t, "Displacement ratio"), printed)
	u := c * g[0] * sd[0]
	assert.InEpsilon(t, u, s.value(t, "Roof displacement"), printed)

	even := f.input(t, "Largest storey drift", "alpha f")
	past := min(st.r*(c*mu-1), st.h-1) / (c*mu - 1)
	e, drift := redoDrifts(t, f, st, d, dh, yield, u, c, even, max(0, past-th))
	redoFloors(t, f, &sp, st, floorCase{sa, sd, g, viscous, d, e, drift, yield, c, s.input(t, "Mode 3", "T"),
		r.step(t, "Archetype").value(t, "Damping b0")})
}

// ratio redoes C1 by steps instead of the quadratic: the spring reached at mu C has the mean slope
// (h - 1)/(mu C - 1) if hardening has ended.
func ratio(mu, g, r, h float64) float64 {
	c := 0.0
	for range 200 {
		a := r
		if c > 0 {
			a = min(r, (h-1)/(mu*c-1))
		}
		c = 1 + 1/(mu*a/((mu-1)*(1-a))+g)
	}
	return c
}

// redoDrifts redoes the drifts of the higher modes and of all: demand.md, "Storey drift".
func redoDrifts(t *testing.T, f *step, st stick, d, dh []float64, yield, u, c, even, slope float64) (e,
	drift []float64) {
	n, gg := len(d), 1+even*math.Sqrt(max(1, c/yield))
	rho, most := make([]float64, n), 0.0
	e, drift = make([]float64, n), make([]float64, n)
	for i := range d {
		rho[i] = st.k[i] * math.Hypot(d[i], dh[i]) / st.v[i]
		most = max(most, rho[i])
		e[i] = dh[i]
		if rho[i] > 1 {
			e[i] *= 1 + 12.5*yield*math.Pow(1-1/rho[i], 2)/gg
		}
	}
	w, sum := make([]float64, n), 0.0
	m := int(f.input(t, "Largest storey drift", "storey m")) - 1
	p := st.k[0] * d[0] / st.v[0] / (st.k[m] * d[m] / st.v[m])
	l := float64(n) * gg * math.Sqrt(1.27*1.27*slope+math.Pow(1/(2*float64(n)), 2))
	for i := range d {
		begin := p*math.Exp(-float64(i)/l) + (1-p)*math.Exp(-math.Abs(float64(i-m))/l)
		w[i] = d[i] * math.Pow(rho[i]/most, 3.53/gg) * begin
		sum += w[i]
	}
	largest, all := 0.0, 0.0
	for i := range d {
		all += d[i]
	}
	for i := range d {
		a := yield*d[i] + max(0, u-yield*u/c)*((1-yield*yield)*w[i]/sum+yield*yield*d[i]/all)
		drift[i] = math.Hypot(a, e[i])
		assert.InEpsilon(t, 1000*e[i], f.column(t, "e mm")[i], 3*printed, "differences of near ordinates of a mode")
		assert.InEpsilon(t, 1000*a, f.column(t, "a mm")[i], 2*printed)
		assert.InEpsilon(t, 1000*drift[i], f.column(t, "drift mm")[i], 2*printed)
		largest = max(largest, drift[i]/st.height[i])
	}
	assert.InEpsilon(t, 100*largest, f.value(t, "Largest storey drift"), 2*printed)
	return e, drift
}

// A floorCase is what the floors are computed from.
type floorCase struct {
	sa, sd, g, viscous, d, e, drift []float64
	yield, c, t3, b0                float64
}

// redoFloors redoes "Floor acceleration and base shear".
func redoFloors(t *testing.T, f *step, sp *spectrum, st stick, x floorCase) {
	n, mu := len(x.d), 1/x.yield
	h := math.Pow(mu, -0.214)
	q := min(1, x.yield*(1+min(st.r*(x.c*mu-1), st.h-1))+0.231*(1-x.yield))
	assert.InEpsilon(t, q, f.value(t, "Reduction q"), printed)
	require.Greater(t, n, 3, "modes are left out")
	sm := sp.pga[0] * math.Pow(mu, 0.257) * gravity
	assert.InEpsilon(t, sm, f.input(t, "Reduction q", "Sm"), printed)
	sa := sp.at(5*x.t3/7) * reduced(0.05) / reduced(x.b0+7*x.viscous[2]/5)
	sr := h * math.Sqrt(max(0, sa*sa-sp.pga[0]*sp.pga[0])) * gravity
	assert.InDelta(t, sr, f.input(t, "Reduction q", "Sr"), printed*sm)
	fd := 2 * x.viscous[0] // linear dampers: twice the damping they add
	ra, rv := 0.728*(1-x.yield), 1-x.yield
	resist := func(i int) float64 { return st.v[i] * (1 + min(st.r*max(0, st.k[i]*x.drift[i]/st.v[i]-1), st.h-1)) }
	peak := sp.pga[0]
	for i := range n {
		a1 := x.g[0] * st.phi[0][i] * x.sa[0]
		frame, dampers, missing := a1*a1*q*q, 2*a1*a1*ra*q*fd, 1-x.g[0]*st.phi[0][i]
		for j := 1; j < 3; j++ {
			one := math.Pow(x.g[j]*st.phi[j][i]*x.sa[j]*h, 2)
			frame, dampers = frame+one, dampers+1.4*one*x.viscous[j]*x.viscous[j]
			missing -= x.g[j] * st.phi[j][i]
		}
		frame += math.Pow(missing*sm, 2) + math.Pow(f.column(t, "R")[i]*sr, 2)
		if i == n-1 {
			frame = min(frame, math.Pow(1.04*resist(i)/st.mass[i], 2))
		}
		a := math.Sqrt(frame+dampers) / gravity
		assert.InEpsilon(t, a, f.column(t, "floor g")[i], 2*printed)
		peak = max(peak, a)
	}
	assert.InEpsilon(t, peak, f.value(t, "Largest floor"), 2*printed)
	vf := min(st.k[0]*math.Hypot(x.d[0]*q, x.e[0]), resist(0))
	vd := st.k[0] * x.d[0] * fd
	if fd > 0 {
		for j := 1; j < 3; j++ {
			vd = math.Hypot(vd, st.k[0]*x.g[j]*st.phi[j][0]*x.sd[j]*2*x.viscous[j])
		}
	}
	assert.InEpsilon(t, math.Sqrt(vf*vf+vd*vd+2*rv*vf*vd), f.value(t, "Base shear"), printed)
}

// TestDemandRedone redoes the demand as the building stands and with viscous dampers,
// whose frame is that of the stick.
func TestDemandRedone(t *testing.T) {
	r := reviewed(t, "CS-00012") // six storeys of concrete frame, most measures feasible
	st := r.stick(t)
	redoSpectral(t, r, "As it stands, return period 475 yr", st)
	redoSpectral(t, r, "Demand with viscous, return period 475 yr", st)

	// ASCE 41-17 7.4.3.3, equation 7-28.
	s := r.step(t, "As it stands, return period 475 yr")
	in := func(symbol string) float64 { return s.input(t, "For comparison", symbol) }
	assert.InEpsilon(t, in("C0")*in("C1")*in("C2")*in("Sa")*gravity*in("Te")*in("Te")/(4*math.Pi*math.Pi), s.value(t, "For comparison"), printed)
}

// TestIsolationRedone redoes isolation with strengthening above it: demand.md,
// "Isolation"; B of ASCE 7-16 Table 17.5-1, from memory.
func TestIsolationRedone(t *testing.T) {
	r := reviewed(t, "CS-00006")
	sp, st, s := r.spectrum(t), r.stick(t), r.step(t, "Demand with lead-rubber-strengthen")
	qd, k2, dy := s.value(t, "Characteristic"), s.value(t, "Stiffness past"), s.input(t, "Characteristic", "Dy")
	m := s.input(t, "Stiffness past", "M")
	d := s.value(t, "Displacement D")
	ke := k2 + qd/d
	tf, g1 := s.input(t, "Shear above", "Tf"), s.input(t, "Shear above", "G1")
	slab, mass, moved, kinetic := s.input(t, "Shear above", "slab mass"), 0.0, 0.0, 0.0
	n := len(st.mass)
	for i, v := range st.mass { // strengthening in proportion keeps the shapes
		mass += v
		moved += v * st.phi[0][i]
		kinetic += v * st.phi[0][i] * st.phi[0][i]
	}
	assert.InEpsilon(t, mass+slab, m, printed)
	gam, kap := moved*moved/kinetic/m, ke/m*math.Pow(tf/(2*math.Pi), 2)
	eps := 2 * kap / (1 + kap + math.Sqrt((1+kap)*(1+kap)-4*(1-gam)*kap))
	share := (1 - eps) * (1 - (1-gam)*eps) / (1 - (1-gam)*eps*(2-eps))
	te := tf / math.Sqrt(eps)
	b := share*4*qd*(d-dy)/(2*math.Pi*ke*d*d) + 0.05*math.Sqrt(eps)*(1-share)
	assert.InEpsilon(t, te, s.input(t, "Displacement D", "Te"), printed)
	assert.InEpsilon(t, b, s.input(t, "Displacement D", "b"), printed)
	assert.InEpsilon(t, share, s.input(t, "Displacement D", "s"), printed)
	row := [][2]float64{{0.10, 1.2}, {0.20, 1.5}, {0.30, 1.7}, {0.40, 1.9}}
	at := min(int(b/0.10), len(row)-1) - 1
	require.True(t, b > row[at][0] && b < row[at+1][0], "between two rows of the table")
	divisor := row[at][1] + (row[at+1][1]-row[at][1])*(b-row[at][0])/0.10
	asked := share * sp.at(te) * gravity * math.Pow(te/(2*math.Pi), 2) / divisor
	assert.InEpsilon(t, asked, d, printed, "what is asked is what is there")
	vb := ke * d
	assert.InEpsilon(t, vb, s.value(t, "Shear through"), printed)
	slow, total := []float64{1 - eps}, slab*(1-eps)
	for i := range n {
		slow = append(slow, 1-eps+eps*g1*st.phi[0][i])
		total += st.mass[i] * slow[i+1]
	}
	for i := range slow {
		slow[i] *= vb / total
	}
	assert.InEpsilon(t, vb-slab*slow[0], s.value(t, "Shear above"), printed)

	// Free modes: those of the frame on a fixed base make them, with the rest of the mass at the slab.
	x := dy / d
	angle := math.Acos(1 - 2*x)
	kc := k2 + qd/dy*angle/math.Pi
	assert.InEpsilon(t, kc, s.value(t, "Stiffness Kc"), printed)
	stiff := s.column(t, "k kN/m")
	var w2, gamma, effective [3]float64
	rest := m
	for j := range w2 {
		kin, mov, strain, below := 0.0, 0.0, 0.0, 0.0
		for i, phi := range st.phi[j] {
			kin += st.mass[i] * phi * phi
			mov += st.mass[i] * phi
			strain += stiff[i] * (phi - below) * (phi - below)
			below = phi
		}
		w2[j], gamma[j], effective[j] = strain/kin, mov/kin, mov*mov/kin
		rest -= effective[j]
	}
	shear, floor := make([]float64, n), make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		shear[i] = st.mass[i] * slow[i+1]
		if i+1 < n {
			shear[i] += shear[i+1]
		}
		floor[i] = slow[i+1] * slow[i+1]
	}
	square := make([]float64, n)
	for i := range square {
		square[i] = shear[i] * shear[i]
	}
	for j := range w2 {
		y := math.Pow(2*math.Pi/s.column(t, "T s")[j], 2)
		mu, psi := rest, make([]float64, n)
		for l := range w2 {
			mu += effective[l] * math.Pow(w2[l]/(w2[l]-y), 2)
			for i := range psi {
				psi[i] += gamma[l] * st.phi[l][i] * y / (w2[l] - y)
			}
		}
		assert.InEpsilon(t, mu, s.column(t, "mass t")[j], 4*printed)
		omega := math.Sqrt(y)
		z := 0.02 * omega * tf / (2 * math.Pi)
		assert.InEpsilon(t, z, s.column(t, "damping")[j], printed)
		kick := 2 * qd * (1 - x) / mu /
			math.Sqrt((1+math.Pow(omega*angle*te/(2*math.Pi)/4, 2))*(1-math.Exp(-z*omega*te)))
		assert.InEpsilon(t, kick, s.column(t, "reversals m/s2")[j], 4*printed)
		a := s.column(t, "together m/s2")[j]
		assert.InEpsilon(t, math.Hypot(s.column(t, "shaking m/s2")[j], kick), a, 4*printed)
		above := 0.0
		for i := n - 1; i >= 0; i-- {
			above += st.mass[i] * (1 + psi[i])
			square[i] += a * a * above * above
			floor[i] += math.Pow(a*(1+psi[i]), 2)
		}
	}
	strength, dcr := s.column(t, "V kN"), 0.0
	for i := range n {
		v := math.Sqrt(square[i])
		dcr = max(dcr, v/strength[i])
		assert.InEpsilon(t, v, s.column(t, "shear kN")[i], 2*printed)
		assert.InEpsilon(t, 1000*v/stiff[i], s.column(t, "drift mm")[i], 2*printed)
		assert.InEpsilon(t, math.Sqrt(floor[i])/gravity, s.column(t, "floor g")[i], 2*printed)
	}
	assert.InEpsilon(t, dcr, s.value(t, "Demand over strength"), 2*printed)
	require.Less(t, dcr, 1.0, "the frame stays whole")
}

// TestLossRedone redoes the annual loss, the costs and the worth of each measure.
func TestLossRedone(t *testing.T) {
	r := reviewed(t, "CS-00006")
	loss := r.step(t, "Consequence as it stands")
	tr, l, weight := loss.column(t, "at yr"), loss.column(t, "loss there"), loss.column(t, "weight 1/yr")
	var sum, lines, whole, logs float64
	for i := range tr {
		sum += weight[i] * l[i]
		whole, logs = whole+weight[i], logs+weight[i]*math.Log(tr[i])
		if i > 0 { // loss a straight line in ln yr
			va, vb := 1/tr[i-1], 1/tr[i]
			q := (va - vb) / math.Log(va/vb)
			lines += l[i-1]*(va-q) + l[i]*(q-vb)
		}
	}
	annual := loss.value(t, "Annual loss")
	assert.InEpsilon(t, annual, sum, printed)
	last := len(tr) - 1
	assert.InEpsilon(t, annual, lines+l[last]/tr[last], 0.03, "a coarser rule, rougher than the cubic")
	// The weights integrate a loss of 1 and one of ln yr exactly: the integral of ln T over 1/T is
	// (1 + ln T1)/T1 - 1/Tn with the last held.
	assert.InEpsilon(t, 1/tr[0], whole, printed)
	assert.InEpsilon(t, (1+math.Log(tr[0]))/tr[0]-1/tr[last], logs, printed)

	worth := r.step(t, "Worth and choice")
	rate, years := worth.input(t, "Present value", "r"), worth.input(t, "Present value", "n")
	factor := (1 - math.Pow(1+rate, -years)) / rate
	assert.InEpsilon(t, factor, worth.value(t, "Present value"), printed)
	scores := 0
	for _, line := range worth.lines {
		slug, ok := strings.CutPrefix(line[quantityHead], "Score of ")
		if !ok {
			continue
		}
		scores++
		cost := r.step(t, "Design and cost of "+slug)
		likely := 0.0
		for _, part := range strings.Split(strings.Split(cost.line(t, "Cost, likely")[inputsHead], ";")[0], ", ") {
			price, amount, times := strings.Cut(part, " x ")
			p := number(t, price[strings.LastIndex(price, " ")+1:])
			if times {
				word, _, _ := strings.Cut(amount, " ")
				p *= number(t, word)
			}
			likely += p
		}
		assert.InEpsilon(t, likely, cost.value(t, "Cost, likely"), printed, slug)
		in := func(symbol string) float64 { return within(t, line[inputsHead], symbol) }
		// Differences of near numbers: as good as the numbers they are made of.
		avoided := factor * (in("before") - in("annual loss"))
		assert.InDelta(t, avoided, in("avoided over the life"), factor*in("before")*1e-4, slug)
		assert.InDelta(t, avoided-likely, number(t, line[valueHead]), factor*in("before")*1e-4+likely*1e-3, slug)
		assert.InDelta(t, avoided/likely, in("benefit over cost"), factor*in("before")*1e-4/likely+printed, slug)
	}
	assert.GreaterOrEqual(t, scores, 4)
}
