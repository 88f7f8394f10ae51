package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/stl"
)

var update = flag.Bool("update", false, "rewrite the golden files and the heads of testdata/bad")

// badFolder has a folder a case: a job, what it names, command.txt when it is
// no build, and want.txt with the exit code and all that stderr must say.
var badFolder = filepath.Join("..", "..", "testdata", "bad")

// halfpour runs a command line in the current folder.
func halfpour(ctx context.Context, args ...string) (code int, stdout, stderr string) {
	var out, err bytes.Buffer
	code = run(ctx, append([]string{"halfpour"}, args...), strings.NewReader(""), &out, &err)
	return code, out.String(), err.String()
}

// coarseBall is a small head for tests: the starter's, with few facets.
func coarseBall() *geom.TriMesh { return heads.Ball(starterBall, 6) }

// badHeads are the heads of the cases, by folder.
func badHeads(t *testing.T) map[string][]byte {
	binary := func(m *geom.TriMesh) []byte {
		var b bytes.Buffer
		if err := stl.Write(&b, m, "ball head, invented demo data"); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	good := coarseBall()
	open := &geom.TriMesh{Vertices: good.Vertices, Triangles: good.Triangles[3:]}
	turned := good.Transform(func(v geom.Vec) geom.Vec { return v }, true)
	shifted := func(m *geom.TriMesh, by geom.Vec) *geom.TriMesh {
		return m.Transform(func(v geom.Vec) geom.Vec { return v.Add(by) }, false)
	}
	hook, err := heads.Hook(context.Background(), heads.HookKind{}, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{
		"hook-in-head-file": binary(united(good, shifted(hook, heads.BallEye(starterBall)))),
		"not-a-hook":        binary(good),
		"back-turned-round": binary(good),
		"eye-off-plane":     binary(good),
		"keeper-outside":    binary(good),
		"socket-narrow":     binary(good),
		"piece-unfed":       binary(united(good, shifted(good, geom.Vec{X: 16}))),
		"piece-floats":      binary(united(good, shifted(heads.Ball(1.2, 2), geom.Vec{X: 1, Z: 12.6}))),
		"open-mesh":         binary(open),
		"inside-out":        binary(turned),
		"cut-off-head":      binary(good)[:5000],
		"empty-head":        {},
		"not-an-stl":        []byte("PK\x03\x04 this is an archive"),
		"gate-on-hook":      binary(good),
		"collar-thin":       binary(good),
		"keys-do-not-fit":   binary(good),
		"small-printer":     binary(good),
		"misses-plane":      binary(good),
		"cavities-collide":  binary(good),
		"hook-too-thick":    binary(good),
		"eye-in-metal":      binary(good),
		"wires-cross":       binary(good),
		"runner-hits":       binary(good),
	}
	return out
}

// united is a mesh of the shells of both.
func united(a, b *geom.TriMesh) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: slices.Concat(a.Vertices, b.Vertices), Triangles: slices.Clone(a.Triangles)}
	n := int32(len(a.Vertices))
	for _, t := range b.Triangles {
		m.Triangles = append(m.Triangles, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return m
}

func TestBadJobs(t *testing.T) {
	if *update {
		for name, data := range badHeads(t) {
			if err := os.WriteFile(filepath.Join(badFolder, name, "head.stl"), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	cases, err := filepath.Glob(filepath.Join(badFolder, "*"))
	if err != nil || len(cases) < 10 {
		t.Fatalf("found %d cases, %v", len(cases), err)
	}
	for _, name := range cases {
		folder, err := filepath.Abs(name)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(folder), func(t *testing.T) {
			dir := t.TempDir()
			copyInto(t, folder, dir)
			before := tree(t, dir)
			t.Chdir(dir)
			code, stdout, stderr := halfpour(context.Background(), commandOf(t, folder)...)
			if stdout != "" {
				t.Errorf("stdout must be empty, got %q", stdout)
			}
			if after := tree(t, dir); !maps.Equal(before, after) {
				t.Errorf("something was written: %v", slices.Sorted(maps.Keys(after)))
			}
			golden(t, filepath.Join(folder, "want.txt"), fmt.Sprintf("exit %d\n%s", code, stderr))
		})
	}
}

// commandOf is what a case runs: its command.txt, or a build.
func commandOf(t *testing.T, folder string) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder, "command.txt"))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return []string{"build", "job.toml"}
	case err != nil:
		t.Fatal(err)
	}
	return strings.Fields(string(text))
}

// golden compares with a file; -update rewrites it.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Errorf("%s\n--- got\n%s--- want\n%s", filepath.Base(path), got, want)
	}
}

// copyInto copies a case's files, its golden file aside.
func copyInto(t *testing.T, from, to string) {
	t.Helper()
	for name, data := range tree(t, from) {
		if name == "want.txt" {
			continue
		}
		path := filepath.Join(to, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(data), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
}
