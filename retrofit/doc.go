// Package retrofit holds the measures for a building, one file each: isolation on lead-rubber
// bearings or sliders, viscous dampers, yielding devices, a tuned mass, strengthening, two
// combinations with strengthening, or none. A measure determines its feasibility, its size, the
// demand that remains, and its cost.
//
// Every measure takes the same steps through a Case. First come the rules that need no design;
// a bar among them ends the evaluation. Then the measure sizes itself at the design level,
// computes the demand at every level, and applies the rules on the design, each with its value,
// limit and source (rules.csv). The result is an Outcome: verdict, findings, design, demand,
// cost and weeks of disruption.
//
// A measure never decides that a building is safe: rules give verdicts with value, limit and
// source, and an engineer decides.
package retrofit
