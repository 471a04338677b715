//go:build !linux

package disk

import (
	"errors"
	"os"
)

// passCache is for Linux.
func passCache(*os.File, bool) error { return errors.ErrUnsupported }
