package fidelity

import (
	"runtime"
	"sync"

	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/retrofit/history"
)

// Row is one building of a grid with every measure by both methods.
type Row struct {
	Case   *Case
	Read   *hazard.Spectrum        // input of the spectral method: the mean of the suite
	Checks []history.Check         // by history.Kind
	Halves [][2]history.Statistics // by history.Kind: every second record, and the other records
}

// Measured is a grid with its rows and the suites used.
type Measured struct {
	Grid   *Grid
	Rows   []Row
	Suites []Suite
}

// Suite holds the quality of one soil's records.
type Suite struct {
	Ground string
	motion.Assessment
}

// Measure runs every building of g on as many goroutines as there are processors. The result
// does not depend on their number. progress, if not nil, is called with the number of buildings
// done; calls do not overlap.
func Measure(g *Grid, progress func(done, all int)) (*Measured, error) {
	cases, err := g.Cases()
	if err != nil {
		return nil, err
	}
	lib, err := motion.NewLibrary(g.Motion, len(g.Grounds))
	if err != nil {
		return nil, err
	}
	out := &Measured{Grid: g, Rows: make([]Row, len(cases))}
	if err := out.assess(lib, cases); err != nil {
		return nil, err
	}
	var wg sync.WaitGroup
	var mu sync.Mutex
	next, done := 0, 0
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			var c history.Confirmer
			for {
				mu.Lock()
				i := next
				next++
				mu.Unlock()
				if i >= len(cases) {
					return
				}
				row, fault := out.row(&c, lib, &cases[i])
				out.Rows[i] = row
				mu.Lock()
				if fault != nil {
					err = fault
				}
				if done++; progress != nil {
					progress(done, len(cases))
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	return out, err
}

// row runs one building.
func (m *Measured) row(c *history.Confirmer, lib *motion.Library, one *Case) (Row, error) {
	s, err := lib.Suite(&one.Spectrum)
	if err != nil {
		return Row{}, err
	}
	r := Row{Case: one, Read: s.Mean, Checks: make([]history.Check, history.Kinds),
		Halves: make([][2]history.Statistics, history.Kinds)}
	for k, d := range one.Devices {
		r.Checks[k] = c.Confirm(&one.Stick, s, []history.Device{d}, history.Options{PDelta: true}, nil)[0]
		for half := range r.Halves[k] {
			if r.Checks[k].Err != nil {
				break
			}
			c.Half(half, &r.Halves[k][half])
		}
	}
	return r, nil
}

// assess measures the suite of each ground.
func (m *Measured) assess(lib *motion.Library, cases []Case) error {
	for i := range cases {
		g := cases[i].Ground.String()
		if m.suite(g) != nil {
			continue
		}
		s, err := lib.Suite(&cases[i].Spectrum)
		if err != nil {
			return err
		}
		one := Suite{Ground: g, Assessment: s.Assess()}
		one.PGA /= s.Target.PGA // relative to the ground's, since intensities differ
		m.Suites = append(m.Suites, one)
	}
	return nil
}

func (m *Measured) suite(ground string) *Suite {
	for i := range m.Suites {
		if m.Suites[i].Ground == ground {
			return &m.Suites[i]
		}
	}
	return nil
}
