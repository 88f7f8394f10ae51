package main

import (
	"path/filepath"
	"sync"

	"halfpour/pourplan/making"
)

// The time left is judged by what each step of a build takes of the whole. That
// depends on the mold: the recorded runs in testdata/progress show how, and the
// test that replays them how good it is.

// readShare is what reading heads, laying out and checking take of a build,
// before it is known what there is to do.
const readShare = 0.035

// effort is what the time of a build depends on.
type effort struct {
	cavities  int
	facets    int     // of the heads of all cavities
	tolerance float64 // of the frames' meshes, mm
}

// drawn foretells how many thousand triangles of the frames are not facets of
// the heads.
func (e effort) drawn() float64 { return (64 + 51*float64(e.cavities)) * 0.02 / e.tolerance }

// triangles foretells how many thousand both frames have.
func (e effort) triangles() float64 { return e.drawn() + 1.2*float64(e.facets)/1000 }

// What the steps take, in seconds of one processor of no great speed.
func (e effort) measuring() float64 { return 1.1 + 0.22*float64(e.cavities) }
func (e effort) framing() float64   { return 0.043*e.drawn() + 0.0145*float64(e.facets)/1000 }

// writing is what a file takes.
func (e effort) writing(name string) float64 {
	thousands := e.triangles()
	switch filepath.Ext(name) {
	case ".png":
		if e.tolerance > making.RoughTolerance {
			return 0.25 // half as wide
		}
		return 0.45 + 0.0004*thousands
	case ".html":
		return 0.25*float64(e.cavities) + 0.0012*thousands
	case ".3mf":
		return 0.002 * thousands
	case ".stl":
		return 0.0003 * thousands
	}
	return 0.1
}

func (e effort) writingAll() float64 {
	sum := 0.0
	for _, f := range outputs {
		sum += e.writing(f.name)
	}
	return sum
}

// shares are what the steps after reading take of a build.
type shares struct{ measure, frame, write float64 }

func (e effort) shares() shares {
	of := (1 - readShare) / (e.measuring() + e.framing() + e.writingAll())
	return shares{of * e.measuring(), of * e.framing() / 2, of * e.writingAll()}
}

// effortOf is what the time of a mold's build depends on, once its heads are
// read.
func effortOf(m *making.Mold, tolerance float64) effort {
	if tolerance == 0 {
		tolerance = float64(m.Job.Output.Tolerance)
	}
	return effort{len(m.Job.Placed()), m.Facets(), tolerance}
}

// ofBuild hears how far a build is; tolerance is 0 for the job's.
func (p *progress) ofBuild(run *making.Run, tolerance float64) making.Progress {
	return p.ofRun(run, func(s making.Step) (share, done float64) {
		switch s.Part {
		case making.Reading:
			return readShare, readSteps[s.Name]
		case making.Measuring:
			return effortOf(s.Mold, tolerance).shares().measure, measureSteps[s.Name]
		}
		return effortOf(s.Mold, tolerance).shares().frame, frameSteps[s.Name]
	})
}

// ofCheck hears how far a check is that is a share of all there is to do.
func (p *progress) ofCheck(run *making.Run, share float64) making.Progress {
	return p.ofRun(run, func(s making.Step) (float64, float64) {
		if s.Part == making.Reading {
			return 0.85 * share, readSteps[s.Name]
		}
		return 0.15 * share, measureSteps[s.Name]
	})
}

// ofRun hears how far a run is. of tells which share of a mold's work a step's
// part is, and how much of that is done when the step begins.
func (p *progress) ofRun(run *making.Run, of func(making.Step) (share, done float64)) making.Progress {
	type key struct {
		mold *making.Mold
		part string
	}
	parts := map[key]func(string, float64){}
	var mu sync.Mutex
	return func(s making.Step) {
		share, done := of(s)
		at, text := key{s.Mold, s.Part}, s.Name
		if s.Part == making.LeftFrame || s.Part == making.RightFrame {
			text = s.Part + ": " + text
		}
		mu.Lock()
		if parts[at] == nil {
			parts[at] = p.part(share / float64(len(run.Molds)))
		}
		report := parts[at]
		mu.Unlock()
		report(ofSize(s.Mold, text), done)
	}
}

// ofSize puts the size's name before what is done to it.
func ofSize(m *making.Mold, text string) string {
	if m.Name == "" {
		return text
	}
	return m.Name + ": " + text
}

// The steps of reading, and how much of it is done when each begins.
var readSteps = map[string]float64{"reading": 0, "read": 1}

// The steps of measuring, and how much of it is done when each begins.
var measureSteps = map[string]float64{"measuring": 0, "adding up": 0.6, "cutting the drawings": 0.87, "drawn": 1, "measuring rubber": 0, "measured": 1}

// The steps of a frame, from geom.Mesh to the proof, and how much of it is done
// when each begins.
var frameSteps = map[string]float64{
	"splitting space": 0, "sampling the surface": 0.24, "thinning flat areas": 0.51, "done": 0.68,
	"proving": 0.68, "measuring": 0.84, "comparing with the heads": 0.95, "proved": 1,
}

// writeProgress returns what is told when a file is written, of the part that
// all of them are.
func (e effort) writeProgress(report func(stage string, done float64)) func(name string) {
	all, done := e.writingAll(), 0.0
	var mu sync.Mutex
	return func(name string) {
		mu.Lock()
		defer mu.Unlock()
		done += e.writing(name)
		report("writing", min(done/all, 0.99)) // they still have to get their names
	}
}
