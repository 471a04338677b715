// Package measured holds the program against what was measured: buildings with their
// foot motion, observed damage, element tests and printed design forces, all of
// testdata/measured. It writes docs/measured.md and the line about it in the report and
// in docs/limits.md.
//
// Read reads the folder, Compare takes every case through the program by the ordinary
// way (a register row, a plan, an assessment), and the Comparison writes the page. No
// number of the folder enters a constant of the program, and nothing here is tuned.
package measured
