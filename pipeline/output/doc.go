// Package output writes the results of a run: tables as CSV and Parquet, maps, a manifest, and a
// summary for the terminal.
//
// Input. Each kind of row (Candidate, Building, Verdict, Rule, Reject, Confirmed, Work, Inspection)
// is described once, by a Table of Columns. The CSV header and cells, the CSV description file, the
// Parquet schema and values, the binary row that is sorted on disk, and docs/data-dictionary.md all
// come from that one description. A Sheet takes the rows of one table and writes them to a file of
// each format that was asked for. The formats are listed in format.go.
//
// Result. Files go through a Set. They are written to a working folder and appear together when the
// Set is committed, the manifest last. A folder with a manifest therefore holds a whole run.
//
// Rules:
//   - A number is rounded once, to the significant digits of its column, and every format gets
//     the same rounded number.
//   - A missing value is an empty cell in CSV and a null elsewhere. Zero is a value.
//   - A text that a spreadsheet would run as a formula has a single quote in front in CSV, and
//     in no other format.
//   - Equal runs write equal bytes: no file holds a time, the name of a machine, or an order
//     that goroutines decided.
//   - A file that the run reads, or that no run wrote, is never written over or removed.
//   - Every file that can hold the Caution holds it.
//
// Errors. A *FolderError says that the folder holds another run or is in use, and what to do. A
// *KeepError names a file that must not be replaced. A *CellError and ErrUnbalanced are mistakes of
// the program: a required value is missing, or rows were lost. After any error the folder holds the
// earlier run, or no manifest.
package output
