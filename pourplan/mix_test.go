package pourplan

import (
	"math"
	"math/rand"
	"testing"
)

func TestCorrect(t *testing.T) {
	for _, c := range []struct {
		a, b, addA, addB, off float64
	}{
		{162.22, 4.8666, 0, 0, 0},                      // 100:3 of 162.22 g is 4.87 g on the scale (common practice, no source)
		{100, 3.3, 10, 0, 10},                          // 3.3/0.03 - 100
		{100, 2.4, 0, 0.6, -20},                        //
		{162.22, 5.1, 7.78, 0, 100 * (5.1/4.8666 - 1)}, // 5.1/0.03 = 170
	} {
		got := Ratio{100, 3}.Correct(c.a, c.b)
		near(t, "A to add", got.AddA, c.addA, 1e-9)
		near(t, "B to add", got.AddB, c.addB, 1e-9)
		if math.Abs(got.OffPercent-c.off) > 1e-9 {
			t.Errorf("%g:%g is off by %g %%, want %g %%", c.a, c.b, got.OffPercent, c.off)
		}
	}
}

// What is added brings the ratio back, and a cup is within just the tolerance
// that it is off by.
func TestCorrectionBringsTheRatioBack(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewSource(seed))
	for range 2000 {
		r := Ratio{100, 1 + 99*rnd.Float64()}
		a, b := 500*rnd.Float64()+1, 100*rnd.Float64()+0.1
		c := r.Correct(a, b)
		if c.AddA < 0 || c.AddB < 0 || c.AddA*c.AddB != 0 {
			t.Fatalf("%v: %g and %g: %+v", r, a, b, c)
		}
		near(t, "ratio", (b+c.AddB)/(a+c.AddA), r.B/r.A, 1e-9)
		if off := math.Abs(c.OffPercent); !c.Within(off) || c.Within(off*0.99) && off > 0 {
			t.Fatalf("off by %g %%: within is wrong", off)
		}
	}
}

func TestBatch(t *testing.T) {
	p := plan(t, read(t, shortJob), measuredBalls(3))
	left, err := p.Batch("left")
	both, errBoth := p.Batch("both")
	if err != nil || errBoth != nil {
		t.Fatal(err, errBoth)
	}
	h := p.Rubber.Halves[0]
	// 120 ml of the preset's 1.35 g/cm³ and 8 g that stay behind.
	near(t, "least", left.LeastG, 120*p.Rubber.DensityGCM3+8, 1e-12)
	near(t, "A", left.AG, h.AG, 0)
	near(t, "both", both.LeastG, 2*left.LeastG-8, 1e-12) // one cup keeps 8 g once
	near(t, "A of both", both.AG, p.Rubber.OneMix.AG, 0)
	near(t, "spare as planned", left.Spare(h.MixG), h.MixG-left.LeastG, 1e-12)
	if _, err := p.Batch("upper"); err == nil || err.Error() != `half must be left, right or both, got "upper"` {
		t.Errorf("got %v", err)
	}
}

func TestReadMass(t *testing.T) {
	for text, want := range map[string]float64{
		"162.22": 162.22, "162.22g": 162.22, "6oz": 170.09713875, "1/4 oz": 7.08738078125, "1 1/2": 1.5, "5e1": 50,
	} {
		if got, err := ReadMass(text); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: got %g, %v, want %g", text, got, err, want)
		}
	}
	for _, text := range []string{"", "x", "5mm", "-3", "1,5", "1e999"} {
		if got, err := ReadMass(text); err == nil {
			t.Errorf("%q: got %g", text, got)
		}
	}
	if got, err := ReadPercent("4.5 %"); got != 4.5 || err != nil {
		t.Errorf("got %g, %v", got, err)
	}
}

// A half's cup and that of both hold what the plan weighs, and what is left is
// spare; B is missing or is too much by hand.
func TestBatchFigures(t *testing.T) {
	p := &Plan{Rubber: RubberPlan{OneMix: OneMix{AG: 290, BG: 9}, Halves: []HalfPlan{
		{Half: "left", AG: 100, BG: 3, FrameMassG: 90, ResidueG: 8}, {Half: "right", AG: 200, BG: 6, FrameMassG: 180, ResidueG: 7}}}}
	for half, want := range map[string]Batch{"left": {"left", 100, 3, 98}, "right": {"right", 200, 6, 187}, "both": {"both", 290, 9, 278}} {
		if got, err := p.Batch(half); err != nil || got != want {
			t.Errorf("%s: got %+v, %v, want %+v", half, got, err, want)
		}
	}
	if _, err := (&Plan{}).Batch("both"); err == nil {
		t.Error("a batch of no halves")
	}
	if s := (Batch{LeastG: 98}).Spare(103); s != 5 {
		t.Errorf("%g g spare", s)
	}
	for off, within := range map[float64]bool{5: true, -5: true, 5.01: false, -5.01: false} {
		if got := (Correction{OffPercent: off}).Within(5); got != within {
			t.Errorf("%g %% off: %v", off, got)
		}
	}
	five := Percent(5)
	if got, known := (&Job{Rubber: RubberTable{BTolerance: &five}}).Tolerance(); got != 5 || !known {
		t.Errorf("%g %%, %v", got, known)
	}
	if _, known := (&Job{}).Tolerance(); known {
		t.Error("a tolerance that nobody gave")
	}
}
