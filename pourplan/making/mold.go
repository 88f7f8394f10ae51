package making

import (
	"slices"
	"sync"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// Mold is one mold of a run, as far as it is made.
type Mold struct {
	pourplan.Mold // name, folder and job
	made
	Findings []moldbox.Finding // of the heads and the mold, behind those that a caller has put here
	Measured moldbox.Measured
	Plan     *pourplan.Plan
	Rough    bool // for a look: Make has made it to a tolerance over RoughTolerance

	Drawings []pourplan.Drawing
	Hooks    []pourplan.Drawing // of its kinds of hooks
	Frames   [2]*geom.TriMesh   // left and right, as their files hold them; after Look, of Coarse
	Coarse   *moldbox.Mold      // with heads of fewer facets, for a look; nil otherwise
	Rubber   [2]*geom.TriMesh   // surfaces of the cured halves, as they lie in their frames
	Proof    moldbox.Proof

	drawing    sync.Mutex
	pictures   [2][2]halfPicture // left and right, frame and rubber
	bodies     *moldbox.Bodies
	bodiesOnce sync.Once

	shelf    *shelf
	earlier  made // of the last run
	unfitted made // before heads were made to another size; empty when they were not
	opened   bool
	given    []moldbox.Finding // that a caller has put into Findings
	cast     *shot             // of the heads before that; nil when none was computed
}

// made is what one run can leave to the next.
type made struct {
	Solids *moldbox.Mold

	heads   map[string]*head.Head        // by their names in the job
	hooks   map[string]*moldbox.HookBody // by their files' names in the job
	bored   []*boredHead                 // of each cavity
	spec    moldbox.Spec                 // that the solids were made to
	checked *moldbox.Measured            // nil when not measured by check
	share   float64                      // to which check has measured the rubber
	looked  *looked                      // nil when not made for a look
	shot    *shot                        // nil when none was computed
}

func (m *Mold) tolerance(opt Options) float64 {
	if opt.Tolerance > 0 {
		return opt.Tolerance
	}
	return float64(m.Job.Output.Tolerance)
}

// MeasuredTo is to which share of it Make measures the rubber.
func (m *Mold) MeasuredTo() float64 {
	if m.Rough {
		return LookShare
	}
	return BuildShare
}

// Says reports whether a finding is of a severity.
func (m *Mold) Says(s moldbox.Severity) bool {
	return slices.ContainsFunc(m.Findings, func(f moldbox.Finding) bool { return f.Severity == s })
}

// computed is the shot of the mold; nil when none was computed.
func (m *Mold) computed() *moldbox.MeasuredCast {
	if m.cast == nil {
		return nil
	}
	return m.cast.cast
}

func (p Progress) tell(m *Mold, part, step string) {
	if p != nil {
		p(Step{m, part, step})
	}
}
