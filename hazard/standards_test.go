package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// fillers is every way of making a code spectrum, for an acceleration a in g and
// the index of a ground class.
var fillers = map[string]func(s *Spectrum, a float64, class int) error{
	"ASCE 7-16": func(s *Spectrum, a float64, class int) error {
		v, err := ASCE7(ASCE716, ASCE7Class(class%asce7Classes), a, 0.4*a)
		if err != nil {
			return err
		}
		return TwoPeriod(s, v.SDS, v.SD1, 8)
	},
	"ASCE 7-10": func(s *Spectrum, a float64, class int) error {
		v, err := ASCE7(ASCE710, ASCE7Class(class%asce7Classes), a, 0.4*a)
		if err != nil {
			return err
		}
		return TwoPeriod(s, v.SMS, v.SM1, 4)
	},
	"EN 1998-1 type 1": func(s *Spectrum, a float64,
		class int) error {
		return Eurocode8Type1.Elastic(s, letter(class), a)
	},
	"EN 1998-1 type 2": func(s *Spectrum, a float64,
		class int) error {
		return Eurocode8Type2.Elastic(s, letter(class), a)
	},
	"EN 1998-1 vertical": func(s *Spectrum, a float64, _ int) error {
		return Eurocode8Type1.VerticalElastic(s, a)
	},
	"NTC 2018": func(s *Spectrum, a float64, class int) error {
		return NTC2018Site{AG: a, F0: 2.4, TC: 0.35, Ground: letter(class), Topography: 1}.Fill(s)
	},
	"NZS 1170.5": func(s *Spectrum, a float64, class int) error {
		return NZS1170Site{Z: a, R: 1, Class: letter(class), FaultDistance: math.Inf(1)}.Fill(s)
	},
	"NZS 1170.5 near fault": func(s *Spectrum, a float64, class int) error {
		return NZS1170Site{Z: a, R: 1, Class: letter(class), FaultDistance: 3}.Fill(s)
	},
	"Notification 1457": func(s *Spectrum, a float64, _ int) error { return JapanBedrock(s, JapanSevere, a) },
}

func letter(class int) SiteClass { return SiteClass('A' + class%5) }

func TestStandardsGiveSoundSpectra(t *testing.T) {
	for name, fill := range fillers {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				a := rapid.Float64Range(0.001, 3).Draw(t, "a")
				class := rapid.IntRange(0, 34).Draw(t, "class")
				var s Spectrum
				require.NoError(t, fill(&s, a, class))
				require.True(t, s.TB > 0 && s.TC > s.TB, "corners %g and %g s", s.TB, s.TC)

				// Positive and finite, from the ground acceleration on.
				p := rapid.Float64Range(0, 30).Draw(t, "T")
				sa := s.Sa(p)
				require.True(t, sa > 0 && !math.IsInf(sa, 0) && sa < 20*a, "Sa(%g) = %g g", p, sa)
				require.Equal(t, s.PGA, s.Sa(0))

				// No jump anywhere: neighbouring periods have neighbouring ordinates.
				q := p * (1 + 1e-6)
				require.InEpsilon(t, sa, s.Sa(q), 1e-4, "between %g and %g s", p, q)

				// No rise of Sa and no fall of displacement beyond the plateau.
				if p > s.TC {
					require.LessOrEqual(t, s.Sa(1.01*p), sa*(1+1e-12))
				}
			})
		})
	}
}

func TestStandardsGiveTheirNodes(t *testing.T) {
	for name, fill := range fillers {
		var s Spectrum
		require.NoError(t, fill(&s, 0.3, 2))
		periods, sa := s.Nodes()
		for i, p := range periods {
			assert.InEpsilon(t, sa[i], s.Sa(p), 1e-12, "%s at %g s", name, p)
		}
	}
}

func TestStandardsScale(t *testing.T) {
	for name, fill := range fillers {
		var one, two Spectrum
		require.NoError(t, fill(&one, 0.2, 2))
		two.CopyFrom(&one)
		two.Scale(1.7)
		for _, p := range []float64{0, 0.03, 0.2, 0.7, 1.8, 4, 12} {
			assert.InEpsilon(t, 1.7*one.Sa(p), two.Sa(p), 1e-12, "%s at %g s", name, p)
		}
		assert.Equal(t, one.TC, two.TC)
	}
}

func TestSetReadsItsNodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		periods, ln := make([]float64, n), make([]float64, n)
		p := 0.0
		for i := range n {
			p += rapid.Float64Range(0.01, 1).Draw(t, "step")
			periods[i] = p
			ln[i] = rapid.Float64Range(-6, 1).Draw(t, "lnSa")
		}
		var s Spectrum
		s.Set(NewAxis(periods), 0.1, ln)
		for i, p := range periods {
			require.InEpsilon(t, math.Exp(ln[i]), s.Sa(p), 1e-12)
		}
		require.InEpsilon(t, math.Exp(ln[n-1])/4, s.Sa(2*p), 1e-12,
			"constant displacement beyond the last node")
		require.True(t, s.Covers(p) && !s.Covers(1.001*p))
	})
}
