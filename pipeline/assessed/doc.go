// Package assessed keeps what a screening found of every building, so that the programme of a
// budget and the worth of knowing read and assess nothing again.
//
// A screening leaves a folder of that name beside its tables: a file of digests, one record a
// building in the order of rank, and a manifest with the plan, the inputs and the program that
// made them. Open holds all three against the study at hand and refuses a folder of another.
// Each and Share go through the digests with one in memory for each goroutine.
package assessed
