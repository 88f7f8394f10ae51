package fileset

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"
)

// folderLock is the file that programs hold while they write a set into its
// folder. It lists the temporary files of the set before they are made, so that
// whoever comes after one that was killed knows which to remove. It goes with
// the last of them.
const folderLock = ".halfpour-lock"

// folderPatience is how long to wait for another program's set: to write a
// large one takes some seconds.
const folderPatience = 2 * time.Minute

// New files and folders may be read by whom the system lets: its umask is taken
// from these.
const newFileMode, newFolderMode = 0o666, 0o777

// folder is one that a set writes into, held against other programs.
type folder struct {
	dir        string
	made       string   // the topmost folder that did not exist before, "" for none
	lock       *os.File // nil where there are no locks
	broken     error    // why a set of an earlier program cannot be finished; nil when there is none
	unfinished *journal // of that set, nil when it cannot be read
}

// holdFolder makes a folder if need be, waits for other programs that write
// into it, and finishes what they have left.
func holdFolder(ctx context.Context, dir string) (*folder, error) {
	f := &folder{dir: dir, made: topmostMissing(dir)}
	for {
		var err error
		if f.lock, err = lockFolder(ctx, dir); err == nil {
			// Programs that are alive hold both folders while a journal stands.
			var above string
			if above, err = journalAbove(ctx, dir); above == "" && err == nil {
				break
			}
			unlockFolder(f.lock)
			f.lock = nil
			if err == nil {
				_, err = repairFolder(ctx, above)
			}
		}
		if err != nil {
			f.release()
			return nil, err
		}
	}
	if _, f.broken = repairLocked(ctx, dir); f.broken != nil {
		f.unfinished, _ = readJournal(ctx, dir)
	}
	if err := ctx.Err(); err != nil {
		f.release()
		return nil, err
	}
	return f, nil
}

// release lets other programs in, and removes the folders made when they are
// empty.
func (f *folder) release() {
	unlockFolder(f.lock)
	f.lock = nil
	if f.made == "" {
		return
	}
	for dir := filepath.Clean(f.dir); ; dir = filepath.Dir(dir) {
		if os.Remove(dir) != nil || dir == f.made {
			break
		}
	}
	f.made = ""
}

// topmostMissing returns the first folder on the way to dir that is not there.
func topmostMissing(dir string) string {
	missing := ""
	for dir = filepath.Clean(dir); ; dir = filepath.Dir(dir) {
		if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) || dir == filepath.Dir(dir) {
			return missing
		}
		missing = dir
	}
}

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
		f, locked, err := openLocked(ctx, path, os.O_RDWR|os.O_CREATE|os.O_APPEND, folderPatience, tryLock)
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

// Temporary files are named after their file and have these ends; kept is what
// Commit puts aside.
const tempEnd, keptEnd = ".tmp", ".tmp.old"

// clearLeftovers removes the temporary files that a killed program has listed
// in a folder's lock, which this program holds. Nothing else is removed: what
// only looks like them may be another program's.
func clearLeftovers(dir string, lock *os.File) {
	if lock == nil {
		return
	}
	list, err := io.ReadAll(io.NewSectionReader(lock, 0, maxJournalBytes))
	if err != nil {
		return
	}
	locks := map[string]bool{} // of folders that it held as well
	for temp := range strings.Lines(string(list)) {
		temp = strings.TrimSuffix(temp, "\n")
		if nameOf(temp) == "" {
			continue
		}
		removeTemp(filepath.Join(dir, filepath.FromSlash(temp)))
		if in := path.Dir(temp); in != "." {
			locks[filepath.Join(dir, in, folderLock)] = true
		}
	}
	for path := range locks {
		if f, locked, err := openLocked(context.Background(), path, os.O_RDWR, 0, tryLock); err == nil && locked {
			unlockFolder(f)
		}
	}
	_ = lock.Truncate(0)
}

// removeTemp removes a temporary file, and what Commit has put aside for it.
func removeTemp(path string) {
	_ = os.Remove(path)
	_ = os.Remove(strings.TrimSuffix(path, tempEnd) + keptEnd)
}

// nameOf returns the name that a temporary file is to have, "" if it is none.
// Both may have one folder before them.
func nameOf(temp string) string {
	dir, base := path.Split(temp)
	rest, isTemp := strings.CutSuffix(base, tempEnd)
	at := strings.LastIndexByte(rest, '.')
	if !isTemp || at < 2 || at == len(rest)-1 || rest[0] != '.' || strings.Trim(rest[at+1:], "0123456789") != "" {
		return ""
	}
	if name := dir + rest[1:at]; name == JournalName || plainPath(name) {
		return name
	}
	return ""
}
