package main

import (
	"os"
	"path/filepath"
	"testing"
)

// tree returns the files under dir with their content; a folder is "/".
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		rel, _ := filepath.Rel(dir, path)
		if d.IsDir() {
			out[filepath.ToSlash(rel)] = "/"
			return nil
		}
		data, err := os.ReadFile(path)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func sameTree(t *testing.T, dir string, want map[string]string) {
	t.Helper()
	got := tree(t, dir)
	for name, data := range want {
		if got[name] != data {
			t.Errorf("%s: got %q, want %q", name, got[name], data)
		}
		delete(got, name)
	}
	for name := range got {
		t.Errorf("%s: should not be there", name)
	}
}
