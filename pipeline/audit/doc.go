// Package audit checks the folder of a finished run again by named rules: that its files are whole
// and are those of the manifest, that counts add up, that ids join, that ranks are dense, that
// places are right, that formats agree, and that sums can be redone.
//
// It reads what was written and nothing else. It does not compute a building again. CSV is read by
// encoding/csv, and Parquet by github.com/parquet-go/parquet-go behind the checks of package sizes.
// Neither shares code with the writers. Vector tiles are decoded by the library that encoded them.
package audit
