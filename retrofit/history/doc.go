// Package history runs nonlinear time histories of a stick model, as it stands and with a
// measure, to check a short list that was screened with package demand.
//
// A Model is built from the same stick and device as the spectral demand (model.go), so that
// both describe one structure. Its storeys are bilinear or stiffness-degrading springs
// (spring.go), with devices, dampers and P-delta in parallel. Work.Run integrates it through a
// record with one of two integrators (explicit.go, implicit.go), and again at half the step
// until the result is stable (run.go). It fills a Result with peaks, residual drifts and the
// energy balance (result.go). Work.Suite computes medians over a suite (statistics.go);
// Confirmer.Confirm compares them with the spectral values (confirm.go).
//
// SI units: m, s, kg, N, m/s2. Records come in g and are converted here. A Model is read only
// and may be shared. A Work is the scratch space of one goroutine; a step allocates nothing.
//
// The model is the same shear stick as in package demand: no torsion, no soil below it, no
// vertical shaking, no brittle member. Only the integration is better.
package history
