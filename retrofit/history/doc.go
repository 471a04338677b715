// Package history runs nonlinear time histories of a stick model, as it stands and
// with a measure: the check of a short list that package demand has screened.
//
// A Model is built from the same stick and the same device as the spectral demand
// (model.go), so that both describe one structure. Its storeys are bilinear or
// stiffness-degrading springs (spring.go) with devices, dampers and P-delta beside
// them. Work.Run takes it through a record by one of two integrators (explicit.go,
// implicit.go), again at half the step until nothing changes (run.go), and fills a
// Result with peaks, residual drifts and where the energy went (result.go).
// Work.Suite makes medians of a suite (statistics.go); Confirmer.Confirm puts them
// beside the spectral values (confirm.go).
//
// SI units: m, s, kg, N, m/s2. Records come in g and are converted here. A Model is
// read only and may be shared; a Work is the scratch space of one goroutine, and
// nothing is allocated per step.
//
// It is the same shear stick as in package demand, better integrated: no torsion,
// no soft ground under it, no vertical shaking, no brittle member.
package history
