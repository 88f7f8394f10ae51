package fileset

import (
	"context"
	"errors"
	"io/fs"
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

// ErrDangling tells of a link whose file would have to be made where the link
// says.
var ErrDangling = errors.New("is a link to a file that is not there")

// OpenLocked opens a regular file and locks it: for this process alone when it
// may be written, shared when it is only read. Programs that save by renaming
// put another file in its place while one waits; then that one is taken. locked
// is false on a disk that has no locks.
func OpenLocked(ctx context.Context, path string, flags int) (f *os.File, locked bool, err error) {
	return openLocked(ctx, path, flags, lockPatience, tryLock)
}

func openLocked(ctx context.Context, path string, flags int, patience time.Duration, try func(*os.File, bool) (bool, error)) (*os.File, bool, error) {
	giveUp := time.Now().Add(patience)
	for {
		f, err := inBackground(ctx, func() (*os.File, error) { return openOrMake(path, flags) })
		if err != nil {
			return nil, false, err
		}
		locked, err := try(f, flags&os.O_RDWR == 0)
		if err != nil {
			return f, false, nil
		}
		if locked {
			mine, errMine := f.Stat()
			there, errThere := os.Stat(path)
			if errMine == nil && errThere == nil && os.SameFile(mine, there) {
				return f, true, nil
			}
		}
		if err := f.Close(); err != nil {
			return nil, false, err
		}
		if time.Now().After(giveUp) {
			return nil, false, ErrLocked
		}
		select {
		case <-ctx.Done():
			return nil, false, ctx.Err()
		case <-time.After(lockPause):
		}
	}
}

// openOrMake opens a regular file, or makes it where flags have os.O_CREATE.
// Whoever can put a link into a folder must not choose where files are made.
func openOrMake(path string, flags int) (*os.File, error) {
	f, err := openRegular(path, flags&^os.O_CREATE)
	if flags&os.O_CREATE == 0 || !errors.Is(err, fs.ErrNotExist) {
		return f, err
	}
	f, err = os.OpenFile(path, flags|os.O_EXCL, newFileMode)
	if !errors.Is(err, fs.ErrExist) {
		return f, err
	}
	if f, err = openRegular(path, flags&^os.O_CREATE); errors.Is(err, fs.ErrNotExist) && isLink(path) {
		return nil, ErrDangling
	}
	return f, err // another program has made it meanwhile
}

func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}
