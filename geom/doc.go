// Package geom is the shape kernel: solids as signed distances, triangle
// meshes and their files, the octree that meshes and measures, and pictures.
// It has never heard of a mold.
//
// Lengths are mm, areas mm², volumes mm³, angles radians; axes are
// right-handed with Z up. Everything here is immutable once made and safe for
// concurrent use, unless its comment says otherwise.
//
// The laws of a Solid are on the interface; package geomtest holds them as
// code.
package geom
