package geom

import "testing"

// Each corner faces the one that faces it, and the two edges between run to and
// fro; a pole of 60 neighbours is looked up otherwise than a corner of few.
func TestFacing(t *testing.T) {
	for _, lon := range []int{5, 60} {
		m := auditBall(3, lon, 5)
		across, _ := oppositeCorners(m)
		if len(across) != 3*len(m.Triangles) {
			t.Fatalf("%d corners, want %d", len(across), 3*len(m.Triangles))
		}
		at := func(c int32) int32 { return m.Triangles[c/3][c%3] }
		for c, d := range across {
			c := int32(c)
			if d < 0 || across[d] != c || at(nextCorner(c)) != at(prevCorner(d)) || at(prevCorner(c)) != at(nextCorner(d)) {
				t.Fatalf("%d round: corner %d faces %d", lon, c, d)
			}
		}
		m.Triangles = m.Triangles[1:]
		open := 0
		across, _ = oppositeCorners(m)
		for _, d := range across {
			if d == -1 {
				open++
			}
		}
		if open != 3 {
			t.Errorf("%d round: %d corners face nothing, want 3", lon, open)
		}
	}
}
