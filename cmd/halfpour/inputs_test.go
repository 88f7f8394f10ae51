package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"halfpour/geom/threemf"
)

// A job or a head that is saved while a build runs is told of; what is written
// is of the job as it was read.
func TestInputsChanged(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(t *testing.T, job, head string)
		want   string // in the note, "" for none
	}{
		{"nothing", func(*testing.T, string, string) {}, ""},
		{"the job grows", func(t *testing.T, job, _ string) { editJob(t, job, "title", "# more\ntitle") }, "job.toml changed meanwhile"},
		{"the head is saved as it was", func(t *testing.T, _, head string) {
			if err := os.Chtimes(head, time.Time{}, time.Now().Add(time.Second)); err != nil {
				t.Fatal(err)
			}
		}, starterHead + " changed meanwhile"},
		{"the head goes", func(t *testing.T, _, head string) {
			if err := os.Remove(head); err != nil {
				t.Fatal(err)
			}
		}, starterHead + " changed meanwhile"},
	} {
		job := writeJob(t)
		var errs bytes.Buffer
		term := newTerminal(nil, &errs, &errs, &errs)
		w, err := readWork(context.Background(), term, job)
		if err != nil {
			t.Fatal(err)
		}
		if err := w.open(context.Background()); err != nil {
			t.Fatal(err)
		}
		c.change(t, job, filepath.Join(filepath.Dir(job), starterHead))
		term.sayChanged(w)
		if said := errs.String(); (said == "") != (c.want == "") || !strings.Contains(said, c.want) || strings.Count(said, "\n") > 1 {
			t.Errorf("%s: said %q, want %q", c.name, said, c.want)
		}
	}
}

// What stands in the way of writing is said before the frames are meshed.
func TestProbeFolder(t *testing.T) {
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
		err := probeFolder(folder)
		if (err == nil) != (want == "") {
			t.Errorf("%s: %v", folder, err)
			continue
		}
		var f *fault
		if err != nil && (!errors.As(err, &f) || f.code != exitFailed || !strings.Contains(f.problems[0].Message, want)) {
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
	if err := probeFolder(filepath.Join(dir, "new")); err == nil || !strings.Contains(faultOf(err).problems[0].Message, "permission denied") {
		t.Errorf("read-only: %v", err)
	}
}

// Heads that are no files, or have no end, are refused at once.
func TestHeadThatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{dir: "is a folder", os.DevNull: "is no regular file", filepath.Join(dir, "none"): "no such file"} {
		_, err := loadHead(context.Background(), path, "job.toml")
		var f *fault
		if !errors.As(err, &f) || f.code != exitMesh || !strings.Contains(f.problems[0].Message, want) {
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
}

// A 3MF file states its unit; a job that states another is refused.
func TestUnitOf3MF(t *testing.T) {
	job := writeJob(t)
	dir := filepath.Dir(job)
	var plate bytes.Buffer
	if err := threemf.Write(&plate, threemf.Package{Objects: []threemf.Object{{Name: "body", Mesh: coarseBall()}}}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, starterHead), plate.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, stderr := halfpour(context.Background(), "check", job, "--quiet"); code != 0 {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	editJob(t, job, `unit = "mm" `, `unit = "in" `)
	code, _, stderr := halfpour(context.Background(), "check", job, "--quiet")
	if code != int(exitMesh) || !strings.Contains(stderr, `states its own unit, but head.unit is "in"`) {
		t.Errorf("exit %d, %s", code, stderr)
	}
}
