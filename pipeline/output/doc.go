// Package output writes what a run found: tables of rows as CSV and Parquet, a
// manifest, and a summary for the terminal.
//
// Each kind of row (Candidate, Building, Verdict, Reject) is described once, in
// a Table of Columns. From that one table come the CSV header and cells, the CSV
// description file, the Parquet schema and values, the binary row used for
// sorting on disk, and docs/data-dictionary.md.
//
// A number is rounded once, to the column's significant digits, and the same
// rounded number goes to every format, so that a Parquet file and a CSV file of
// one table are equal value for value.
//
// Rows go to files through a Set: files are written aside and appear together
// when the set is committed, or not at all.
package output
