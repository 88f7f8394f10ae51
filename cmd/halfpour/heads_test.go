package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// Where the ways cross, two cylinders of radius r share 16/3·r³ (Archimedes),
// which the mesh counts twice.
func TestCrossedHeadIsWeighedOnce(t *testing.T) {
	job := writeJob(t)
	const r = 1.5
	m := geomtest.FigureEight(8, r, 32)
	writeHead(t, filepath.Join(filepath.Dir(job), starterHead), m)
	editJob(t, job, `target = "1/4 oz"`, "scale = 1")
	w := openJob(t, job)
	shared := 16. / 3 * r * r * r
	if got, want := w.mold.Cavities[0].HeadVolume, m.Volume()-shared; math.Abs(got-want) > 0.2*shared {
		t.Errorf("head: got %.2f mm³, want %.2f; shared are %.2f", got, want, shared)
	}
	if text := findingText(pourplan.GroupFindings(pourplan.PlanFindings(w.findings))[0]); !strings.Contains(text, "cuts through or touches itself") {
		t.Error(text)
	}
}

func TestFailedProofBlamesTheCrossedHead(t *testing.T) {
	w := &work{findings: []moldbox.Finding{{Code: head.CrossedCode, Message: "head.stl: a shell cuts through itself"}}}
	off := &moldbox.ProofError{Claim: "off"}
	if f := faultOf(w.blameCrossed(off)); f.code != exitFailed || f.Error() != "proof failed: off" || !strings.Contains(f.problems[0].Hints[0], "head.stl") {
		t.Errorf("got %v", f)
	}
	if f := faultOf((&work{}).blameCrossed(off)); f.code != exitFailed || f.Error() != "proof failed: off" || !strings.Contains(f.problems[0].Hints[0], "defect") {
		t.Errorf("got %v", f)
	}
}
