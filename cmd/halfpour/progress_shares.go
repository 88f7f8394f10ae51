package main

import (
	"path/filepath"
	"sync"
)

// The shares of a build's time that its steps take, as measured on the minnow
// example on two processors, in hundredths: what is foretold of the time left
// is as good as they are.
const (
	readShare    = 0.03 // heads read, mold laid out and checked
	measureShare = 0.05 // rubber, metal and drawings
	frameShare   = 0.21 // each of the two frames meshed and proved, at once
	writeShare   = 0.50 // pictures, page, sheet, plan, meshes
	meshShare    = 0.75 // of a frame's: meshing; the rest is the proof
)

// A picture takes as long as some of the other files together.
const pictureShare = 8

// writeProgress returns what is told when a file is written, of the part that
// all of them are.
func writeProgress(report func(stage string, done float64)) func(name string) {
	weight := func(name string) float64 {
		if filepath.Ext(name) == ".png" {
			return pictureShare
		}
		return 1
	}
	all, done := 0.0, 0.0
	for _, f := range outputs {
		all += weight(f.name)
	}
	var mu sync.Mutex
	return func(name string) {
		mu.Lock()
		defer mu.Unlock()
		done += weight(name)
		report("writing", min(done/all, 0.99)) // they still have to get their names
	}
}
