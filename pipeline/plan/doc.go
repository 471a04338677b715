// Package plan reads the plan of a run: one TOML file that says which register
// to read and how, which hazard, which measures, what to rank by and where to
// write. It is strict: an unknown key, a wrong type or an impossible value is a
// Problem with its line, its column and what to write instead, and all problems
// of a plan are reported at once.
package plan
