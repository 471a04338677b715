// Package field gives the hazard at a place: it reads values by location from a
// file and fills a hazard.Site for any longitude and latitude within them.
//
// Every source is a Field. It is constructed with the return periods of the run and
// interpolates the values of each node at those levels once, so that a lookup only weights a
// few nodes:
//
//	between return periods  ln(Sa) linear in ln(annual frequency)
//	between periods         ln(Sa) linear in ln(T), by hazard.Spectrum
//	between nodes           bilinear, inverse distance or containment, in ln(Sa)
//
// Nothing is extrapolated silently: Site.Status flags a level outside the source's return
// periods and a value read from the nearest node, and a place outside the coverage is an
// OutsideError.
//
// Longitudes and latitudes are degrees on WGS 84 (EPSG:4326, OGC:CRS84),
// longitude first. Accelerations are in g once read.
package field
