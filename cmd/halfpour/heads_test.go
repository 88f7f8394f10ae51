package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// Where the ways cross, two cylinders of radius r share 16/3·r³ (Archimedes),
// which the mesh counts twice.
func TestCrossedHeadIsWeighedOnce(t *testing.T) {
	job := writeJob(t)
	const r = 1.5
	mesh := geomtest.FigureEight(8, r, 16)
	writeHead(t, filepath.Join(filepath.Dir(job), starterHead), mesh)
	editJob(t, job, `target = "1/4 oz"`, "scale = 1")
	m := openJob(t, job)
	shared := 16. / 3 * r * r * r
	if got, want := m.Solids.Cavities[0].HeadVolume, mesh.Volume()-shared; math.Abs(got-want) > 0.2*shared {
		t.Errorf("head: got %.2f mm³, want %.2f; shared are %.2f", got, want, shared)
	}
	if text := findingText(pourplan.GroupFindings(pourplan.PlanFindings(m.Findings))[0]); !strings.Contains(text, "cuts through or touches itself") {
		t.Error(text)
	}
}

func TestFailedProofBlamesTheCrossedHead(t *testing.T) {
	f := &jobFile{path: "job.toml"}
	off := &moldbox.ProofError{Claim: "off"}
	crossed := &making.CrossedError{Proof: off, Head: moldbox.Finding{Message: "head.stl: a shell cuts through itself"}}
	for hint, err := range map[string]error{"head.stl": crossed, "defect": off} {
		got := faultOf(f.fault(making.MoldErrors{{Err: err}}))
		if got.code != exitFailed || got.Error() != "proof failed: off" || !strings.Contains(got.problems[0].Hints[0], hint) {
			t.Errorf("%v: got %+v", err, got)
		}
	}
}
