// Package audit checks a finished run's folder again by named rules: that its
// files are whole and are those of the manifest, that counts add up, ids join,
// ranks are dense, places are right, formats agree and sums can be redone.
//
// It reads what was written and nothing else; it does not compute a building
// again. CSV is read by encoding/csv and Parquet by github.com/parquet-go/
// parquet-go behind the checks of package sizes, which share no code with the writers;
// vector tiles are decoded by the library that encoded them.
package audit
