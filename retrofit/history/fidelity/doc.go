// Package fidelity measures how well spectral demand agrees with time histories,
// over a stated grid of buildings, grounds, intensities and measures, and writes the
// tables of docs/fidelity.md. It is run by hand (make fidelity) when a constant or a
// method has changed, and in small by its tests.
//
// There are two grids. On Fit constants may be tuned; Validation shares no
// building, ground or record with it and says what they are worth.
package fidelity
