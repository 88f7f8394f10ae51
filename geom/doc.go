// Package geom is the shape kernel: solids as signed distances, triangle
// meshes and their files, the octree that meshes and measures, and pictures.
// It has never heard of a mold, and is of use to any program that needs the
// volume of a mesh or a solid to print.
//
// Lengths are mm, areas mm², volumes mm³, angles radians; axes are
// right-handed with Z up. Everything here is immutable once made and safe for
// concurrent use, unless its comment says otherwise. Nothing prints, and
// results do not depend on the number of workers.
//
// What there is, and where to begin:
//
//   - A [Solid] answers how far a point is from its skin. Make one from shapes
//     ([Ball], [Block], [Frustum], [Capsule], [Wire], [Torus], [Dome],
//     [DraftedBlock], [Prism], [Text]), join them with [Union], [Intersect],
//     [Subtract], [SmoothUnion] and [Offset], and move them with a [Placement].
//   - [NewMeshSolid] makes a solid of a closed mesh, [Adopt] of another
//     library's solid; [Lend] goes the other way.
//   - [Mesh] turns a solid into a closed [TriMesh], [Integrate] into a volume
//     with certain bounds, [Section] into a flat [Outline], and [Render] a
//     mesh into a picture.
//   - [Audit] and [SelfCrossings] say what is wrong with a mesh, [Deviation]
//     how far it is from a solid.
//
// Packages stl and threemf read and write files. The laws of a solid stand at
// [Solid]; package geomtest holds them as code, for the tests of any package
// that makes one.
package geom
