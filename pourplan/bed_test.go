package pourplan

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestPlanBed(t *testing.T) {
	for _, c := range []struct {
		x, y   float64
		prints int
		pairs  int
		turned bool
		second [2]float64 // where the last frame lies
	}{
		{60, 100, 1, 3, false, [2]float64{112.5, 60}}, // side by side: (220 - 125)/2 + 65
		{150, 80, 1, 1, false, [2]float64{35, 112.5}}, // one behind the other
		{80, 150, 1, 1, false, [2]float64{112.5, 35}}, //
		{150, 120, 2, 0, false, [2]float64{35, 50}},   // one by one
		{100, 210, 1, 1, false, [2]float64{112.5, 5}}, // 205 of 220
		{215, 215, 2, 0, false, [2]float64{2.5, 2.5}}, //
	} {
		job := Default()
		b := planPrint(twoFrames(c.x, c.y), Plastic{Solid: 1}, job).Bed
		last := b.Prints[len(b.Prints)-1].Frames
		f := last[len(last)-1]
		if len(b.Prints) != c.prints || b.Pairs != c.pairs || f.Turned != c.turned || math.Abs(f.AtMM[0]-c.second[0])+math.Abs(f.AtMM[1]-c.second[1]) > 1e-9 {
			t.Errorf("%g x %g mm: %+v", c.x, c.y, b)
		}
	}
	// Only turned do they fit, then together: 2·90 + 5 of 200.
	job := Default()
	job.Print.BedX, job.Print.BedY = 200, 300
	if b := planPrint(twoFrames(250, 90), Plastic{Solid: 1}, job).Bed; len(b.Prints) != 1 || !b.Prints[0].Frames[0].Turned || b.Prints[0].PlasticML != 20 {
		t.Errorf("%+v", b)
	}
}

// Whatever is laid on beds keeps within them and apart.
func TestBedsHoldWhatLiesOnThem(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		bed := [2]float64{50 + 250*r.Float64(), 50 + 250*r.Float64()}
		gap := 10 * r.Float64()
		sizes := make([][2]float64, 1+r.IntN(9))
		for i := range sizes {
			sizes[i] = [2]float64{bed[0] * (0.05 + 0.95*r.Float64()), bed[1] * (0.05 + 0.95*r.Float64())}
		}
		spots := layOnBed(sizes, bed, gap)
		for i, s := range spots {
			if s.x < -1e-9 || s.y < -1e-9 || s.x+s.size[0] > bed[0]+1e-9 || s.y+s.size[1] > bed[1]+1e-9 {
				t.Fatalf("%v leaves the bed %v", s, bed)
			}
			for _, o := range spots[:i] {
				apart := max(s.x-o.x-o.size[0], o.x-s.x-s.size[0], s.y-o.y-o.size[1], o.y-s.y-s.size[1])
				if s.print == o.print && apart < gap-1e-9 {
					t.Fatalf("%v and %v are %g mm apart, gap %g", s, o, apart, gap)
				}
			}
		}
	}
}
