// Package pipeline holds the overview of a run from register to ranked files, and the
// tests of whole runs. The code is in its rooms:
//
//	assess    one building: a Study is a plan made ready, an Assessment one building in it
//	assessed  what a screening leaves of every building, for budget and inspect
//	screen    a stock: every building of a register, ranked, into files
//	confirm   the first buildings of a screening under time histories
//	budget    what a budget buys, and when
//	inspect   which unknown fields are worth a visit
//	sheet     the calculation sheet of one building
//
// A building travels through package assess:
//
//	register row          pipeline/inventory: cleaned, filled, graded, or a reject
//	  -> hazard           hazard/field: spectra at its place and site class
//	  -> archetype        archetypes: period, strength, limits, weight, stick model
//	  -> as it stands     retrofit/demand at every return period
//	  -> each measure     retrofit: rules, size, demand, cost
//	  -> consequence      retrofit/consequence: annual loss before and after, benefit
//	  -> choice           pipeline/ranking: score, best measure, runner-up
//	  -> rows             pipeline/screen and pipeline/output, through pipeline/extsort, to files
//	  -> digest           pipeline/assessed: where draws of ranks, budget and inspect start from
//
// The rooms import assess, and assess imports none of them; DEVELOPERS.md has the picture.
// Rows in = buildings out + rejected, or the run ends in an error.
package pipeline
