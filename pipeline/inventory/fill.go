package inventory

import (
	"math"

	"plinth/retrofit"
)

// fill gives values to fields that have none. Its rules, in this order, take them
//
//	from other fields of the row
//	from like buildings of the register, if the plan says so
//	from [inventory.assume] of the plan
//	from other fields of the row again
//	from the table of uses and the plan's value per area
func (w *row) fill() {
	w.deriveAll()
	if w.r.stock != nil {
		w.fromStock(w.r.stock.alike)
	}
	a := &w.m.assume
	for f := range Field(NumFields) {
		if a.set[f] && !w.known(f) && f != StoreysTotal {
			w.num[f], w.word[f] = a.num[f], a.word[f]
			w.set(f, Assumed, byPlan)
		}
	}
	w.deriveAll()
	w.believe()
	w.byUse()
}

// deriveAll computes fields from other fields of the row:
//
//	footprint  = length width
//	width      = footprint/length
//	storeys    = round(height/storey height of the use), at least 1
//	height     = storeys (storey height of the use)
//	floor area = footprint storeys
//	footprint  = floor area/storeys
//	isolation plane: yes, if there are storeys below ground
func (w *row) deriveAll() {
	if w.known(Length) && w.known(Width) {
		w.derive(Footprint, w.num[Length]*w.num[Width], byLengthWidth, Length, Width)
	}
	if w.known(Footprint) && w.known(Length) {
		w.derive(Width, w.num[Footprint]/w.num[Length], byFootprintLength, Footprint, Length)
	}
	storey := w.usage().storey
	if w.known(Height) {
		w.derive(Storeys, math.Max(1, math.Round(w.num[Height]/storey)), byHeight, Height)
	}
	if !w.known(Storeys) {
		return
	}
	w.derive(Height, w.num[Storeys]*storey, byStoreys, Storeys)
	if w.known(Footprint) {
		w.derive(FloorArea, w.num[Footprint]*w.num[Storeys], byFootprintStoreys, Footprint, Storeys)
	}
	if w.known(FloorArea) {
		w.derive(Footprint, w.num[FloorArea]/w.num[Storeys], byAreaStoreys, FloorArea, Storeys)
	}
	if w.known(StoreysBelow) && w.num[StoreysBelow] > 0 && !w.known(Plane) {
		w.word[Plane] = uint8(retrofit.Yes)
		w.set(Plane, w.origin[StoreysBelow].through(), byBelow)
	}
}

// derive sets a field that has no value. Its origin is derived, or assumed if a field that it comes
// from is assumed.
func (w *row) derive(f Field, x float64, way Way, from ...Field) {
	if w.known(f) || math.IsNaN(x) {
		return
	}
	w.num[f] = x
	o := Derived
	for _, g := range from {
		o = max(o, w.origin[g].through())
	}
	w.set(f, o, way)
}

// through returns the origin of a value that is computed from a value of origin o.
func (o Origin) through() Origin { return max(o, Derived) }

// byUse fills occupants and contents from the table of uses, and the value from the plan's value per
// area and the ratio of the use. It takes an unknown profile for regular.
func (w *row) byUse() {
	u := w.usage()
	w.people(OccupantsDay, u.day)
	w.people(OccupantsNight, u.night)
	if !w.known(Contents) {
		w.word[Contents] = uint8(u.contents)
		w.set(Contents, Assumed, byUseTable)
	}
	if v := w.valuePerArea(); v > 0 && !w.known(Value) && w.known(FloorArea) {
		w.num[Value] = v * w.num[FloorArea]
		w.set(Value, Assumed, byValuePerArea)
	}
	if !w.known(Profile) {
		w.set(Profile, Assumed, byNothing) // the zero value is regular
	}
}

// valuePerArea returns the usual value a m2 of the use, plan currency; 0 where the plan has none.
func (w *row) valuePerArea() float64 {
	v := w.r.opt.ValuePerArea
	if ratio := w.r.opt.ValueRatio; ratio != nil {
		v *= ratio(Use(w.word[UseField]))
	}
	return v
}

// people fills a number of occupants from floor area and area a person.
func (w *row) people(f Field, perPerson float64) {
	if w.known(f) || !w.known(FloorArea) {
		return
	}
	w.num[f] = 0
	if perPerson > 0 {
		w.num[f] = w.num[FloorArea] / perPerson
	}
	w.set(f, Assumed, byUseTable)
}

// complete rejects a row in which a required field is still empty.
func (w *row) complete() bool {
	switch {
	case !w.known(System):
		return w.reject(MissingSystem, System, "")
	case !w.known(Storeys):
		return w.reject(MissingStoreys, Storeys, "")
	case !w.known(FloorArea):
		return w.reject(MissingFloorArea, FloorArea, "")
	}
	return true
}
