package main

import (
	"context"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox/head"
)

// A mold that would take too much memory is refused with a number of facets
// that would do; that number is let through.
func TestTooManyFacets(t *testing.T) {
	w, err := readWork(context.Background(), newTerminal(nil, nil, nil, nil), writeJob(t))
	if err != nil {
		t.Fatal(err)
	}
	w.job.Cavities = 60
	h := &head.Head{}
	w.heads[w.job.Placed()[0].Head.File] = h
	of := func(facets int) error {
		h.Mesh = &geom.TriMesh{Triangles: make([][3]int32, facets)}
		return w.fitsMemory()
	}
	if err := of(20_000); err != nil {
		t.Errorf("60 cavities of 20,000 facets: %v", err)
	}
	err = of(300_000)
	if err == nil || !strings.Contains(err.Error(), "18000000 facets") {
		t.Fatalf("60 cavities of 300,000 facets: %v", err)
	}
	hint := err.(*fault).problems[0].Hints[0]
	_, rest, _ := strings.Cut(hint, "with ")
	var coarser int
	if n, _, _ := strings.Cut(rest, " "); n != "" {
		for _, c := range n {
			coarser = 10*coarser + int(c-'0')
		}
	}
	if coarser < 20_000 || of(coarser) != nil || of(coarser+5_000) == nil {
		t.Errorf("hint %q: %d facets must be about the most", hint, coarser)
	}
}
