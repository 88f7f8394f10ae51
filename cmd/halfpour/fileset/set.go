package fileset

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"syscall"
)

// Set is a folder's new files, put in place all together or not at all.
// Each is written beside its place under a temporary name; Commit renames
// them. Create may be called from several goroutines.
//
// A program that is killed leaves each file as it was or as it should be. If
// it was renaming, the folder's journal says what is still to be renamed, and
// the next command that looks into the folder does it (finish.go).
type Set struct {
	dir        string
	made       string                      // the topmost folder that did not exist before, "" for none
	lock       *os.File                    // keeps other programs' sets out; nil where there are no locks
	unfinished *journal                    // of an earlier program's set that cannot be finished, nil when it cannot be read
	broken     error                       // why a set of an earlier program cannot be finished; nil when there is none
	move       func(from, to string) error // os.Rename, but in tests
	link       func(old, new string) error // os.Link, but in tests

	mu    sync.Mutex
	files []pendingFile
}

type pendingFile struct {
	name   string
	temp   string // path
	size   int64
	digest string // SHA-256 in hex
}

// New makes the folder if need be and waits for other programs that
// write a set into it. Discard must be called in the end.
func New(ctx context.Context, dir string) (*Set, error) {
	s := &Set{dir: dir, made: topmostMissing(dir), move: os.Rename, link: os.Link}
	var err error
	if s.lock, err = lockFolder(ctx, dir); err != nil {
		s.Discard()
		return nil, s.fault("", err)
	}
	if _, s.broken = finishLocked(ctx, dir); s.broken != nil {
		s.unfinished, err = readJournal(ctx, dir)
		if ctx.Err() != nil {
			s.Discard()
			return nil, ctx.Err()
		}
		if err != nil {
			s.broken = journalFault(dir, err)
		}
	}
	if s.lock != nil && s.broken == nil {
		clearLeftovers(dir)
	}
	return s, nil
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

// Create writes a file under a temporary name.
func (s *Set) Create(ctx context.Context, name string, write func(io.Writer) error) error {
	if err := s.writeTemp(ctx, name, write); err != nil {
		return s.fault(name, err)
	}
	return nil
}

func (s *Set) writeTemp(ctx context.Context, name string, write func(io.Writer) error) (err error) {
	f, err := createTemp(s.dir, name)
	if err != nil {
		return err
	}
	s.mu.Lock()
	i := len(s.files)
	s.files = append(s.files, pendingFile{name: name, temp: f.Name()})
	s.mu.Unlock()
	defer func() { err = errors.Join(err, f.Close()) }()
	sum := sha256.New()
	w := bufio.NewWriterSize(&interruptible{ctx, io.MultiWriter(f, sum)}, 1<<16)
	if err := write(w); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	info, err := f.Stat()
	if err != nil {
		return err
	}
	s.mu.Lock()
	s.files[i].size, s.files[i].digest = info.Size(), hex.EncodeToString(sum.Sum(nil))
	s.mu.Unlock()
	return synced(f)
}

// New files and folders may be read by whom the system lets: its umask is taken
// from these.
const newFileMode, newFolderMode = 0o666, 0o777

// createTemp makes the temporary file of a name. os.CreateTemp would make it for
// its owner alone, whatever the umask, and some disks refuse to change that.
func createTemp(dir, name string) (*os.File, error) {
	for {
		temp := fmt.Sprintf(".%s.%d%s", name, rand.Uint32(), tempEnd)
		f, err := os.OpenFile(filepath.Join(dir, temp), os.O_RDWR|os.O_CREATE|os.O_EXCL, newFileMode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// synced puts a file on the disk, where that can be asked for.
func synced(f *os.File) error {
	err := f.Sync()
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		return nil
	}
	return err
}

// interruptible stops writing when ctx ends.
type interruptible struct {
	ctx context.Context
	w   io.Writer
}

func (i *interruptible) Write(p []byte) (int, error) {
	if err := i.ctx.Err(); err != nil {
		return 0, err
	}
	return i.w.Write(p)
}

// Sizes returns the bytes of each file by name.
func (s *Set) Sizes() map[string]int64 {
	out := map[string]int64{}
	for _, f := range s.files {
		out[f.name] = f.size
	}
	return out
}

// Discard removes what was not committed, and the folders made for it when
// they are empty, and lets other programs in. After Commit it does the last
// only.
func (s *Set) Discard() {
	for _, f := range s.files {
		_ = os.Remove(f.temp)
	}
	s.files = nil
	unlockFolder(s.lock)
	s.lock = nil
	if s.made == "" {
		return
	}
	for dir := filepath.Clean(s.dir); ; dir = filepath.Dir(dir) {
		if os.Remove(dir) != nil || dir == s.made {
			break
		}
	}
	s.made = ""
}
