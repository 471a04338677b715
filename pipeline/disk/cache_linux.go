package disk

import (
	"os"
	"syscall"
)

// passCache makes writes to f bypass the system's cache, or not.
func passCache(f *os.File, pass bool) error {
	raw, err := f.SyscallConn()
	if err != nil {
		return err
	}
	var failed syscall.Errno
	err = raw.Control(func(fd uintptr) {
		var flags uintptr
		if flags, _, failed = syscall.Syscall(syscall.SYS_FCNTL, fd, syscall.F_GETFL, 0); failed != 0 {
			return
		}
		flags &^= syscall.O_DIRECT
		if pass {
			flags |= syscall.O_DIRECT
		}
		_, _, failed = syscall.Syscall(syscall.SYS_FCNTL, fd, syscall.F_SETFL, flags)
	})
	if err == nil && failed != 0 {
		err = failed
	}
	return err
}
