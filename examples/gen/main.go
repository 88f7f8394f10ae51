// Command gen writes the head files of the example jobs:
//
//	go run ./examples/gen
//
// Run it in the repository's root. The files are committed; a test says when
// they are stale. To try a mold with a finer or coarser head:
//
//	go run ./examples/gen FACETS FILE
//
// writes a minnow head of about so many facets, and
//
//	go run ./examples/gen HOOK FILE
//
// the body of a plain, barbed or forged hook, or of one with a barb to the side (sideways), in the coordinates of the ball's head.
package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/stl"
)

// headFile is a file of the examples folder.
type headFile struct {
	path string
	name string // in the file's header
	mesh *geom.TriMesh
}

// The sizes at which the heads are drawn. Jobs scale them to weight.
const (
	ballDiameter    = 10.2 // mm
	ballFineness    = 24
	minnowTriangles = 100_000
	plainTriangles  = 8_000 // of the minnow where it need not be fine
)

func headFiles() []headFile {
	return []headFile{
		{"ball-jig/head.stl", "ball head, invented demo data", heads.Ball(ballDiameter, ballFineness)},
		{"minnow-tray/head.stl", "minnow head, invented demo data", heads.Minnow(minnowTriangles)},
		{"minnow-gang/head.stl", "minnow head, coarse, invented demo data", heads.Minnow(plainTriangles)},
	}
}

func (f headFile) bytes() ([]byte, error) {
	var b bytes.Buffer
	err := stl.Write(&b, f.mesh, f.name)
	return b.Bytes(), err
}

// writeMinnow writes one head of a number of facets.
func writeMinnow(facets, path string) error {
	n, err := strconv.Atoi(facets)
	if err != nil || n < leastFacets {
		return fmt.Errorf("facets must be a number from %d on, got %q", leastFacets, facets)
	}
	data, err := headFile{name: "minnow head, invented demo data", mesh: heads.Minnow(n)}.bytes()
	if err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o644)
}

// hookKinds are the hooks by their names.
var hookKinds = map[string]heads.HookKind{"plain": {}, "barbed": {Barbed: true}, "forged": {Barbed: true, Forged: true}, "sideways": {Sideways: true}}

// hookFineness is the tolerance of a hook's mesh, mm.
const hookFineness = 0.05

func writeHook(kind heads.HookKind, path string) error {
	mesh, err := heads.Hook(context.Background(), kind, hookFineness)
	if err != nil {
		return err
	}
	mesh = mesh.Transform(geom.Move(heads.BallEye(ballDiameter)).Point, false)
	data, err := headFile{name: "hook, invented demo data", mesh: mesh}.bytes()
	if err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o644)
}

// leastFacets draw a minnow that can be told as one.
const leastFacets = 1000

func main() {
	if len(os.Args) == 3 {
		kind, isHook := hookKinds[os.Args[1]]
		write := func() error { return writeMinnow(os.Args[1], os.Args[2]) }
		if isHook {
			write = func() error { return writeHook(kind, os.Args[2]) }
		}
		if err := write(); err != nil {
			fmt.Fprintln(os.Stderr, "gen:", err)
			os.Exit(1)
		}
		return
	}
	for _, f := range headFiles() {
		data, err := f.bytes()
		if err == nil {
			err = os.WriteFile(filepath.Join("examples", filepath.FromSlash(f.path)), data, 0o644)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, "gen:", err)
			os.Exit(1)
		}
		fmt.Printf("examples/%s: %d triangles, %d bytes\n", f.path, len(f.mesh.Triangles), len(data))
	}
}
