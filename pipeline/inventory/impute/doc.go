// Package impute fills the gaps of a register from its own buildings.
//
// A Survey counts what the buildings of a register give. Its Stock answers for a building
// with a gap: the lower median, or the most frequent system, of the buildings that are
// alike. The narrowest circle of at least five of them answers: those of the same group,
// then of the same use, then of the same era, then all.
//
// Counts are of whole numbers, so that no order of rows changes an answer. The memory grows
// with groups and different values, not with rows.
package impute
