//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd || windows)

package fileset

import (
	"errors"
	"os"
)

// openAtOnce has no meaning here.
const openAtOnce = 0

// tryLock has no lock to take here.
func tryLock(*os.File, bool) (bool, error) { return false, errors.ErrUnsupported }

func SyncFolder(string) error { return nil }
