// Package demand estimates what shaking does to a building, as it stands and
// with a measure, by spectral methods: modes, a displacement ratio for yielding,
// a storey drift shape from a pushover, reduced floor accelerations, and for
// isolation an equivalent linear solution. Nonlinear time histories are the
// business of retrofit/history.
//
// SI units: m, s, kg, N, m/s2. Spectra come in g and are converted here. Nothing
// is allocated per call: a Work holds the scratch space of one goroutine.
//
// A call goes one way: modes and their ordinates (ordinates.go), strength ratio and
// roof displacement (displacement.go), storey drifts (drift.go), floor accelerations
// and base shear (floors.go). A measure changes what goes in: damping (viscous.go,
// tunedmass.go), stiffness and strength (yielding.go, strengthened.go). Isolation
// is a way of its own (isolator.go, balance.go, isolated.go, isolatedfloors.go).
//
// Constants marked [fit] were tuned against nonlinear time histories of a shear
// stick model under artificial records; they stand in one table, fit.go.
package demand
