package making

import (
	"errors"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// A mold that would take too much memory is refused with a number of facets
// that would do; that number is let through.
func TestTooManyFacets(t *testing.T) {
	job := pourplan.Default()
	job.Cavities = 60
	of := func(facets int) error {
		h := &head.Head{Mesh: &geom.TriMesh{Triangles: make([][3]int32, facets)}}
		m := &Mold{Mold: pourplan.Mold{Job: job}, made: made{heads: map[string]*head.Head{job.Head.File: h}}}
		return m.fitsMemory()
	}
	if err := of(20_000); err != nil {
		t.Errorf("60 cavities of 20,000 facets: %v", err)
	}
	var large *MemoryError
	if err := of(300_000); !errors.As(err, &large) || large.Facets != 18_000_000 {
		t.Fatalf("60 cavities of 300,000 facets: %v", err)
	}
	if n := large.Coarser; n < 20_000 || of(n) != nil || of(n+5_000) == nil {
		t.Errorf("%d facets must be about the most", n)
	}
}
