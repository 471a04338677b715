//go:build !unix

package commands

// peakMemory is not known on this system.
func peakMemory() int64 { return 0 }
