// Package motion makes and reads ground motion records for time histories:
// artificial suites that match a site spectrum, records of the user scaled or
// matched to it, the elastic response spectra of both, and what a suite is worth.
//
// Accelerations are in g, times in s, displacements in m. A record is made once
// for the shape of a spectrum and scaled to its level.
//
// The way of a suite: an Envelope and a seed give noise (synthesis.go), which is
// matched to a target in the frequency domain and brought to rest (baseline.go);
// its response is read by an exact recurrence (oscillator.go); Assess says how
// well it fits and how long it shakes (assess.go). Library keeps suites by the
// shape of their spectrum. ReadRecord reads a user's record, Fit scales or matches
// it.
package motion
