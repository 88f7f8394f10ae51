package fileset

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// openAtOnce is not needed: pipes do not stand in folders.
const openAtOnce = 0

// tryLock locks an open file for one process alone, or shared by readers. It
// does not wait: false means that another has it. The lock goes when the file
// is closed, however the process ends.
//
// Windows keeps others from reading and writing what is locked, so that a byte
// far behind any account's end stands for the file.
func tryLock(f *os.File, shared bool) (bool, error) {
	how := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if !shared {
		how |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	err := windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, &windows.Overlapped{OffsetHigh: 1 << 30})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return false, nil
	}
	return err == nil, err
}

// SyncFolder has nothing to do: Windows keeps names by itself.
func SyncFolder(string) error { return nil }
