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
		{"the job grows", func(t *testing.T, job, _ string) { editJob(t, job, "title", "# more\ntitle") }, "job.toml changed during the run"},
		{"the head is saved as it was", func(t *testing.T, _, head string) {
			if err := os.Chtimes(head, time.Time{}, time.Now().Add(time.Second)); err != nil {
				t.Fatal(err)
			}
		}, starterHead + " changed during the run"},
		{"the head goes", func(t *testing.T, _, head string) {
			if err := os.Remove(head); err != nil {
				t.Fatal(err)
			}
		}, starterHead + " changed during the run"},
	} {
		job := writeJob(t)
		var errs bytes.Buffer
		term := newTerminal(nil, &errs, &errs, &errs)
		f, err := readJobFile(context.Background(), term, job)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.readHead(context.Background(), starterHead); err != nil {
			t.Fatal(err)
		}
		c.change(t, job, filepath.Join(filepath.Dir(job), starterHead))
		term.sayChanged(f)
		if said := errs.String(); (said == "") != (c.want == "") || !strings.Contains(said, c.want) || strings.Count(said, "\n") > 1 {
			t.Errorf("%s: said %q, want %q", c.name, said, c.want)
		}
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
