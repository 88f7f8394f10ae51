package fileset

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"
)

// How long to wait for another's lock, and how often to look: a line is written
// within milliseconds.
const (
	lockPatience = 20 * time.Second
	lockPause    = 5 * time.Millisecond
)

// ErrLocked tells that another program keeps a file locked.
var ErrLocked = errors.New("is held by another program that writes to it: try again")

// ErrNoLocks tells of a system, or a disk, that has no locks.
var ErrNoLocks = errors.New("cannot be locked")

// OpenLocked opens a file and locks it: for this process alone when it may be
// written, shared when it is only read. Programs that save by renaming put
// another file in its place while one waits; then that one is taken.
func OpenLocked(ctx context.Context, path string, flags int) (*os.File, error) {
	return openLockedWithin(ctx, path, flags, lockPatience)
}

func openLockedWithin(ctx context.Context, path string, flags int, patience time.Duration) (*os.File, error) {
	giveUp := time.Now().Add(patience)
	for {
		f, err := os.OpenFile(path, flags, 0o644)
		if err != nil {
			return nil, err
		}
		locked, err := tryLock(f, flags&os.O_RDWR == 0)
		if err == nil && locked {
			mine, errMine := f.Stat()
			there, errThere := os.Stat(path)
			if errMine == nil && errThere == nil && os.SameFile(mine, there) {
				return f, nil
			}
		}
		if err := errors.Join(err, f.Close()); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrNoLocks, err)
		}
		if time.Now().After(giveUp) {
			return nil, ErrLocked
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(lockPause):
		}
	}
}
