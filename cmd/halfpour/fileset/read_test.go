package fileset

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A file is looked at before it is read, and reading ends with the context.
func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "file")
	if err := os.WriteFile(path, []byte("12345"), 0o644); err != nil {
		t.Fatal(err)
	}
	sparse := filepath.Join(dir, "sparse")
	if err := errors.Join(os.WriteFile(sparse, nil, 0o644), os.Truncate(sparse, 1<<40)); err != nil {
		t.Skip("no sparse files here:", err)
	}
	for _, c := range []struct {
		path string
		most int64
		want error
	}{
		{path, 5, nil}, {path, 4, ErrTooLarge}, {sparse, 1 << 30, ErrTooLarge}, {dir, 9, ErrFolder},
		{os.DevNull, 9, ErrNotRegular}, {filepath.Join(dir, "none"), 9, fs.ErrNotExist},
	} {
		data, err := ReadFile(context.Background(), c.path, c.most)
		if !errors.Is(err, c.want) || err == nil && string(data) != "12345" {
			t.Errorf("%s: %q, %v, want %v", c.path, data, err, c.want)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	if err := os.Truncate(sparse, 1<<30); err != nil {
		t.Fatal(err)
	}
	time.AfterFunc(5*time.Millisecond, cancel)
	if _, err := ReadFile(ctx, sparse, 1<<30); !errors.Is(err, context.Canceled) {
		t.Errorf("reading on after its context: %v", err)
	}
}

// What has no name is read to its end, to the limit, or until the context ends.
func TestReadAll(t *testing.T) {
	if data, err := ReadAll(context.Background(), strings.NewReader("12345"), 5); err != nil || string(data) != "12345" {
		t.Errorf("%q, %v", data, err)
	}
	if _, err := ReadAll(context.Background(), strings.NewReader("12345"), 4); !errors.Is(err, ErrTooLarge) {
		t.Error(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(20*time.Millisecond, cancel)
	silent, other := io.Pipe()
	defer other.Close()
	if _, err := ReadAll(ctx, silent, 5); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// nobody hears which files were put in place.
func nobody(string, []string) {}

// A journal that names a file beyond any of ours is refused before that is read,
// and looking through a large one ends with the context.
func TestJournalOfLargeFiles(t *testing.T) {
	dir := t.TempDir()
	digest := strings.Repeat("0", 64)
	write := func(size string) {
		t.Helper()
		text := `{"schema":1,"files":[{"name":"a","temp":".a.1.tmp","bytes":` + size + `,"sha256":"` + digest + `"}]}`
		if err := os.WriteFile(filepath.Join(dir, JournalName), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	sparse := filepath.Join(dir, ".a.1.tmp")
	if err := errors.Join(os.WriteFile(sparse, nil, 0o644), os.Truncate(sparse, 1<<40)); err != nil {
		t.Skip("no sparse files here:", err)
	}
	write("1099511627776")
	if err := Repair(context.Background(), dir, nobody); ruleOf(err) != UnfinishedRule || !strings.Contains(err.Error(), "must have size") {
		t.Errorf("a terabyte: %v", err)
	}
	write("8589934592")
	if err := os.Truncate(sparse, 8<<30); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(50*time.Millisecond, cancel)
	start := time.Now()
	if err := Repair(ctx, dir, nobody); !errors.Is(err, context.Canceled) || time.Since(start) > 5*time.Second {
		t.Errorf("after %v: %v", time.Since(start), err)
	}
}

// Links to nothing are not followed: they would choose where a file appears.
func TestDanglingLinks(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(t.TempDir(), "elsewhere")
	for _, name := range []string{"account.csv", folderLock} {
		if err := os.Symlink(target, filepath.Join(dir, name)); err != nil {
			t.Skip("no links here:", err)
		}
	}
	if _, _, err := OpenLocked(context.Background(), filepath.Join(dir, "account.csv"), os.O_RDWR|os.O_CREATE|os.O_APPEND); !errors.Is(err, ErrDangling) {
		t.Errorf("an account: %v", err)
	}
	if err := writeSet(dir, "x\n"); err == nil || !strings.Contains(err.Error(), "is a link") {
		t.Errorf("a lock: %v", err)
	}
	if _, err := os.Lstat(target); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the link was followed: %v", err)
	}
	// Nor is the lock taken for another's file, which would be written to.
	if err := os.WriteFile(target, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := writeSet(dir, "x\n"); err == nil {
		t.Error("another file is taken for the lock")
	}
	f, _, err := OpenLocked(context.Background(), filepath.Join(dir, "account.csv"), os.O_RDWR|os.O_CREATE|os.O_APPEND)
	if err != nil {
		t.Fatalf("an account that is a link to a file: %v", err)
	}
	f.Close()
}

// On a disk without locks a file is opened all the same, and said to be unlocked.
func TestNoLocks(t *testing.T) {
	refuse := func(*os.File, bool) (bool, error) { return false, errors.ErrUnsupported }
	path := filepath.Join(t.TempDir(), "account.csv")
	f, locked, err := openLocked(context.Background(), path, os.O_RDWR|os.O_CREATE|os.O_APPEND, time.Second, refuse)
	if err != nil || locked {
		t.Fatalf("%v, %v", locked, err)
	}
	if _, err := f.WriteString("line\n"); err != nil {
		t.Error(err)
	}
	f.Close()
}
