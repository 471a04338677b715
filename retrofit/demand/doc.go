// Package demand estimates the seismic demand on a building, as it stands and with a measure,
// by spectral methods: modes, a displacement ratio for yielding, a closed formula that
// distributes the plastic part of the roof displacement over the storeys, reduced floor
// accelerations, and for isolation an equivalent linear solution. Package history runs
// nonlinear time histories of the same structures.
//
// SI units: m, s, kg, N, m/s2. Spectra come in g and are converted here. A call allocates
// nothing: a Work holds the scratch space of one goroutine.
//
// A call computes in this order: modes and their ordinates (ordinates.go), strength ratio and
// roof displacement (displacement.go), storey drifts (drift.go), floor accelerations and base
// shear (floors.go). A measure changes the input: damping (viscous.go, tunedmass.go), or
// stiffness and strength (yielding.go, strengthened.go). Isolation has its own way
// (isolator.go, balance.go, sliding.go, isolated.go, isolatedfloors.go, isolatedframe.go).
//
// Constants marked [fit] were tuned against nonlinear time histories of a shear stick model
// under artificial records. They are collected in one table, fit.go.
package demand
