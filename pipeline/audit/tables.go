package audit

import (
	"math"
	"strconv"
)

func idsUnique(r *run, n *notes) error {
	for _, t := range []struct {
		table string
		key   []string
	}{{"buildings", []string{"building_id"}}, {"candidates", []string{"building_id", "measure"}},
		{"verdicts", []string{"building_id", "measure", "rule"}}} {
		seen := map[string]bool{}
		err := r.each(n, t.table, func(w *row) {
			key := ""
			for _, k := range t.key {
				if w.text(k) == "" {
					n.wrong("%s has no %s", w.where(), k)
				}
				key += strconv.Quote(w.text(k))
			}
			if seen[key] {
				n.wrong("%s stands twice", w.where())
			}
			seen[key] = true
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// ids returns the ids of the buildings.
func (r *run) ids() (map[string]bool, error) {
	out := map[string]bool{}
	for w, err := range r.rows("buildings") {
		if err != nil {
			return nil, err
		}
		out[w.text("building_id")] = true
	}
	return out, nil
}

func idsJoined(r *run, n *notes) error {
	if !r.has("buildings.csv") && !r.has("buildings.parquet") {
		return nil // the buildings stand in a map or a page alone
	}
	ids, err := r.ids()
	if err != nil {
		return err
	}
	return r.eachOf(n, []string{"candidates", "verdicts"}, func(w *row) {
		if !ids[w.text("building_id")] {
			n.wrong("%s is of no building of the run", w.where())
		}
	})
}

func ranksDense(r *run, n *notes) error {
	buildings := 0 // rows of them
	err := r.eachOf(n, ranked, func(w *row) {
		if w.table() == "buildings" {
			buildings = w.n
		}
		if w.text("rank") != strconv.Itoa(w.n) {
			n.wrong("%s has rank %s", w.where(), w.text("rank"))
		}
	})
	if err != nil {
		return err
	}
	taken := make([]bool, buildings)
	return r.each(&notes{}, "buildings", func(w *row) {
		place := w.float("rank_as_is")
		switch {
		case !(place >= 1 && place <= float64(buildings)):
			n.wrong("%s has place %s as it stands, of %d", w.where(), w.text("rank_as_is"), buildings)
		case taken[int(place)-1]:
			n.wrong("%s shares place %g as it stands", w.where(), place)
		default:
			taken[int(place)-1] = true
		}
	})
}

func scoresOrdered(r *run, n *notes) error {
	var last, group float64
	return r.eachOf(n, ranked, func(w *row) {
		if w.n == 1 {
			last, group = math.NaN(), 0
		}
		score := w.float("score")
		if score > last || (math.IsNaN(last) && w.n > 1 && !math.IsNaN(score)) {
			n.wrong("%s scores %s, above the row before it", w.where(), w.text("score"))
		}
		last = score
		if _, ok := w.place["tie_group"]; ok {
			if g := w.float("tie_group"); g != group && g != group+1 {
				n.wrong("%s has tie group %s after %g", w.where(), w.text("tie_group"), group)
			} else {
				group = g
			}
		}
	})
}

// A bound is the range of the values that a column may hold. A missing value is always allowed.
type bound struct {
	column    string
	low, high float64
}

var huge = math.MaxFloat64

// The bounds are wide: they state what is possible (judgement). They catch slips of unit and broken
// files, not unusual buildings.
var bounds = map[string][]bound{
	"buildings": {
		{"rank", 1, huge}, {"score", -huge, huge}, {"score_resolution", 0, huge}, {"lon", -180, 180},
		{"lat", -90, 90}, {"year", 1, 2200}, {"storeys", 1, 200},
		{"height_m", 1, 1000}, {"floor_area_m2", 0, 1e7}, {"occupants", 0, 1e6}, {"replacement_value", 0, huge},
		{"period_s", 0.01, 20},
		{"strength_ratio", 0, 10}, {"design_return_period_yr", 1, 1e6}, {"design_sa_g", 0, 20},
		{"drift_pct", 0, 1000}, {"floor_accel_g", 0, 100},
		{"base_shear_ratio", 0, 20}, {"immediate_occupancy_per_yr", 0, 365}, {"life_safety_per_yr", 0, 365},
		{"collapse_prevention_per_yr", 0, 365}, {"replaced_per_yr", 0, 365}, {"collapse_per_yr", 0, 365},
		{"fatalities_street_per_yr", 0, huge},
		{"annual_loss", 0, huge}, {"fatalities_per_yr", 0, huge}, {"best_cost_low", 0, huge},
		{"best_cost_likely", 0, huge}, {"best_cost_high", 0, huge},
		{"best_net_benefit", -huge, huge}, {"best_drift_pct", 0, 1000}, {"best_floor_accel_g", 0, 100},
	},
	"candidates": {
		{"score", -huge, huge}, {"net_benefit", -huge, huge}, {"benefit_present_value", -huge, huge},
		{"deaths_avoided", -huge, huge},
		{"cost_low", 0, huge}, {"cost_likely", 0, huge}, {"cost_high", 0, huge}, {"annual_loss_before", 0, huge},
		{"annual_loss_after", 0, huge},
		{"drift_before_pct", 0, 1000}, {"drift_after_pct", 0, 1000}, {"floor_accel_before_g", 0, 100},
		{"floor_accel_after_g", 0, 100},
		{"base_shear_before_ratio", 0, 20}, {"base_shear_after_ratio", 0, 20}, {"isolator_displacement_m", 0, 20},
		{"period_before_s", 0.01, 20},
		{"period_after_s", 0.01, 20}, {"disruption_weeks", 0, 1000}, {"lon", -180, 180}, {"lat", -90, 90},
	},
}

func numbersBounded(r *run, n *notes) error {
	return r.eachOf(n, ranked, func(w *row) {
		for _, b := range bounds[w.table()] {
			if v := w.float(b.column); v < b.low || v > b.high {
				n.wrong("%s: %s is %q", w.where(), b.column, w.text(b.column))
			}
		}
		// Candidates have no such columns. A comparison with a missing number is false.
		if w.float("life_safety_per_yr") > w.float("immediate_occupancy_per_yr") ||
			w.float("collapse_prevention_per_yr") > w.float("life_safety_per_yr") {
			n.wrong("%s: a graver limit state is exceeded more often than a lighter one", w.where())
		}
	})
}

// near reports whether a and b agree as well as numbers of six digits can that were computed from
// parts of the given size. A missing number agrees with every other.
func near(a, b, size float64) bool {
	return math.IsNaN(a) || math.IsNaN(b) || math.Abs(a-b) <= 2e-5*max(math.Abs(a), math.Abs(b), size)
}

func sumsRedone(r *run, n *notes) error {
	err := r.each(n, "candidates", func(w *row) {
		benefit, cost, net := w.float("benefit_present_value"), w.float("cost_likely"), w.float("net_benefit")
		if !near(net, benefit-cost, max(math.Abs(benefit), cost)) {
			n.wrong("%s: net benefit %g is not %g less %g", w.where(), net, benefit, cost)
		}
		if ratio := w.float("benefit_cost_ratio"); cost > 0 && !near(ratio, benefit/cost, 0) {
			n.wrong("%s: ratio %g is not %g over %g", w.where(), ratio, benefit, cost)
		}
		if w.float("cost_low") > cost || cost > w.float("cost_high") {
			n.wrong("%s: costs do not run from low to high", w.where())
		}
	})
	if err != nil {
		return err
	}
	return r.each(n, "buildings", func(w *row) {
		if w.float("best_cost_low") > w.float("best_cost_likely") ||
			w.float("best_cost_likely") > w.float("best_cost_high") {
			n.wrong("%s: costs do not run from low to high", w.where())
		}
	})
}

// bestAmongCandidates compares each row of buildings with the candidate of the same building that
// ranks first.
func bestAmongCandidates(r *run, n *notes) error {
	type candidate struct {
		measure                 string
		score, cost, net, drift float64
		short                   bool
	}
	first := map[string]candidate{}
	err := r.each(&notes{}, "candidates", func(w *row) {
		id := w.text("building_id")
		if w.text("costs_lives") == "true" { // never the best
			return
		}
		short := w.text("falls_short") == "true"
		if c, ok := first[id]; ok && c.short && !short { // only where no measure reaches the target
			delete(first, id)
		}
		if _, ok := first[id]; !ok {
			first[id] = candidate{w.text("measure"), w.float("score"), w.float("cost_likely"), w.float("net_benefit"),
				w.float("drift_after_pct"), short}
		}
	})
	if err != nil || !r.holds("candidates") {
		return err
	}
	return r.each(n, "buildings", func(w *row) {
		c, ok := first[w.text("building_id")]
		score := w.float("score")
		switch best := w.text("best_measure"); {
		case best == "":
			return
		case best == "none":
			if ok && c.score > score {
				n.wrong("%s: doing nothing is best with %g, but %s scores %g", w.where(), score, c.measure, c.score)
			}
		case !ok || c.score != score:
			n.wrong("%s: best is %s with %g, first of the candidates %q with %g", w.where(), best, score, c.measure,
				c.score)
		case c.measure == best && (c.cost != w.float("best_cost_likely") ||
			!same(c.net, w.float("best_net_benefit")) || !same(c.drift, w.float("best_drift_pct"))):
			n.wrong("%s: cost, benefit or drift of %s differ from the candidate's", w.where(), best)
		case c.measure != best && w.text("tied") != "true":
			n.wrong("%s: best is %s, first of the candidates %s", w.where(), best, c.measure)
		}
	})
}

// same reports whether a and b are equal or both missing.
func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func currencyOne(r *run, n *notes) error {
	return r.eachOf(n, ranked, func(w *row) {
		if c := w.text("currency"); c != r.manifest.Currency {
			n.wrong("%s is in %q, the manifest in %q", w.where(), c, r.manifest.Currency)
		}
	})
}
