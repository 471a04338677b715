package field

import (
	"math"
	"slices"

	"plinth/hazard"
)

// maxPeriods is the most periods a source may have, so that a lookup can work on the stack.
const maxPeriods = 127

// A slab holds the spectra of all nodes at the run's levels, one after the other:
// for each node, for each level, ln(PGA) and then ln(Sa) at each period.
type slab struct {
	run    []float64 // yr, shared with every site filled
	asked  []bool    // levels whose status counts
	axis   hazard.Axis
	width  int // 1 + periods
	ln     []float64
	status hazard.Status   // of every lookup
	each   []hazard.Status // of each node, nil if all are alike
	soil   soil

	shaking []hazard.Shaking // for each node, each level; nil if the source says nothing
}

// newSlab returns the slab of the nodes of a table.
func newSlab(t *table, o Options) slab {
	l := newLevels(t.levels, &o)
	s := slab{
		run: l.run, asked: l.asked, axis: hazard.NewAxis(t.periods), width: 1 + len(t.periods),
		status: l.status, soil: newSoil(o, t.periods),
	}
	in, out := len(t.levels)*s.width, len(s.run)*s.width
	nodes := len(t.ln) / in
	s.ln = make([]float64, nodes*out)
	for i := range nodes {
		l.fit(s.ln[i*out:(i+1)*out], t.ln[i*in:(i+1)*in], s.width)
	}
	if slices.ContainsFunc(t.shaking, func(x hazard.Shaking) bool { return x.Known() }) {
		in, out := len(t.levels), len(s.run)
		s.shaking = make([]hazard.Shaking, nodes*out)
		for i := range nodes {
			l.shaking(s.shaking[i*out:(i+1)*out], t.shaking[i*in:(i+1)*in])
		}
	}
	return s
}

// ReturnPeriods returns the levels of the run in yr.
func (s *slab) ReturnPeriods() []float64 { return append([]float64(nil), s.run...) }

// Periods returns the periods of the spectra in s.
func (s *slab) Periods() []float64 { return append([]float64(nil), s.axis.T...) }

// A blend is up to four nodes and their weights, which sum to 1. Unused places
// repeat a node with weight 0.
type blend struct {
	node [4]int
	w    [4]float64
}

// only returns the blend of one node.
func only(node int) blend {
	return blend{[4]int{node, node, node, node}, [4]float64{1, 0, 0, 0}}
}

// heaviest returns the index in b of the largest weight.
func (b *blend) heaviest() int {
	k := 0
	for i, w := range b.w {
		if w > b.w[k] {
			k = i
		}
	}
	return k
}

// patch replaces missing nodes, all of weight 0, by the heaviest.
func (b *blend) patch() {
	n := b.node[b.heaviest()]
	for i := range b.node {
		if b.node[i] < 0 {
			b.node[i] = n
		}
	}
}

// fill sets site to the weighted mean of the logarithms at the nodes of b for a ground class;
// the nearest node is distance m away. How the ground shakes is that of the node with the largest
// weight.
func (s *slab) fill(b blend, class hazard.SiteClass, distance float64, status hazard.Status,
	site *hazard.Site) error {
	class, row, assumed, err := s.soil.class(class)
	if err != nil {
		return err
	}
	site.ReturnPeriod = s.run
	site.Class = class
	site.Status = s.status | assumed | status
	if s.each != nil {
		for k, n := range b.node {
			if b.w[k] > 0 {
				site.Status |= s.each[n]
			}
		}
	}
	site.Distance = distance
	site.Spectra = grow(site.Spectra, len(s.run))

	stride := len(s.run) * s.width
	n0, n1 := s.ln[b.node[0]*stride:], s.ln[b.node[1]*stride:]
	n2, n3 := s.ln[b.node[2]*stride:], s.ln[b.node[3]*stride:]
	var buf [1 + maxPeriods]float64
	ln := buf[:s.width]
	w0, w1, w2, w3 := b.w[0], b.w[1], b.w[2], b.w[3]
	for l := range site.Spectra {
		at := l * s.width
		v0, v1, v2, v3 := n0[at:][:len(ln)], n1[at:][:len(ln)], n2[at:][:len(ln)], n3[at:][:len(ln)]
		for i := range ln {
			ln[i] = w0*v0[i] + w1*v1[i] + w2*v2[i] + w3*v3[i]
		}
		pga := math.Exp(ln[0])
		if !s.soil.included {
			var study hazard.Status
			if pga, study = s.soil.amplify(row, s.run[l], pga, ln[1:]); s.asked[l] {
				site.Status |= study
			}
		}
		site.Spectra[l].Set(s.axis, pga, ln[1:])
		if s.shaking != nil {
			site.Spectra[l].Shaking = s.shaking[b.node[b.heaviest()]*len(s.run)+l]
		}
	}
	return nil
}

// grow returns s with length n, keeping the storage of its spectra.
func grow(s []hazard.Spectrum, n int) []hazard.Spectrum {
	if cap(s) >= n {
		return s[:n]
	}
	return append(s[:cap(s)], make([]hazard.Spectrum, n-cap(s))...)
}
