package history

import "math"

// A law is the force-displacement law of a spring, bilinear or stiffness-degrading.
//
//	bilinear: f within r x +- q, elastic at stiffness k between
//	degrading: the same at first loading; unloading at k; from zero force straight to
//	the farthest point reached on that side (Clough and Johnston 1966), and after a
//	partial unloading back along it first (Mahin and Lin 1983)
//
// A law with k = 0 is no spring; one with q = +Inf is elastic. If friction grows with velocity,
// q goes from slow at rest to q.
type law struct {
	k, r, q   float64 // N/m, N/m, N; the yielded line has force q at x = 0
	degrading bool
	most      float64 // N, largest force; 0 for no limit
	slow      float64 // N, q at rest; used if rate > 0
	rate      float64 // s/m, growth with velocity
}

// A spring is the state of a law.
type spring struct {
	x, f, kt float64 // committed displacement, force and tangent stiffness
	// for a degrading law only:
	farX, farF   float64 // farthest point on the positive side
	nearX, nearF float64 // on the negative side
	zeroP, zeroN float64 // where the reloading lines cross zero force
}

// reset puts s at rest.
func (l *law) reset(s *spring) {
	*s = spring{kt: l.k}
	if l.degrading {
		y := l.q / (l.k - l.r)
		s.farX, s.farF, s.nearX, s.nearF = y, l.k*y, -y, -l.k*y
	}
}

// try returns the force and tangent stiffness at displacement x from the committed state, which
// it does not change.
func (l *law) try(s *spring, x float64) (f, kt float64) {
	if l.degrading {
		return l.tryDegrading(s, x)
	}
	return l.tryBilinear(s, x)
}

// tryBilinear is try for a law that is not degrading.
func (l *law) tryBilinear(s *spring, x float64) (f, kt float64) {
	f = s.f + l.k*(x-s.x)
	line := l.r * x
	if f > line+l.q {
		return l.held(line+l.q, l.r)
	}
	if f < line-l.q {
		return l.held(line-l.q, l.r)
	}
	return l.held(f, l.k)
}

// held returns the force f and the tangent stiffness kt, within the largest force.
func (l *law) held(f, kt float64) (float64, float64) {
	if l.most > 0 && math.Abs(f) > l.most {
		return math.Copysign(l.most, f), 0
	}
	return f, kt
}

// tryDegrading is try for a law that is degrading.
func (l *law) tryDegrading(s *spring, x float64) (f, kt float64) {
	f = s.f + l.k*(x-s.x)
	if f >= 0 {
		zero := s.zeroP
		if s.f < 0 {
			zero = s.x - s.f/l.k // crosses the axis in this step
		}
		limit, slope := l.r*x+l.q, l.r
		if x < s.farX {
			slope = s.farF / (s.farX - zero)
			limit = slope * (x - zero)
		}
		if f > limit {
			return l.held(limit, slope)
		}
		return l.held(f, l.k)
	}
	zero := s.zeroN
	if s.f >= 0 {
		zero = s.x - s.f/l.k
	}
	limit, slope := l.r*x-l.q, l.r
	if x > s.nearX {
		slope = s.nearF / (s.nearX - zero)
		limit = slope * (x - zero)
	}
	if f < limit {
		return l.held(limit, slope)
	}
	return l.held(f, l.k)
}

// commit moves s to displacement x; f and kt are the results of try.
func (l *law) commit(s *spring, x, f, kt float64) {
	if l.degrading {
		if f >= 0 && s.f < 0 {
			s.zeroP = s.x - s.f/l.k
		} else if f < 0 && s.f >= 0 {
			s.zeroN = s.x - s.f/l.k
		}
		if x > s.farX {
			s.farX, s.farF = x, f
		} else if x < s.nearX {
			s.nearX, s.nearF = x, f
		}
	}
	s.x, s.f, s.kt = x, f, kt
}

// bilinear returns the law of a storey of stiffness k, strength v and post-yield
// ratio ratio.
func bilinear(k, v, ratio float64) law { return law{k: k, r: ratio * k, q: v * (1 - ratio)} }
