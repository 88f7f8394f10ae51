// Package skeleton finds the curves that a thin solid follows: the axis of a
// wire, its rings and its side branches.
//
// The files, in reading order:
//
//   - cells.go: the solid as cells, and how far each is from one end along the
//     solid.
//   - skeleton.go: cells of about the same distance that hang together are one
//     node; neighbours are linked (after Verroust & Lazarus, "Extracting
//     skeletal curves from 3D scattered data", The Visual Computer 16, 2000).
//   - path.go: the ring of the skeleton, the way from it to the farthest end,
//     and what branches off.
package skeleton
