// Package hazard describes the ground shaking at a site: elastic response spectra, the
// standards that define them, damping reduction, site classes, and the arithmetic of return
// periods, hazard curves and risk.
//
// Spectrum is the one type for all response spectra, and every standard fills one in place:
// ASCE7 with TwoPeriod, ASCE41, Eurocode8Parameters, NTC2018Site, NZS1170Site, JapanBedrock. A
// Reduction converts a Spectrum to another damping, and Site.ExtendPowerLaw to other return
// periods. A result that is extrapolated, assumed or incomplete carries a Status.
//
// Spectral accelerations are in g, periods in s, annual frequencies in 1/yr and
// damping is a fraction of critical. Values by location live in hazard/field.
package hazard
