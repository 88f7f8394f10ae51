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
	"path"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
)

// Set is new files of a folder and of folders in it, put in place all together
// or not at all. Each is written beside its place under a temporary name; Commit
// renames them. Create may be called from several goroutines.
//
// A program that is killed leaves each file as it was or as it should be. If
// it was renaming, the folder's journal says what is still to be renamed, and
// the next command that looks into one of the folders does it (repair.go).
type Set struct {
	dir  string
	move func(from, to string) error // os.Rename, but in tests
	link func(old, new string) error // os.Link, but in tests

	mu      sync.Mutex
	folders map[string]*folder // by their names in dir, "." for that itself
	files   []pendingFile
}

type pendingFile struct {
	name   string // in the set's folder, with slashes
	temp   string // likewise
	size   int64
	digest string // SHA-256 in hex
}

// New makes the folder if need be and waits for other programs that write a set
// into it. Discard must be called in the end.
func New(ctx context.Context, dir string) (*Set, error) {
	s := &Set{dir: dir, move: os.Rename, link: os.Link, folders: map[string]*folder{}}
	if _, err := s.hold(ctx, "."); err != nil {
		return nil, s.fault("", err)
	}
	return s, nil
}

// hold returns a folder of the set's, held from the first time on.
func (s *Set) hold(ctx context.Context, name string) (*folder, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if f := s.folders[name]; f != nil {
		return f, nil
	}
	f, err := s.holdNew(ctx, name)
	if err == nil {
		s.folders[name] = f
	}
	return f, err
}

func (s *Set) holdNew(ctx context.Context, name string) (*folder, error) {
	root := s.folders["."]
	if root != nil && root.broken != nil {
		// Files of the broken set wait there: nothing is finished or removed
		// before this set replaces them.
		dir := filepath.Join(s.dir, name)
		f := &folder{dir: dir, made: topmostMissing(dir)}
		var err error
		if f.lock, err = lockFolder(ctx, dir); err != nil {
			f.release()
			return nil, err
		}
		if f.unfinished, err = readJournal(ctx, dir); f.unfinished != nil || err != nil {
			f.broken = root.broken
		}
		return f, nil
	}
	f, err := holdFolder(ctx, filepath.Join(s.dir, name))
	if err == nil && f.broken == nil {
		clearLeftovers(f.dir, f.lock)
	}
	return f, err
}

// Create writes a file under a temporary name. The name may have one folder
// before it, with a slash, which is made if need be.
func (s *Set) Create(ctx context.Context, name string, write func(io.Writer) error) error {
	if err := s.writeTemp(ctx, name, write); err != nil {
		return s.fault(name, err)
	}
	return nil
}

func (s *Set) writeTemp(ctx context.Context, name string, write func(io.Writer) error) (err error) {
	in, err := s.hold(ctx, path.Dir(name))
	if err != nil {
		return err
	}
	f, err := s.createTemp(in, name)
	if err != nil {
		return err
	}
	s.mu.Lock()
	i := len(s.files)
	s.files = append(s.files, pendingFile{name: name, temp: path.Join(path.Dir(name), filepath.Base(f.Name()))})
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

// createTemp makes the temporary file of a name in a folder of the set, and lists
// it before. os.CreateTemp would make it for its owner alone, whatever the umask,
// and some disks refuse to change that.
func (s *Set) createTemp(in *folder, name string) (*os.File, error) {
	for {
		temp := fmt.Sprintf(".%s.%d%s", path.Base(name), rand.Uint32(), tempEnd)
		if err := s.list(path.Join(path.Dir(name), temp)); err != nil {
			return nil, err
		}
		f, err := os.OpenFile(filepath.Join(in.dir, temp), os.O_RDWR|os.O_CREATE|os.O_EXCL, newFileMode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// list adds a temporary file to those that the next program removes if this one
// is killed.
func (s *Set) list(temp string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	lock := s.folders["."].lock
	if lock == nil {
		return nil
	}
	_, err := io.WriteString(lock, temp+"\n")
	return err
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

// place is where a name of the set leads.
func (s *Set) place(name string) string { return filepath.Join(s.dir, filepath.FromSlash(name)) }

// Discard removes what was not committed, and the folders made for it when
// they are empty, and lets other programs in. After Commit it does the last
// only.
func (s *Set) Discard() {
	for _, f := range s.files {
		_ = os.Remove(s.place(f.temp))
	}
	s.files = nil
	for _, name := range s.folderNames() {
		s.folders[name].release()
	}
	clear(s.folders)
}

// folderNames are those of the set's folders, its own last.
func (s *Set) folderNames() []string {
	var list []string
	for name := range s.folders {
		list = append(list, name)
	}
	slices.Sort(list)
	slices.Reverse(list) // "." is before all that are not hidden
	return list
}

// keepFolders has the folders stay that were made.
func (s *Set) keepFolders() {
	s.files = nil
	for _, f := range s.folders {
		f.made = ""
	}
}
