package audit

import "math"

// areasAddUp adds up the buildings anew: each area holds those that name it, with their annual loss, and
// all areas hold all buildings. What is joined in one row names no area.
func areasAddUp(r *run, n *notes) error {
	if !r.has("areas.csv") && !r.has("areas.parquet") {
		return nil
	}
	counts, losses, total := map[string]float64{}, map[string]float64{}, 0.0
	err := r.each(&notes{}, "buildings", func(w *row) {
		area := w.text("area")
		counts[area]++
		if loss := w.float("annual_loss"); !math.IsNaN(loss) {
			losses[area] += loss
		}
		total++
	})
	if err != nil {
		return err
	}
	sum := 0.0
	err = r.each(n, "areas", func(w *row) {
		sum += w.float("buildings")
		if name := w.text("area"); w.text("kind") != "joined" {
			loss := w.float("annual_loss")
			if w.float("buildings") != counts[name] {
				n.wrong("%s holds %s buildings, and %g name it", w.where(), w.text("buildings"), counts[name])
			}
			if math.Abs(loss-losses[name]) > 1e-5*losses[name] { // each has six digits
				n.wrong("%s has an annual loss of %s, and its buildings %g", w.where(), w.text("annual_loss"),
					losses[name])
			}
		}
	})
	if err == nil && sum != total {
		n.wrong("the areas hold %g buildings of %g", sum, total)
	}
	return err
}
