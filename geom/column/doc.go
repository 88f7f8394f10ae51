// Package column looks at solids along upright lines: what air stays when a
// hollow fills, where liquid comes to, what is undercut, what overhangs and
// what is thin. [Cut] makes the lines, a [Grid].
//
// Heights along a line are exact. What is thinner than the step across the
// lines may be missed.
//
// The files, in reading order:
//
//   - grid.go: the lines and their stretches inside a solid; lines.go: how
//     they are cut, part by part of the solid, from a mesh's triangles
//     (lines_mesh.go) or from any solid's values (lines_trace.go).
//   - air.go: the pockets of air that stay in a hollow that is filled;
//     air_cells.go: stretches cut into cells; air_fill.go: when each cell
//     fills; air_trap.go: which air is cut off by then; air_measure.go: its
//     volume.
//   - flood.go: where liquid under pressure comes to.
//   - undercut.go: what must give way when a body is drawn; undercut_ways.go:
//     the nearest free line; undercut_depth.go: depths measured on the solid.
//   - overhang.go, thin.go, pieces.go: what overhangs, what is thin, what hangs
//     together.
package column
