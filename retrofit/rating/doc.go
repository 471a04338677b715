// Package rating places a building on scales that standards and decrees publish:
// the limit states of ASCE 41, a percentage of new-building demand as in New
// Zealand, the class of Italy's DM 58/2017 and the seismic index of Japan. The
// functions are pure; bounds, effective dates and sources are in scales.csv.
//
// Every rating is a screening estimate, not an assessment by the rule: each of the
// rules asks a qualified assessor, drawings and a visit.
package rating
