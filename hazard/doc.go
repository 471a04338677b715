// Package hazard holds what a site can be shaken with: elastic response
// spectra, the standards that define them, damping reduction, site classes and
// the arithmetic of return periods.
//
// Spectral accelerations are in g, periods in s, annual frequencies in 1/yr and
// damping is a fraction of critical. Values by location live in hazard/field.
package hazard
