// Package fault tells an owner or the writer of a plan what is wrong with a register as a
// whole, and which word may have been meant in place of one that is not known.
//
// Whatever an owner wrote is shown harmless: nothing of it moves a terminal, and long
// texts are cut.
package fault
