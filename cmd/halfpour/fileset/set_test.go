package fileset

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

func writeText(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

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

func TestSetWritesAllOrNothing(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	broken := errors.New("broken")
	for _, c := range []struct {
		name   string
		before map[string]string // files in out
		ctx    context.Context
		write  func(io.Writer) error // of b.txt
		after  map[string]string
		fails  bool
	}{
		{"into a new folder", nil, context.Background(), writeText("B"),
			map[string]string{"deep": "/", "deep/out": "/", "deep/out/a.txt": "A", "deep/out/b.txt": "B"}, false},
		{"over old files", map[string]string{"a.txt": "old", "mine.csv": "kept"}, context.Background(), writeText("B"),
			map[string]string{"deep": "/", "deep/out": "/", "deep/out/a.txt": "A", "deep/out/b.txt": "B", "deep/out/mine.csv": "kept"}, false},
		{"a writer fails", nil, context.Background(), func(w io.Writer) error { return broken }, map[string]string{}, true},
		{"a writer fails over old files", map[string]string{"a.txt": "old"}, context.Background(), func(io.Writer) error { return broken },
			map[string]string{"deep": "/", "deep/out": "/", "deep/out/a.txt": "old"}, true},
		{"interrupted", nil, ctx, writeText("B"), map[string]string{}, true},
		{"a folder is in the way", map[string]string{"a.txt": "old", "b.txt/x": "mine"}, context.Background(), writeText("B"),
			map[string]string{"deep": "/", "deep/out": "/", "deep/out/a.txt": "old", "deep/out/b.txt": "/", "deep/out/b.txt/x": "mine"}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			root := t.TempDir()
			dir := filepath.Join(root, "deep", "out")
			for name, data := range c.before {
				path := filepath.Join(dir, filepath.FromSlash(name))
				if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(data), 0o644)); err != nil {
					t.Fatal(err)
				}
			}
			err := func() error {
				s, err := New(context.Background(), dir)
				if err != nil {
					return err
				}
				defer s.Discard()
				if err := s.Create(context.Background(), "a.txt", writeText("A")); err != nil {
					return err
				}
				if err := s.Create(c.ctx, "b.txt", c.write); err != nil {
					return err
				}
				return s.Commit()
			}()
			if (err != nil) != c.fails {
				t.Errorf("error %v", err)
			}
			sameTree(t, root, c.after)
		})
	}
}
