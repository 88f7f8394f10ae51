// Package making takes a job and its heads to everything that a build makes:
// molds, findings, figures, drawings, frames to print and their proof. It
// touches no files: heads come through a function, what is made is left in
// memory.
//
//	run.go       a Run is all molds of a job; Make and Check do it all
//	mold.go      one mold: read heads, build it, measure, make frames, plan
//	heads.go     heads by the names that jobs give them, each read once
//	again.go     what a run takes over from the last one, and first figures
//	memory.go    foretells what a mold takes, and refuses what is too much
//	errors.go    what can go wrong, mold by mold
//
// A job of one mold is a run of one.
package making
