// Package assess takes one building from its register row to the choice of a measure.
//
// Open makes a plan ready and returns a Study: its hazard, tables, measures and objective
// are read and checked, and do not change from then on. NewAssessment returns the scratch
// space of one goroutine; its Assess method takes a building through every stage and
// allocates nothing. Flow does that for a whole register: one goroutine splits it, many
// parse and assess, and one admits buildings (ids, duplicates) in the order of the file.
//
// A Study also knows the files it reads, whether they changed since it was opened, and the
// output folder; what is written there is the task of the packages that import this one.
package assess
