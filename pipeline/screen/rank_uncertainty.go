package screen

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/confidence"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

// A rankUncertainty holds the ranks of a stock in every draw.
type rankUncertainty struct {
	stock  *confidence.Stock // by the plan's objective
	asIs   *confidence.Stock // by annual loss as the buildings stand
	groups *confidence.Groups
	top    int
	failed assess.FailedBuildings // buildings that could not be drawn

	mu   sync.Mutex
	best map[string]float64 // share of draws in which a building's best measure stays best
}

// drawRanks reads the register a second time and draws every building, or those whose ids are
// in only if that is not nil. It returns nil if the plan asks for no draws.
func drawRanks(ctx context.Context, study *assess.Study, workers int,
	only map[string]bool) (*rankUncertainty, error) {
	set := study.DrawSettings()
	if set.Draws == 0 {
		return nil, nil
	}
	reader, err := study.Register(ctx)
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	out := &rankUncertainty{
		stock: confidence.NewStock(set.Draws), asIs: confidence.NewStock(set.Draws),
		top: study.Plan().Uncertainty.Top, best: make(map[string]float64),
	}
	draws := confidence.NewDraws(set)
	visit := func() assess.Visitor {
		return &sampler{study: study, only: only, out: out, set: &set, base: study.NewAssessment(),
			sensitivity: study.NewSensitivity(), draws: draws, draw: confidence.NewSampler(draws)}
	}
	if err := study.Flow(ctx, reader, workers, visit, assess.Watch{}); err != nil {
		return nil, err
	}
	out.stock.Rank()
	out.asIs.Rank()
	out.groups = out.stock.Groups()
	out.failed.Sort()
	return out, nil
}

// A sampler draws the buildings of one worker.
type sampler struct {
	study       *assess.Study
	only        map[string]bool
	out         *rankUncertainty
	set         *confidence.Settings
	base        *assess.Assessment
	sensitivity *assess.Sensitivity
	draws       *confidence.Draws
	draw        *confidence.Sampler
	sample      confidence.Sample
}

func (s *sampler) Reject(*inventory.Reject) {}

func (s *sampler) Visit(b *inventory.Building) error {
	if s.only != nil && !s.only[b.ID] {
		return nil
	}
	if s.base.Assess(b) != nil {
		return nil // it is among the rejects of the first pass
	}
	if err := s.sampled(b); assess.FailureOf(err) != nil {
		s.sensitivity, s.draw = s.study.NewSensitivity(), confidence.NewSampler(s.draws)
		s.out.failed.Add(b.ID)
		return nil
	} else if err != nil {
		return fmt.Errorf("building %q cannot be assessed away from its medians: %w", b.ID, err)
	}
	best := 0 // state of the best measure, 0 for doing nothing
	if s.base.Best() != nil {
		best = 1 // the first of the shortlist
	}
	same := 0
	for _, m := range s.sample.Best {
		if int(m) == best {
			same++
		}
	}
	s.out.add(b.ID, &s.sample, float64(same)/float64(len(s.sample.Best)))
	return nil
}

// sampled draws building b, which s.base has assessed.
func (s *sampler) sampled(b *inventory.Building) (err error) {
	defer assess.CatchPanic(b, &err)
	p := s.sensitivity
	if err := p.Learn(s.base, s.set); err != nil {
		return err
	}
	s.draw.Draw(b.ID, &p.Response, p.Measures, s.study.Gain, &s.sample)
	return nil
}

func (s *rankUncertainty) add(id string, sample *confidence.Sample, best float64) {
	s.stock.Add(id, sample.Order)
	s.asIs.Add(id, sample.Loss)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.best[id] = best
}

// noInterval is the solver status of a building on which the draws failed.
const noInterval = "no interval of ranks: the program failed away from the medians (" +
	assess.SolverFailed + "), please report it"

// fill sets the columns of rank uncertainty in b. It is called in the order of rank.
func (s *rankUncertainty) fill(b *output.Building) {
	if s == nil {
		return
	}
	in, ok := s.stock.Interval(b.ID, s.top)
	if !ok {
		b.TieGroup = output.NoInt
		if _, failed := slices.BinarySearch(s.failed.IDs, b.ID); failed {
			b.SolverStatus = strings.TrimPrefix(b.SolverStatus+"; "+noInterval, "; ")
		}
		return
	}
	b.RankLow, b.RankMedian, b.RankHigh = in.Low, in.Median, in.High
	b.TopFrequency, b.BestFrequency = in.Top, s.best[b.ID]
	in, _ = s.asIs.Interval(b.ID, s.top)
	b.AsIsLow, b.AsIsHigh = in.Low, in.High
	b.TieGroup, _ = s.groups.Next(b.ID)
}
