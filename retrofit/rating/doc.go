// Package rating places a building on published scales of standards and decrees: the limit
// states of ASCE 41, a percentage of new-building demand as in New Zealand, the class of
// Italy's DM 58/2017 and the seismic index of Japan. The functions are pure. Bounds, effective
// dates and sources are in scales.csv.
//
// Every rating is a screening estimate, not an assessment by the rule: each of the rules
// requires a qualified assessor, drawings and a visit.
package rating
