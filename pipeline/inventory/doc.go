// Package inventory reads registers of buildings: it maps their columns and
// codes to ours, converts declared units, cleans by named rules, fills gaps by
// stated rules, grades the data, and turns every row it cannot use into a Reject
// with its reason, so that rows in = buildings out + rejects.
package inventory
