// Package source splits registers into rows: CSV, GeoJSON, GeoPackage, Parquet and
// GeoParquet, each behind the interface Source.
//
// The input is one file in one of the formats. Its first part says which columns it has.
// The result is Rows: the cells of the picked columns as text, the geometry of each row in
// degrees on WGS 84, and the line it stands on. Every row is counted once: it is among the
// lines, or it is Bad with its reason.
//
// A file that cannot be read as a whole is a fault.FileError. No count that stands in a
// file is believed before the bytes behind it are there, so that the memory does not grow
// with what a damaged file says of itself.
//
// The package does not know what the columns mean.
package source
