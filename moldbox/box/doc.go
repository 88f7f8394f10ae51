// Package box looks at mold frames that somebody else has drawn: open-top boxes,
// given as meshes. It finds floor and rim, and measures what they hold.
//
// A frame stands with its floor down, +Z up; lengths are mm. Its room is what
// liquid poured into it fills up to a level.
//
// The files, in reading order:
//
//   - box.go: Spec and Look, both halves of a mold.
//   - spill.go: the level at which liquid runs over, and where.
//   - held.go: how much stands in the frame up to a level, exactly.
//   - frame.go: a Frame, all that is found of one half.
//   - checks.go: what is wrong with a frame; mate.go: with two of them together.
package box
