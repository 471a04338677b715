package fidelity

import (
	"runtime"
	"sync"

	"plinth/hazard/motion"
	"plinth/retrofit/history"
)

// A Row is one building of a grid with every measure by both methods.
type Row struct {
	Case   *Case
	Checks []history.Check // by history.Kind
}

// A Measured is a grid with its rows and the suites they come from.
type Measured struct {
	Grid   *Grid
	Rows   []Row
	Suites []Suite
}

// A Suite is what the records of one ground are worth.
type Suite struct {
	Ground string
	motion.Assessment
}

// Measure runs every building of g, on as many goroutines as there are processors.
// What it returns does not depend on how many. progress, if not nil, is called with
// the number of buildings done; calls do not overlap.
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
				one := &cases[i]
				s, fault := lib.Suite(&one.Spectrum)
				if fault == nil {
					out.Rows[i] = Row{one, c.Confirm(&one.Stick, s, one.Devices[:], history.Options{}, nil)}
				}
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

// assess looks at the suite of each ground.
func (m *Measured) assess(lib *motion.Library, cases []Case) error {
	seen := ""
	for i := range cases {
		if g := cases[i].Ground.String(); g != seen {
			s, err := lib.Suite(&cases[i].Spectrum)
			if err != nil {
				return err
			}
			seen = g
			m.Suites = append(m.Suites, Suite{g, s.Assess()})
		}
	}
	return nil
}
