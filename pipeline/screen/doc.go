// Package screen assesses every building of a register and writes the ranked tables, the
// maps and the report: all of them or none.
//
// Rows go into external merge sorters under unique keys. Neither the order of work nor the
// number of workers can be seen in the files, and memory does not grow with the stock. A
// large screening saves checkpoints, from which another process goes on. Where the plan
// asks for draws, a second pass over the register finds how certain each rank is.
//
// CheckRegister reads and cleans a register without assessing it. A Screener hands the rows
// of single buildings to outlets, for runs that are spread over machines.
package screen
