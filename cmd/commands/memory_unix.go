//go:build unix

package commands

import (
	"runtime"
	"syscall"
)

// peakMemory returns the largest memory of the process so far in bytes, and 0 if the system does
// not say.
func peakMemory() int64 {
	var use syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &use) != nil {
		return 0
	}
	if runtime.GOOS == "darwin" || runtime.GOOS == "ios" { // bytes there, kilobytes elsewhere
		return int64(use.Maxrss)
	}
	return int64(use.Maxrss) << 10
}
