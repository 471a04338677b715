// Package budget chooses what to do with the money of a plan: one measure or none for each
// building, and the year of its works, under the terms of the owner. It writes the programme
// and the frontiers of spend against each benefit.
package budget
