//go:build unix

package fileset

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// Files and folders are as the user's umask says.
func TestUmask(t *testing.T) {
	was := syscall.Umask(0)
	defer syscall.Umask(was)
	for _, mask := range []int{0, 0o022, 0o027, 0o077} {
		syscall.Umask(mask)
		dir := filepath.Join(t.TempDir(), "out")
		if err := writeSet(dir, "x\n"); err != nil {
			t.Fatal(err)
		}
		for path, all := range map[string]fs.FileMode{dir: 0o777, filepath.Join(dir, planFile): 0o666} {
			info, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := info.Mode().Perm(), all&^fs.FileMode(mask); got != want {
				t.Errorf("umask %03o: %s is %03o, want %03o", mask, filepath.Base(path), got, want)
			}
		}
	}
}

// A pipe that nobody writes to keeps no one waiting.
func TestPipesAreNoFiles(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := errors.Join(syscall.Mkfifo(pipe, 0o644), syscall.Mkfifo(filepath.Join(dir, JournalName), 0o644)); err != nil {
		t.Skip("no pipes here:", err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	if _, err := ReadFile(ctx, pipe, 9); !errors.Is(err, ErrNotRegular) {
		t.Errorf("to read: %v", err)
	}
	if _, _, err := OpenLocked(ctx, pipe, os.O_RDONLY); !errors.Is(err, ErrNotRegular) {
		t.Errorf("to read locked: %v", err)
	}
	if _, _, err := OpenLocked(ctx, pipe, os.O_RDWR|os.O_CREATE); !errors.Is(err, ErrNotRegular) {
		t.Errorf("to write: %v", err)
	}
	if err := Repair(ctx, dir, nobody); ruleOf(err) != UnfinishedRule {
		t.Errorf("as journal: %v", err)
	}
}
