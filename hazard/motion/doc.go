// Package motion makes and reads ground motion records for time histories: artificial suites
// that match a site spectrum, records of the user scaled or matched to it, their elastic
// response spectra, and measures of the quality of a suite.
//
// Accelerations are in g, times in s, displacements in m. A record is made once for the shape
// of a spectrum and scaled to its level.
//
// A suite is made in these steps. An Envelope and a seed give noise (synthesis.go), which is
// matched to a target in the frequency domain and brought to rest (baseline.go). An exact
// recurrence gives its response (oscillator.go). Assess measures how well it fits and how long
// it shakes (assess.go). Library keeps suites by the shape of their spectrum. ReadRecord reads
// a user's record; Fit scales or matches it.
package motion
