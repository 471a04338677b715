package screen

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/assessed"
	"plinth/pipeline/confidence"
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

// leave hands the digest of every building to left and draws the foremost of them, as many as the
// plan's shortlist has. It returns nil if the plan asks for no draws.
func (s *sink) leave(ctx context.Context, left *assessed.Writer, workers int) (*rankUncertainty, error) {
	set := s.study.DrawSettings()
	most := s.study.Plan().Uncertainty.Shortlist
	if set.Draws == 0 {
		most = 0
	}
	records := func(ctx context.Context, see func([]byte) error) error {
		place := 0
		return s.digests.Each(ctx, func(_, record []byte) error {
			if err := left.Add(record); err != nil {
				return err
			}
			if place++; place > most {
				return nil
			}
			return see(record)
		})
	}
	if most == 0 {
		return nil, records(ctx, nil)
	}
	out := &rankUncertainty{
		stock: confidence.NewStock(set.Draws), asIs: confidence.NewStock(set.Draws),
		top: s.study.Plan().Uncertainty.Top, best: make(map[string]float64),
	}
	draws := confidence.NewDraws(set)
	visitor := func() assessed.Visitor {
		return (&sampler{study: s.study, out: out, set: &set, sensitivity: s.study.NewSensitivity(),
			draws: draws, draw: confidence.NewSampler(draws)}).visit
	}
	if err := assessed.Share(ctx, s.study, workers, records, visitor); err != nil {
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
	out         *rankUncertainty
	set         *confidence.Settings
	sensitivity *assess.Sensitivity
	draws       *confidence.Draws
	draw        *confidence.Sampler
	sample      confidence.Sample
}

// visit draws the building of d.
func (s *sampler) visit(d *assess.Digest) error {
	id := d.Building.ID
	if err := s.sampled(d); assess.FailureOf(err) != nil {
		s.sensitivity, s.draw = s.study.NewSensitivity(), confidence.NewSampler(s.draws)
		s.out.failed.Add(id)
		return nil
	} else if err != nil {
		return fmt.Errorf("building %q cannot be assessed away from its medians: %w", id, err)
	}
	best := 0 // state of the best measure, 0 for doing nothing
	if d.Best() >= 0 {
		best = 1 // the first of the shortlist
	}
	same := 0
	for _, m := range s.sample.Best {
		if int(m) == best {
			same++
		}
	}
	s.out.add(id, &s.sample, float64(same)/float64(len(s.sample.Best)))
	return nil
}

// sampled draws the building of d.
func (s *sampler) sampled(d *assess.Digest) (err error) {
	defer assess.CatchPanic(&d.Building, &err)
	p := s.sensitivity
	if err := p.Learn(d, s.set); err != nil {
		return err
	}
	s.draw.Draw(d.Building.ID, &p.Response, p.Measures, s.study.Gain, &s.sample)
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
