// Package plan reads the plan of a run: one TOML file that names the register, the hazard, the
// measures, what the rank serves, and the folder of the results.
//
// Input. A file of at most 4 MB. The keys are the fields of Plan and of the structs in it; struct
// tags give each key its name, unit, bounds and choices, and the comment above the field explains
// it in docs/plan.md. The tables of measures come from package retrofit, the formats of results
// from package output.
//
// Result. A Plan in which every key that the file leaves out has its default, and every path is
// relative to the folder of the file. Effective returns all keys as a tree for the manifest.
//
// Rules:
//   - An unknown key, a value of the wrong kind, or a number out of its bounds is an error. No
//     number is without bounds.
//   - Nothing is guessed: the owner must say whether the spectra hold for rock or soil, and
//     which columns hold the id and the place.
//
// Errors. Parse returns Problems, all of a plan at once in the order of the file. Each Problem has
// the line, the column, the key, the value, the rule and what to write instead.
package plan
