// Package fidelity measures the agreement of spectral demand with time histories over a stated
// grid of buildings, grounds, intensities and measures, and writes the tables of
// docs/fidelity.md. It is run by hand (make fidelity) after a change of a constant or a method,
// and on a small grid by its tests.
//
// There are two grids. Constants may be tuned on Fit. Validation shares no building, ground or
// record with it and judges the result.
package fidelity
