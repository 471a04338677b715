// Package retrofit holds the measures a building can be given (isolation on
// lead-rubber bearings or sliders, viscous dampers, yielding devices, a tuned
// mass, strengthening), one file each: whether a measure is feasible, how it is
// sized, what demand it leaves and what it costs.
//
// A measure never decides alone that a building is safe or fit for it: rules
// give verdicts with value, limit and source, and an engineer decides.
package retrofit
