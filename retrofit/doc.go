// Package retrofit holds the measures a building can be given (isolation on
// lead-rubber bearings or sliders, viscous dampers, yielding devices, a tuned
// mass, strengthening, strengthening with dampers, or none), one file each:
// whether a measure is feasible, how it is sized, what demand it leaves and what
// it costs.
//
// Every measure goes the same way through a Case. Rules that need no design
// come first, and a bar among them ends it there. Then the measure sizes itself
// at the design level, reads the demand at every level, and the rules on the design are
// judged, each with its value, limit and source (rules.csv). What is left is an
// Outcome: verdict, findings, design, demand, cost and weeks of disruption.
//
// A measure never decides alone that a building is safe or fit for it: rules
// give verdicts with value, limit and source, and an engineer decides.
package retrofit
