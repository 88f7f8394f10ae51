// Package geom is the shape kernel: solids as signed distances, triangle
// meshes, and the octree that turns one into the other and measures. It has
// never heard of a mold, and is of use to any program that needs the volume of
// a mesh or a solid to print.
//
// Lengths are mm, areas mm², volumes mm³, angles radians; axes are
// right-handed with Z up. Everything here is immutable once made and safe for
// concurrent use, unless its comment says otherwise. Nothing prints, and
// results do not depend on the number of workers.
//
// What there is, and where to begin:
//
//   - A [Solid] answers how far a point is from its surface. Make one from shapes
//     ([Ball], [Block], [Frustum], [Capsule], [Wire], [Torus], [Dome],
//     [DraftedBlock], [Prism], [Text]), join them with [Union], [Intersect],
//     [Subtract], [SmoothUnion] and [Offset], and move them with a [Transform].
//   - [NewMeshSolid] makes a solid of a closed mesh, [Adopt] of another
//     library's solid; [Lend] goes the other way.
//   - [Mesh] turns a solid into a closed [TriMesh], [Integrate] into a volume
//     with certain bounds, and [Section] into a flat [Outline].
//   - [Audit] and [SelfCrossings] say what is wrong with a mesh, [Mend] puts
//     small faults right, [Deviation] says how far a mesh is from a solid.
//
// Side rooms that use only what is exported here: column looks at solids along
// upright lines, picture renders meshes, stl, obj and threemf read and write
// files. geomtest holds the laws of a solid, which stand at [Solid], as code
// for the tests of any package that makes one; geomtest/tets cuts space into
// tetrahedra for finite-element programs that tests ask.
//
// The files, in reading order:
//
//   - vec.go, box.go, interval.go, root.go, march.go: points, boxes, ranges, and
//     where a function changes sign along a line.
//   - solid.go: the laws; abilities.go: what a solid may be able to do besides;
//     beyond.go: values that are not wanted near the surface; prune_sign.go: how combinations lose what is not in a box; parts.go: what a
//     solid is made of.
//   - shapes_*.go: the shapes; outline*.go, prism*.go, text.go: flat ones and
//     what is raised from them; adopt.go: those of other libraries.
//   - combine*.go, offset.go, transform.go: solids made of solids.
//   - gap*.go: the least distance between two solids.
//   - trimesh.go, mesh_edges.go, weld.go, ray.go, trianglemath.go, trianglebox.go, orient.go,
//     polygon.go: meshes, triangles, and questions about them that are answered exactly.
//   - audit.go, selfcross.go, selfcross_apart.go, selfcross_fans.go, pairtree.go, edge_tree.go, edge_rect.go: what is
//     wrong with a mesh; mesh_mend*.go: putting it right; mesh_bore.go: without a
//     bore; topology.go: shells, hollows and handles.
//   - bvh*.go, winding.go: a mesh's triangles by place; meshsolid*.go: a mesh
//     as a solid; crossed_skin*.go: the surface of one that crosses itself.
//   - mesher.go: from a solid to a mesh, step by step: octree*.go the cells,
//     sheets.go, facets.go, facets_kept.go, facet_*.go and fill_*.go what is in one, contour.go, patch*.go
//     and qef.go the surface through it, unseen.go, sharp_edges.go and raise.go the
//     corners and edges it missed, thinness.go which of them are too thin to matter,
//     thin.go, simplify.go, simplify_needles.go, small_components.go and surface.go the mesh of all;
//     alike.go tells places that have the same, repeats*.go has one of them drawn and copied.
//   - integrate.go: volumes, from cellsum.go, cutbox.go, moments.go,
//     surface_sums.go and facet_measure.go, box by box.
//   - section*.go: flat cuts; deviation.go: how far a mesh is from a solid.
package geom
