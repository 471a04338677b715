// Package inventory reads registers of buildings.
//
// # Input
//
// A register is one file with a row for each building: CSV, XLSX, GeoJSON, GeoPackage,
// Parquet or GeoParquet. The section [inventory] of the plan says which column gives which Field, in
// which unit, and what the owner's words mean. A number without a declared unit is refused
// where two units are in common use. Nothing is mapped by guess.
//
// # Result
//
// Each row ends as a Building or as a Reject. A Building is in SI units, at a longitude and
// latitude on WGS 84. Each of its fields knows its Origin: given by the register, derived
// from given fields, or assumed. Rule says in words how the field got its value. A Grade
// from A to D says how much of the building rests on the register. A Report counts what the
// whole register has shown.
//
// # Rules
//
// A row takes these steps in this order:
//
//  1. Every cell is read by itself. A cell that cannot be read is noted and taken as missing.
//  2. An outline gives the place, the footprint, the length and the width where no cell does.
//  3. A row without an id, or at a place that cannot be trusted, is rejected.
//  4. The fields are held against each other: storeys against height, area against
//     footprint, years against each other. What cannot be is dropped; what is odd is flagged.
//     A form that no archetype pictures, such as a tower, rejects the row.
//  5. Gaps are filled: from other fields of the row, from like buildings of the register
//     where the plan says so, from [inventory.assume], by the table of uses. Before the
//     last, people and period are held against the size, and dropped if they cannot be.
//  6. A row without a system, storeys or floor area is rejected.
//  7. The site class is derived where the register gives none, and the row is graded.
//  8. An id that was used before rejects the row. A place or building met before is flagged.
//
// Every step notes what it did under a Rule, whose line in the table has what was found,
// what to do, and the best grade a building may still have.
//
// # Errors
//
// What keeps the whole register from being read is a fault.FileError, or several joined.
// What keeps one row from being used is a Reject. Both name the file, the line, the column
// and the value, say what is wrong and what to do, and show an owner's text harmless. Bad
// data never panics.
//
// # Conservation
//
// Rows in are buildings and rejects out: Tally.Check holds them against each other. Where
// one cell lists several parts of a building, each part is a row. The same register gives
// the same buildings, in the order of its rows, for any size of batches and any number of
// goroutines.
//
// # Rooms
//
// This package has the vocabulary (Field, Rule, Origin), the row on its way through the
// steps, and the report. Five packages below it do what needs no vocabulary, and know
// nothing of it: source splits files into rows, cell reads cells, outline measures
// outlines and the gaps between them, impute answers from like buildings, seen remembers
// ids and places. What they say of a whole register is a value of package fault.
package inventory
