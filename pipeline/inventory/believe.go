package inventory

import (
	"fmt"
	"math"

	"plinth/archetypes"
	"plinth/hazard"
)

// Bounds of a value, given other values of its building. A value outside them is dropped, and the
// rules of filling give another. A value that is only odd is kept. Both cap the grade.
const (
	// Ten times the mean cost of a square metre is a slip of unit in nearly every
	// case; the dearest uses cost three to five times the cheapest (judgement).
	valueFactor = 10
	// Thousands beside single units: the cube root of 1000, which brings values
	// over areas in any currency into a histogram.
	valueStep = 10
	// m2 a person: 5 ft2 of net floor, standing, is the densest occupancy of the
	// International Building Code, Table 1004.5 (from memory), rounded up.
	densest = 0.5
	// Off the median of the regressions of the table of systems: Goel and Chopra
	// (1997) for moment frames, whose bounds of one standard deviation are 1.2 to
	// 1.3 off it. Small amplitudes shorten the period to a half or a third
	// (common practice, no source).
	periodFactor = 5
	// Least of ASCE 7-16 Eq. 12.8-5, 0.01, times the least overstrength of a
	// system that stands, 1.5 (judgement); most: about twice the largest strength
	// in the table of systems (judgement).
	leastStrength, mostStrength = 0.015, 1.5
	// Length times width over footprint, either way: an L or a ring reaches 2 to 3
	// (judgement).
	planFactor = 3.0
)

// believe checks money, people, period and strength against the size of the building. It runs after
// the filling from the register and before the filling by tables, so that what it drops is filled.
func (w *row) believe() {
	if o := w.origin[FloorArea]; o == Given || o == Derived {
		w.valueFits()
		w.peopleFit(OccupantsDay)
		w.peopleFit(OccupantsNight)
	}
	w.periodFits()
}

// valueFits compares the value per floor area with that of the plan.
func (w *row) valueFits() {
	if w.origin[Value] != Given {
		return
	}
	rate := w.num[Value] / w.num[FloorArea]
	w.b.values.add(math.Cbrt(rate))
	usual := w.valuePerArea()
	if usual > 0 && (rate > valueFactor*usual || rate < usual/valueFactor) {
		w.noteField(ValuePerArea, Value, fmt.Sprintf("kept: %.4g a m2 beside %.4g", rate, usual))
	}
}

// peopleFit drops more people than could stand on the floor.
func (w *row) peopleFit(f Field) {
	if w.known(f) && w.num[f]*densest > w.num[FloorArea] {
		w.noteField(Crowded, f, "")
		w.drop(f)
	}
}

// periodFits drops a period that no building of the system and height has:
//
//	T/5 <= period <= 5 T, T = sqrt(Tl(H) Tu(H))
//
// with the bounds Tl and Tu of the system (archetypes.SystemTraits.Range).
func (w *row) periodFits() {
	if !w.known(Period) || !w.known(Height) || !w.known(System) {
		return
	}
	lower, upper := archetypes.Default().Traits(archetypes.System(w.word[System])).Range(w.num[Height])
	ratio := w.num[Period] / math.Sqrt(lower*upper)
	if ratio > periodFactor || ratio < 1.0/periodFactor {
		w.noteField(PeriodHeight, Period, "")
		w.drop(Period)
	}
}

// strengthFits drops a strength over weight that no building has.
func (w *row) strengthFits() {
	if x := w.num[StrengthRatio]; w.known(StrengthRatio) && (x > mostStrength || x < leastStrength) {
		w.noteField(StrengthRange, StrengthRatio, "")
		w.drop(StrengthRatio)
	}
}

// planFits puts the longer side first and compares the sides with the footprint. Sides that were
// measured on an outline are those of its rectangle, and are not compared.
func (w *row) planFits() {
	if w.origin[Length] != Given || w.origin[Width] != Given {
		return
	}
	if w.num[Width] > w.num[Length] {
		used := fmt.Sprintf("length %.4g m, width %.4g m", w.num[Width], w.num[Length])
		w.noteField(SidesExchanged, Width, used)
		w.num[Length], w.num[Width] = w.num[Width], w.num[Length]
	}
	if !w.known(Footprint) {
		return
	}
	if ratio := w.num[Length] * w.num[Width] / w.num[Footprint]; ratio > planFactor || ratio < 1/planFactor {
		w.noteField(PlanArea, Length, "")
	}
}

// groundFits compares the site class with the shear wave velocity.
func (w *row) groundFits() {
	c := hazard.SiteClass(w.word[SiteClass])
	if w.known(SiteClass) && w.known(Vs30) && w.r.opt.Soil.Contradicts(c, w.num[Vs30]) {
		would, _ := w.r.opt.Soil.Class(w.num[Vs30])
		said := fmt.Sprintf("kept: %.4g m/s is %s by %s", w.num[Vs30], would, w.r.opt.Soil)
		w.noteField(ClassVelocity, SiteClass, said)
	}
}
