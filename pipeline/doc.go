// Package pipeline is a run from register to ranked files, and the one-page
// overview of how a building travels:
//
//	register row          pipeline/inventory: cleaned, filled, graded, or a reject
//	  -> hazard           hazard/field: spectra at its place and site class
//	  -> archetype        archetypes: period, strength, limits, weight, stick model
//	  -> as it stands     retrofit/demand at every return period
//	  -> each measure     retrofit: rules, size, demand, cost
//	  -> consequence      retrofit/consequence: annual loss before and after, benefit
//	  -> choice           pipeline/ranking: score, best measure, runner-up
//	  -> rows             pipeline/output, through sorters on disk, to files
//
// An Assessment is one building on this way; its Assess method is the way. The
// register is split by one goroutine, understood and assessed by many, and
// admitted (ids, duplicates) by one in the order of the file. Rows go into
// external merge sorters with unique keys, so that neither the order of work nor
// the number of workers can be seen in the files, and memory does not grow with
// the stock. Rows in = buildings out + rejected, or the run ends in an error.
package pipeline
