//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package fileset

import (
	"errors"
	"os"
	"syscall"
)

// openAtOnce keeps opening a pipe from waiting for its other end.
const openAtOnce = syscall.O_NONBLOCK

// tryLock locks an open file for one process alone, or shared by readers. It
// does not wait: false means that another has it. The lock goes when the file
// is closed, however the process ends.
func tryLock(f *os.File, shared bool) (bool, error) {
	how := syscall.LOCK_EX
	if shared {
		how = syscall.LOCK_SH
	}
	for {
		err := syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, syscall.EWOULDBLOCK):
			return false, nil
		case !errors.Is(err, syscall.EINTR):
			return false, err
		}
	}
}

// SyncFolder makes a new file's name survive a power cut.
func SyncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
