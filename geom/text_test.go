package geom

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestTextPlacesLetters(t *testing.T) {
	o, width, err := Text("H", 5)
	if err != nil {
		t.Fatal(err)
	}
	low, high := o.Bounds()
	if low.Y != 0 || math.Abs(high.Y-5) > 1e-12 {
		t.Errorf("H stands from %v to %v, want 0 to 5", low.Y, high.Y)
	}
	if low.X < 0 || high.X > width {
		t.Errorf("H from %v to %v is wider than its advance %v", low.X, high.X, width)
	}
	oo, twice, err := Text("HH", 5)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(twice-2*width) > 1e-12 || len(oo) != 2 {
		t.Errorf("HH advances %v in %d loops, want %v in 2", twice, len(oo), 2*width)
	}
	_, high2 := oo.Bounds()
	if math.Abs(high2.X-high.X-width) > 1e-12 {
		t.Errorf("the second H ends at %v, want %v", high2.X, high.X+width)
	}
	if g, _, _ := Text("g", 5); func() float64 { low, _ := g.Bounds(); return low.Y }() >= 0 {
		t.Error("g does not reach below the baseline")
	}
}

func TestTextGrowsInProportion(t *testing.T) {
	_, small, _ := Text("3/8 oz", 1)
	_, large, _ := Text("3/8 oz", 7)
	if math.Abs(large-7*small) > 1e-9 {
		t.Errorf("width %v at 1 mm, %v at 7 mm", small, large)
	}
}

func TestTextErrors(t *testing.T) {
	for _, c := range []struct {
		s    string
		size float64
		want string
	}{
		{"ab☃", 5, `character 3 of "ab☃", '☃' (U+2603)`},
		{"a\tb", 5, "U+0009"},
		{"a\nb", 5, "U+000A"},
		{"a\xff", 5, "U+FFFD"},
		{"a", 0, "got 0 mm"},
		{"a", -2, "got -2 mm"},
		{"a", math.NaN(), "got NaN mm"},
		{"a", math.Inf(1), "got +Inf mm"},
	} {
		_, _, err := Text(c.s, c.size)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q at %v: error %v, want one with %q", c.s, c.size, err, c.want)
		}
	}
	if o, width, err := Text("", 5); err != nil || width != 0 || len(o) != 0 {
		t.Errorf("empty text: %v %v %v", o, width, err)
	}
}

// TestLetterAreas counts cells of a fine lattice against the boundary's area.
func TestLetterAreas(t *testing.T) {
	for _, s := range []string{"O", "B", "8", "%", "Å", "é", "¼", "@"} {
		o, _, err := Text(s, 5)
		if err != nil {
			t.Fatal(err)
		}
		low, high := o.Bounds()
		const n = 400
		filled := 0
		for i := range n {
			for j := range n {
				p := Vec2{low.X + (high.X-low.X)*(float64(i)+0.5)/n, low.Y + (high.Y-low.Y)*(float64(j)+0.5)/n}
				if o.Winding(p) != 0 {
					filled++
				}
			}
		}
		counted := float64(filled) / (n * n) * (high.X - low.X) * (high.Y - low.Y)
		if area := o.Area(); math.Abs(area-counted) > 0.004*counted {
			t.Errorf("%s: area %v, counted %v", s, area, counted)
		}
	}
}

// TestTextKeepsItsTolerance compares with the same letters at many times the
// size, whose chords are closer to the curve in proportion.
func TestTextKeepsItsTolerance(t *testing.T) {
	const s, more = "S&gO863", 40.0
	coarse, _, _ := Text(s, 6)
	fine, _, _ := Text(s, 6*more)
	fine = fine.Transform(func(p Vec2) Vec2 { return p.Mul(1 / more) })
	surface := newOutlineSurface(coarse.boundary())
	worst := 0.0
	for _, e := range fine.boundary() {
		worst = math.Max(worst, math.Abs(surface.distance(e.a)))
	}
	if worst > TextTolerance+TextTolerance/more || worst < TextTolerance/10 {
		t.Errorf("chords leave the curve by %v mm, want up to %v", worst, TextTolerance)
	}
}

func TestTextPrismPruning(t *testing.T) {
	const seed = 31
	t.Logf("seed %d", seed)
	o, _, err := Text("Å& 3/8 oz §", 5)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(seed, 0))
	if slabs, lighter := checkAbilities(t, rng, Prism(o, 0, 0.5), 3000); slabs < 20 || lighter < 2000 {
		t.Errorf("%d slabs, %d lighter parts in 3000 boxes", slabs, lighter)
	}
}
