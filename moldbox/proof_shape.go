package moldbox

import "halfpour/geom"

// handlesSpare is how many handles a frame may have for each cavity beside those
// of its heads: where eye, hook, sprue and vents make arches with a head. What
// meshing makes of a head that cuts through itself has hundreds.
const handlesSpare = 16

// proveShape checks that a frame is one body without hollows, and has no more
// pieces and holes through it than the heads bring.
func proveShape(half string, mesh *geom.TriMesh, heads []*geom.TriMesh) error {
	shells, handles := 1, handlesSpare
	for _, m := range heads {
		t := geom.TopologyOf(m)
		shells += t.Shells - 1
		handles += handlesSpare + 2*max(0, t.Handles)
	}
	got := geom.TopologyOf(mesh)
	switch {
	case got.Hollows > 0:
		return proofError("%s frame: closed hollows inside: %d, near (%.1f, %.1f, %.1f) mm",
			half, got.Hollows, got.HollowAt.X, got.HollowAt.Y, got.HollowAt.Z)
	case got.Shells > shells:
		return proofError("%s frame: it is in %d pieces, its heads explain %d at most; one is near (%.1f, %.1f, %.1f) mm",
			half, got.Shells, shells, got.ShellAt.X, got.ShellAt.Y, got.ShellAt.Z)
	case got.Handles > handles:
		return proofError("%s frame: %d holes go through it, its heads explain %d at most", half, got.Handles, handles)
	}
	return nil
}
