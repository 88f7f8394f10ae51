package geomtest

import (
	"context"
	"testing"

	"halfpour/geom"
)

// CheckMesh fails the test on whatever keeps m from being the printable surface
// of a solid: any fault that geom.Audit finds, in m and in m as a file of
// 32-bit floats stores it, and any triangles that cross in that file. Several
// shells are no fault. 100 000 triangles take some tenths of a second.
func CheckMesh(t testing.TB, m *geom.TriMesh) {
	t.Helper()
	if !audit(t, "mesh", m) {
		return
	}
	rounded := geom.Rounded32(m)
	audit(t, "mesh rounded to float32", rounded)
	const show = 5
	crossings, err := geom.SelfCrossings(context.Background(), rounded, show)
	if err != nil {
		t.Errorf("mesh: %v", err)
	}
	for _, c := range crossings {
		t.Errorf("mesh: %v", c)
	}
}

// audit reports whether the mesh has no fault.
func audit(t testing.TB, what string, m *geom.TriMesh) bool {
	t.Helper()
	sound := true
	for _, f := range geom.Audit(m) {
		if !f.IsNote() {
			t.Errorf("%s: %v", what, f)
			sound = false
		}
	}
	return sound
}
