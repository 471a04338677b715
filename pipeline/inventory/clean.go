package inventory

import (
	"fmt"
	"math"
	"strconv"
)

// Limits of the cross-checks. The normal band of storey height is common
// practice, no source; the others are judgement.
const (
	lowStorey   = 2.4  // m, least normal height of a storey
	highStorey  = 6.0  // m, greatest normal height of a storey
	towerStorey = 12.0 // m, above it the building is not one of storeys
	mostBelow   = 3    // storeys below ground that a height may explain
	areaFactor  = 3.0  // floor area over footprint times storeys, either way
)

// cleaned compares the fields of a row with each other. It rejects a row that no archetype fits, drops
// a value that cannot be right, and flags one that is odd.
func (w *row) cleaned() bool {
	if w.gone != 0 {
		return w.reject(NotStanding, w.gone, "")
	}
	if w.unread != 0 {
		return w.reject(UnreadStoreys, w.unread, "")
	}
	switch usages[w.word[UseField]].special {
	case setAside:
		return w.reject(SetAside, UseField, Use(w.word[UseField]).String())
	case loose:
		w.noteField(SpecialForm, UseField, "")
	}
	w.splitStoreys()
	if !w.heightFits() {
		return false
	}
	w.areaFits()
	w.yearsFit()
	w.planFits()
	w.strengthFits()
	w.groundFits()
	return true
}

// splitStoreys divides a number of storeys that counts those above and below ground together. It uses
// the number below ground if the register has it, else the height.
//
//	above = total - below
//	above = total                     if height >= 2.4 m total, or no height
//	above = round(height/storey)      if that leaves 1 to 3 below
//
// Every other case means that the height is doubtful. heightFits deals with it.
func (w *row) splitStoreys() {
	if !w.known(StoreysTotal) || w.known(Storeys) && w.known(StoreysBelow) {
		return
	}
	total := w.num[StoreysTotal]
	switch {
	case w.known(Storeys):
		if below := total - w.num[Storeys]; below >= 0 && below <= StoreysBelow.Spec().Max {
			w.derive(StoreysBelow, below, byTotal, Storeys, StoreysTotal)
		}
		return
	case w.known(StoreysBelow) && total > w.num[StoreysBelow]:
		w.derive(Storeys, total-w.num[StoreysBelow], byTotal, StoreysTotal, StoreysBelow)
		return
	}
	above := total
	if w.known(Height) && w.num[Height] < lowStorey*total {
		k := math.Max(1, math.Round(w.num[Height]/w.usage().storey))
		if below := total - k; below >= 1 && below <= mostBelow {
			above = k
			w.derive(StoreysBelow, below, byTotalHeight, StoreysTotal, Height)
		}
	}
	w.derive(Storeys, above, byTotalHeight, StoreysTotal)
	w.noteField(StoreysSplit, StoreysTotal, strconv.Itoa(int(above))+" above ground")
}

// heightFits compares the height with the storeys.
func (w *row) heightFits() bool {
	if !w.known(Height) || !w.known(Storeys) {
		return true
	}
	storey := w.num[Height] / w.num[Storeys]
	w.b.heights.add(storey)
	switch {
	case storey > towerStorey:
		return w.reject(TowerForm, Height, fmt.Sprintf("%g storeys, %.4g m", w.num[Storeys], w.num[Height]))
	case storey > highStorey:
		w.noteField(TallStoreys, Height, "")
	case storey < lowStorey:
		w.noteField(HeightStoreys, Height, "")
		w.drop(Height)
	}
	return true
}

// areaFits compares the floor area with footprint and storeys.
func (w *row) areaFits() {
	if !w.known(FloorArea) || !w.known(Footprint) || !w.known(Storeys) {
		return
	}
	all := w.num[Footprint] * (w.num[Storeys] + math.Max(0, float64(w.count(StoreysBelow, 0))))
	ratio := w.num[FloorArea] / all
	w.b.areas.add(areaScale * ratio)
	if ratio > areaFactor || ratio < 1/areaFactor {
		w.noteField(AreaStoreys, FloorArea, "")
	}
}

// yearsFit drops a year in the future, and a strengthening before the building was built.
func (w *row) yearsFit() {
	for _, f := range [...]Field{Year, YearStrengthened} {
		if w.known(f) && w.r.opt.LatestYear > 0 && w.num[f] > float64(w.r.opt.LatestYear) {
			w.noteField(FutureYear, f, "")
			w.drop(f)
		}
	}
	if w.known(Year) && w.known(YearStrengthened) && w.num[YearStrengthened] < w.num[Year] {
		w.noteField(YearOrder, YearStrengthened, "")
		w.drop(YearStrengthened)
	}
}

func (w *row) usage() *usage { return &usages[w.word[UseField]] }
