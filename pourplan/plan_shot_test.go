package pourplan

import (
	"context"
	"math"
	"testing"

	"halfpour/moldbox"
)

// How much later each figure that is not known makes it: held against a shot of a ball
// computed with that figure alone at its slow end.
func TestSlowParts(t *testing.T) {
	ctx := context.Background()
	job, mold := ballMold(t, "lead-antimony 4")
	cases, _ := job.CastCases()
	in, err := mold.Measure(ctx, 0.05, nil)
	if err != nil {
		t.Fatal(err)
	}
	solid := func(h moldbox.Hot) float64 {
		f, err := mold.FreezeRoughly(ctx, h, cases.Limits[:])
		if err != nil {
			t.Fatal(err)
		}
		return f.Solid
	}
	best := solid(cases.Best)
	m, _ := job.Metal.resolve()
	r, _ := job.Rubber.resolve()
	c := planCasting(job.Casting, m, r)
	c.SolidS, c.SolidMostS = best, solid(cases.Slow)
	later, sum, logs := c.SolidMostS-c.SolidS, 0.0, 0.0
	alone := make([]float64, 4)
	for i, change := range []func(*moldbox.Hot){
		func(h *moldbox.Hot) { h.Rubber = cases.Slow.Rubber },
		func(h *moldbox.Hot) { h.MoldC, h.WireC = cases.Slow.MoldC, cases.Slow.WireC },
		func(h *moldbox.Hot) { h.Metal = cases.Slow.Metal },
		func(h *moldbox.Hot) { h.Contact, h.WireContact = cases.Slow.Contact, cases.Slow.Contact },
	} {
		h := cases.Best
		change(&h)
		alone[i] = math.Log(solid(h) / best)
		logs += alone[i]
	}
	parts := slowParts(job, m, r, c, in.Lumps)
	if len(parts) != 4 {
		t.Fatalf("got %+v", parts)
	}
	for i, p := range parts {
		sum += p.LaterS
		want := alone[i] / logs * later
		t.Logf("%s: %.1f s, computed %.1f s", p.What, p.LaterS, want)
		if math.Abs(p.LaterS-want) > 0.15*later {
			t.Errorf("%s: %.1f s of %.1f s, computed %.1f s", p.What, p.LaterS, later, want)
		}
	}
	near(t, "sum", sum, later, 1e-9)
}
