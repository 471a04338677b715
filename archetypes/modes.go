package archetypes

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/mat"
)

// ErrNoModes is returned for a chain whose eigenvalues gonum did not find.
var ErrNoModes = errors.New("archetypes: eigenvalues of the storey chain did not converge")

// ChainModes returns the first modes of a chain of floors m in kg on storey
// springs k in N/m, lowest first, above a fixed base:
//
//	K phi = w^2 M phi, phi(roof) = 1, T = 2 pi/w
//	Gamma = sum m phi/sum m phi^2
//
// It solves the symmetric problem M^-1/2 K M^-1/2 (Chopra, Dynamics of Structures, 10.2 and
// 13.1.2). Masses and stiffnesses must be positive, finite and of equal number, 1 to
// MaxStoreys.
func ChainModes(m, k []float64) (Modes, error) {
	p, g, shape, rest, err := chainModes(m, k)
	if err != nil {
		return Modes{}, err
	}
	out := Modes{Count: min(MaxModes, len(m))}
	for j := range out.Count {
		out.Period[j], out.Gamma[j], out.Shape[j] = p[j], g[j], shape[j]
	}
	out.Rest = rest
	return out, nil
}

// chainModes returns every mode of the chain, the longest period first, and for each floor the
// square root of the sum of (Gamma phi)^2 over the modes beyond MaxModes.
func chainModes(m, k []float64) (period, gamma []float64, shape [][]float64, rest []float64, err error) {
	n := len(m)
	if n == 0 || n > MaxStoreys || len(k) != n {
		return nil, nil, nil, nil,
			fmt.Errorf("archetypes: a chain needs 1 to %d floors with one storey each, not %d and %d",
				MaxStoreys, n, len(k))
	}
	root := make([]float64, n) // sqrt of mass
	for i := range m {
		if !(m[i] > 0 && k[i] > 0) || math.IsInf(m[i], 1) || math.IsInf(k[i], 1) {
			return nil, nil, nil, nil,
				fmt.Errorf("archetypes: mass %g and stiffness %g of storey %d must be positive and finite",
					m[i], k[i], i+1)
		}
		root[i] = math.Sqrt(m[i])
	}
	a := mat.NewSymDense(n, nil)
	for i := range n {
		own := k[i]
		if i+1 < n {
			own += k[i+1]
			a.SetSym(i, i+1, -k[i+1]/(root[i]*root[i+1]))
		}
		a.SetSym(i, i, own/m[i])
	}
	var eig mat.EigenSym
	if !eig.Factorize(a, true) {
		return nil, nil, nil, nil, ErrNoModes
	}
	values := eig.Values(nil) // ascending
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	period, gamma, shape = make([]float64, n), make([]float64, n), make([][]float64, n)
	for j := range n {
		phi := make([]float64, n)
		roof := vectors.At(n-1, j) / root[n-1]
		var l, mm float64
		for i := range phi {
			phi[i] = vectors.At(i, j) / root[i] / roof
			l += m[i] * phi[i]
			mm += m[i] * phi[i] * phi[i]
		}
		period[j], gamma[j], shape[j] = 2*math.Pi/math.Sqrt(values[j]), l/mm, phi
	}
	return period, gamma, shape, restOf(&vectors, root), nil
}

// restOf returns the square root of the sum over j >= MaxModes of (Gamma_j phi_ij)^2, for
// eigenvectors v of unit length and the square roots of the masses. It equals that of
// (v_ij/root_i sum root v_j)^2 for any scale of the mode, so a mode may have no motion at the
// roof.
func restOf(v *mat.Dense, root []float64) []float64 {
	n := len(root)
	rest := make([]float64, n)
	for j := MaxModes; j < n; j++ {
		l := 0.0
		for i, r := range root {
			l += r * v.At(i, j)
		}
		for i, r := range root {
			x := v.At(i, j) / r * l
			rest[i] += x * x
		}
	}
	for i, x := range rest {
		rest[i] = math.Sqrt(x)
	}
	return rest
}

// chain is the part that stick models of equal number of storeys and profile share: everything
// but the scale of mass, period and strength.
type chain struct {
	once      sync.Once
	stiffness []float64 // of each storey, relative to a regular ground storey
	modes     Modes     // of unit masses on these stiffnesses
}

var chains [numProfiles][MaxStoreys]chain

// chainOf returns the chain of n storeys, which the first call makes. Later calls allocate
// nothing. It is safe for concurrent use.
func chainOf(n int, p Profile) *chain {
	c := &chains[p][n-1]
	c.once.Do(func() { c.solve(n, p) })
	return c
}

func (c *chain) solve(n int, p Profile) {
	c.stiffness = make([]float64, n)
	mass := make([]float64, n)
	for i := range n {
		f, _ := p.factor(i, n)
		c.stiffness[i] = f * math.Pow(storeyShear(i, n), StiffnessExponent)
		mass[i] = 1
	}
	modes, err := ChainModes(mass, c.stiffness)
	if err != nil {
		panic("archetypes: a chain of the table has no modes")
	}
	c.modes = modes
}
