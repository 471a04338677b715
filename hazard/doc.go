// Package hazard holds what a site can be shaken with: elastic response
// spectra, the standards that define them, damping reduction, site classes and
// the arithmetic of return periods, hazard curves and risk.
//
// A Spectrum is one type for all of them, and every standard fills one in place:
// ASCE7 with TwoPeriod, ASCE41, Eurocode8Parameters, NTC2018Site, NZS1170Site,
// JapanBedrock. A Reduction takes it to another damping, and
// Site.ExtendPowerLaw to other return periods. What cannot be taken at its word
// carries a Status.
//
// Spectral accelerations are in g, periods in s, annual frequencies in 1/yr and
// damping is a fraction of critical. Values by location live in hazard/field.
package hazard
