package fileset

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What stands in the way of writing is said before the frames are meshed.
func TestProbe(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for folder, want := range map[string]string{
		dir:                                  "",
		filepath.Join(dir, "new", "deep"):    "",
		file:                                 "is no folder",
		filepath.Join(file, "below", "file"): "cannot be written",
	} {
		err := Probe(folder)
		if (err == nil) != (want == "") {
			t.Errorf("%s: %v", folder, err)
			continue
		}
		var f *Fault
		if err != nil && (!errors.As(err, &f) || !strings.Contains(f.Message, want)) {
			t.Errorf("%s: %v, want %q", folder, err, want)
		}
	}
	if got := tree(t, dir); len(got) != 1 {
		t.Errorf("left %v", got)
	}
	if os.Geteuid() <= 0 {
		t.Skip("permissions do not stop this user; .ci/outside/faults tries a disk that is read-only")
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	if err := Probe(filepath.Join(dir, "new")); err == nil || !strings.Contains(err.Error(), "permission denied") {
		t.Errorf("read-only: %v", err)
	}
}
