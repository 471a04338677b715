//go:build !linux

package disk

import (
	"errors"
	"os"
)

// passCache is supported on Linux only.
func passCache(*os.File, bool) error { return errors.ErrUnsupported }
