// Package making takes a job and its heads to everything that a build makes:
// molds, findings, figures, drawings, frames to print and their proof. It
// touches no files: heads come through a function, what is made is left in
// memory.
//
//	run.go       a Run: all molds of a job; mold.go one of them, as far as it is made
//	make.go      Run.Make, Check and Open, step by step; cast.go a shot, and heads to its
//	             weight; rest.go what is tried of it, and its rhythm
//	heads.go     heads by the names that jobs give them, each read once; bored.go
//	             those without the bores for their wires
//	pictures.go  frames and rubber as pictures; picture_mold.go the closed mold, cut;
//	             picture_lying.go head, hook, plane and gate, whatever is wrong
//	box.go       what a job with [box] comes to, instead of a Run
//	look.go      Run.Look: frames to look at, sooner
//	lying.go     how the heads lie, for a page on which a person points at them
//	tiles.go     tiles of a mold to try before the whole is printed
//	again.go     what a run takes over from the last one, and first figures
//	memory.go    foretells what a mold takes, and refuses what is too much
//	errors.go    what can go wrong, mold by mold
//
// A job of one mold is a run of one.
package making
