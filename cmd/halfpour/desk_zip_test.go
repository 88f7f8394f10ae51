package main

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func zipOf(t *testing.T, files ...starterFile) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range files {
		part, err := w.Create(f.name)
		if err == nil {
			_, err = part.Write(f.data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A job that is saved as one file has what it is made of and what was built, the
// same bytes each time, and makes the same job again.
func TestJobAsOneFile(t *testing.T) {
	ctx, dir := context.Background(), t.TempDir()
	if err := writeStarter(ctx, dir, false); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"job-castings.csv": "heads", "job-out/left.stl": "built", "job-out/mine.txt": "not of the build", "other.stl": "not of the job"} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	f, err := readJobFile(ctx, &terminal{quiet: true}, filepath.Join(dir, starterJob))
	if err != nil {
		t.Fatal(err)
	}
	data, err := f.pack(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := f.pack(ctx); err != nil || !bytes.Equal(data, again) {
		t.Errorf("not the same again, %v", err)
	}
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, entry := range r.File {
		names = append(names, entry.Name)
	}
	if want := []string{"job.toml", "head.stl", "job-castings.csv", "job-out/left.stl"}; !slices.Equal(names, want) {
		t.Errorf("packed %q, want %q", names, want)
	}
	files, err := unpack(data)
	if err != nil {
		t.Fatal(err)
	}
	path, err := deskFolder{filepath.Join(dir, "other")}.start(ctx, "again", files)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"job.toml", "head.stl", "job-castings.csv"} {
		was, _ := os.ReadFile(filepath.Join(dir, name))
		if is, err := os.ReadFile(filepath.Join(filepath.Dir(path), name)); err != nil || !bytes.Equal(is, was) {
			t.Errorf("%s is not the same again, %v", name, err)
		}
	}
}

func TestArchivesThatMakeNoJob(t *testing.T) {
	job := starterFile{"a.toml", []byte("title = 1")}
	for want, data := range map[string][]byte{
		"no ZIP file":       []byte("solid"),
		"must have one job": zipOf(t, starterFile{"head.stl", nil}, starterFile{"in/job.toml", nil}, starterFile{"hooks.toml", nil}),
		"outside its fold":  zipOf(t, job, starterFile{"b.toml", nil}),
		"keeps it for a de": zipOf(t, job, starterFile{"con.stl", nil}),
		"leave out <":       zipOf(t, job, starterFile{"c:head.stl", nil}),
		"larger than":       zipOf(t, job, starterFile{"head.stl", make([]byte, mostDropped)}),
	} {
		if list, err := unpack(data); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %d files, %v", want, len(list), err)
		}
	}
	list, err := unpack(zipOf(t, starterFile{"head.stl", nil}, starterFile{"../up.stl", nil}, starterFile{"run.exe", nil}, job))
	if err != nil || len(list) != 2 || list[0].name != "a.toml" || list[1].name != "head.stl" {
		t.Errorf("%v, %v", list, err)
	}
}
