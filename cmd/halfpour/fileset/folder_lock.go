package fileset

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// folderLock is the file that programs hold while they write a set into its
// folder. It goes with the last of them.
const folderLock = ".halfpour-lock"

// folderPatience is how long to wait for another program's set: to write a
// large one takes some seconds.
const folderPatience = 2 * time.Minute

// lockFolder makes a folder and locks it against other programs' sets. The
// file is nil where the system has no locks.
func lockFolder(ctx context.Context, dir string) (*os.File, error) {
	for {
		if err := os.MkdirAll(dir, newFolderMode); err != nil {
			return nil, err
		}
		path := filepath.Join(dir, folderLock)
		if isLink(path) {
			return nil, fmt.Errorf("%s is a link", path)
		}
		f, locked, err := openLocked(ctx, path, os.O_RDWR|os.O_CREATE, folderPatience, tryLock)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue // another program has taken its new folder away again
		case errors.Is(err, ErrFolder), errors.Is(err, ErrNotRegular):
			return nil, fmt.Errorf("%s %w", path, err)
		case err == nil && !locked:
			unlockFolder(f)
			return nil, nil
		}
		return f, err
	}
}

func unlockFolder(f *os.File) {
	if f == nil {
		return
	}
	// Away first, so that no one finds it unlocked; where open files cannot be
	// removed, after it is closed, which fails if another has it.
	first := os.Remove(f.Name())
	_ = f.Close()
	if first != nil {
		_ = os.Remove(f.Name())
	}
}
