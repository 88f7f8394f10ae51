package moldbox

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"halfpour/geom"
)

func volume(t testing.TB, s geom.Solid, within geom.Box) geom.Integral {
	t.Helper()
	v, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{Within: within, RelTol: 2e-3})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// randomBalls is a mold of one to three balls, some with a hook, of random
// sizes and off the parting plane.
func randomBalls(r *rand.Rand) Spec {
	spec := Default()
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	for range 1 + r.IntN(3) {
		c := ballCavity(between(4, 9))
		c.Pose.Parting = between(-0.8, 0.8)
		if r.IntN(2) == 0 {
			c.Hook = nil
		}
		c.Scale = between(0.9, 1.2)
		spec.Cavities = append(spec.Cavities, c)
	}
	spec.Frame.Draft = between(0, 4) * math.Pi / 180
	spec.Frame.ToWall = between(11, 15)
	spec.Keys.Count = leastKeys + r.IntN(3)
	spec.Marking.Lines = []string{"X"}
	return spec
}

// The two rubber halves and the void make up the whole block, within what the
// integrals are certain of; and the estimates agree far better.
func TestHalvesAndVoidMakeTheBlock(t *testing.T) {
	const seed = 20
	r := rand.New(rand.NewPCG(seed, 1))
	for round := range 3 {
		m := buildOf(t, randomBalls(r))
		left, right := volume(t, m.Left.Rubber(), geom.Box{}), volume(t, m.Right.Rubber(), geom.Box{})
		void, block := volume(t, m.Void, geom.Box{}), volume(t, m.Block, geom.Box{})
		lo, hi := left.Lo+right.Lo+void.Lo, left.Hi+right.Hi+void.Hi
		if lo > block.Hi || hi < block.Lo {
			t.Errorf("seed %d round %d: left + right + void is %.2f..%.2f, the block %.2f..%.2f mm³", seed, round, lo, hi, block.Lo, block.Hi)
		}
		sum := left.Best + right.Best + void.Best
		near(t, "left + right + void", sum, block.Best, 1e-3*block.Best)
	}
}

// Point by point: whatever is in the block is in exactly one of left rubber,
// right rubber and void.
func TestEveryPointHasOnePlace(t *testing.T) {
	const seed = 21
	r := rand.New(rand.NewPCG(seed, 1))
	for round := range 3 {
		checkPlaces(t, r, buildOf(t, randomBalls(r)), 20000)
		if t.Failed() {
			t.Fatalf("seed %d round %d", seed, round)
		}
	}
}

// The cavity that the halves enclose is the head, the hook's bed and the
// channels.
func TestVoidHoldsTheHead(t *testing.T) {
	m := ballMold(t, 2)
	for _, c := range m.Cavities {
		head := volume(t, c.Head, geom.Box{})
		near(t, "head in the mold", head.Best, c.HeadVolume*math.Pow(c.Shrink, 3), 1e-3*head.Best)
		// Head, neck and funnel, which by itself is below 900 mm³.
		metal := volume(t, c.Metal, geom.Box{})
		if top := c.Metal.BoundingBox().Max.Y; top > m.Left.Inside.Max.Y+1e-9 {
			t.Errorf("metal stands %.2f mm over the top edge", top-m.Left.Inside.Max.Y)
		}
		if metal.Best < c.MetalVolume || metal.Best > c.MetalVolume+1500 {
			t.Errorf("metal in a cavity is %.1f mm³, the head's %.1f", metal.Best, c.MetalVolume)
		}
		near(t, "metal asked for", c.MetalVolume, 10631.071171875/8.5557, 5e-4*c.MetalVolume)
		shared := volume(t, geom.Intersect(c.Head, m.Void), geom.Box{})
		near(t, "head in the void", shared.Best, head.Best, 1e-3*head.Best)
	}
}

func TestFrameHeights(t *testing.T) {
	spec := plainBalls(7)
	spec.Cavities[0].Pose.Parting = 1 // the left half holds 6 mm, the right one 8
	m := buildOf(t, spec)
	near(t, "left fill", m.Left.FillHeight, 6+8, 2*reachTol)
	near(t, "right fill", m.Right.FillHeight, 8+8, 2*reachTol)
	near(t, "left rim", m.Left.RimHeight-m.Left.FillHeight, 3, 1e-9)
	near(t, "floor under the keys", m.Left.Floor, 2.2+0.15+0.8, 1e-9)
	for _, h := range []Half{m.Left, m.Right} {
		b, want := h.Frame.BoundingBox(), h.Outside
		if b.Min.Dist(want.Min) > 1e-6 || b.Max.Dist(want.Max) > 1e-6 {
			t.Errorf("%s: frame's box is %v, outside says %v", h.Name, b, want)
		}
		mid := h.Inside.Centre()
		for _, c := range []struct {
			what   string
			p      geom.Vec
			inside bool
		}{
			{"floor", geom.Vec{X: h.Inside.Min.X + 2, Y: mid.Y, Z: -0.5}, true},
			{"over the floor", geom.Vec{X: h.Inside.Min.X + 2, Y: mid.Y, Z: 0.5}, false},
			{"wall at the fill line", geom.Vec{X: h.Inside.Max.X + 0.6, Y: mid.Y, Z: h.FillHeight - 0.1}, true},
			{"step over the fill line", geom.Vec{X: h.Inside.Max.X + 0.6, Y: mid.Y, Z: h.FillHeight + 1}, false},
			{"wall over the step", geom.Vec{X: h.Inside.Max.X + 1.2, Y: mid.Y, Z: h.FillHeight + 1}, true},
			{"tab to pry at", geom.Vec{X: mid.X, Y: h.Outside.Min.Y + 1, Z: -1}, h.Inside.Size().Y > h.Inside.Size().X},
		} {
			if geom.Inside(h.Frame, c.p) != c.inside {
				t.Errorf("%s half, %s: inside is %v at %v", h.Name, c.what, !c.inside, c.p)
			}
		}
	}
}

// The rubber is open at the top edge: funnel and vents run through to the wall.
// A cavity that says that it is like another is that one moved.
func TestAlikeCavities(t *testing.T) {
	spec := ballSpec(4)
	spec.Cavities[2].MetalVolume *= 1.2
	m, err := Build(context.Background(), spec)
	if err != nil {
		t.Fatal(err)
	}
	const seed = 8
	r := rand.New(rand.NewPCG(seed, 0))
	for i, want := range []int{0, 0, 2, 0} {
		c := m.Cavities[i]
		if c.AlikeTo != want {
			t.Errorf("cavity %d is like %d, want %d", i, c.AlikeTo, want)
			continue
		}
		first := m.Cavities[c.AlikeTo]
		move := c.Eye.Sub(first.Eye)
		b := first.Metal.BoundingBox().Grow(2)
		for range 300 {
			p := b.Min.Add(geom.Vec{X: r.Float64() * b.Size().X, Y: r.Float64() * b.Size().Y, Z: r.Float64() * b.Size().Z})
			if got, want := c.Metal.Evaluate(p.Add(move)), first.Metal.Evaluate(p); math.Abs(got-want) > 1e-6 {
				t.Fatalf("seed %d: cavity %d at %v: got %g, want %g", seed, i, p, got, want)
			}
		}
	}
}

func TestSprueAndVentsOpenAtTheEdge(t *testing.T) {
	spec := ballSpec(1)
	spec.Frame.Draft = 3 * math.Pi / 180
	m := buildOf(t, spec)
	c := m.Cavities[0]
	for _, h := range []Half{m.Left, m.Right} {
		rubber := h.Rubber()
		for _, z := range []float64{0.1, 2, 5} {
			for back := 0.0; back < 4; back += 0.2 {
				p := geom.Vec{X: c.GateAt.X, Y: m.Left.Inside.Max.Y + 0.3 - back, Z: z}
				if h.Name == "right" {
					p.X = -p.X
				}
				if geom.Inside(rubber, p) {
					t.Fatalf("%s: rubber in the funnel at %v", h.Name, p)
				}
			}
		}
	}
}

// A frame's mesh is closed and one piece, and its volume is the solid's.
func TestFrameIsOneClosedBody(t *testing.T) {
	spec := ballSpec(1)
	spec.Cavities[0].MetalVolume = 0
	frame := buildOf(t, spec).Left.Frame
	mesh, err := geom.Mesh(context.Background(), frame, geom.MeshOptions{Tolerance: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range geom.Audit(mesh) {
		t.Error(f)
	}
	if !oneShell(mesh) {
		t.Error("the frame falls apart")
	}
	v, err := geom.Integrate(context.Background(), frame, geom.IntegrateOptions{RelTol: 5e-3})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume", mesh.Volume(), v.Best, 5e-3*v.Best)
}

func TestMarkingReadsRightInRubber(t *testing.T) {
	// The frame is seen from above; the rubber's face from below, mirrored. An
	// L has its foot to the right of its stem, in the frame to the left.
	l, err := letter("L", 5)
	if err != nil {
		t.Fatal(err)
	}
	foot := geom.Vec2{X: 0.1 * l.size.X, Y: 0.05 * l.size.Y}
	stem := geom.Vec2{X: 0.9 * l.size.X, Y: 0.9 * l.size.Y}
	free := geom.Vec2{X: 0.1 * l.size.X, Y: 0.9 * l.size.Y}
	if l.outline.Winding(foot) == 0 || l.outline.Winding(stem) == 0 || l.outline.Winding(free) != 0 {
		t.Error("the L is not mirrored")
	}
}

func TestMarkingKeepsClear(t *testing.T) {
	spec := ballSpec(2)
	m := buildOf(t, spec)
	for _, f := range m.Findings {
		if f.Code == "marking-dropped" {
			t.Errorf("%s: %s", f.Code, f.Message)
		}
	}
	b := &builder{spec: spec, row: layout{inside: m.Left.Inside}, cavities: m.Cavities, keys: m.Keys}
	if err := b.placeMarks(context.Background()); err != nil {
		t.Fatal(err)
	}
	for right, marks := range map[bool][]mark{false: b.leftMarks, true: b.rightMarks} {
		if len(marks) == 0 {
			t.Fatalf("right %v: no marks", right)
		}
		for _, mk := range marks {
			s := mk.solid(-0.1, 0.1)
			for _, body := range b.hollows() {
				if right {
					body = toRight().Solid(body)
				}
				if n, close := nearest(s, body, markGap-0.1); close {
					t.Errorf("right %v: text too near a body at %v", right, n.at)
				}
			}
		}
	}
}

func TestMarkingErrors(t *testing.T) {
	spec := ballSpec(1)
	spec.Marking.Lines = []string{"\u4e2d"}
	_, err := Build(context.Background(), spec)
	var se *SpecError
	if !errors.As(err, &se) || se.Field != "Marking.Lines" {
		t.Errorf("error is %v, want a SpecError of Marking.Lines", err)
	}
	spec.Marking.Lines = []string{"A LINE THAT IS FAR LONGER THAN THIS SMALL MOLD IS WIDE AND HIGH"}
	if got := markingNotes(t, spec); len(got) != 1 || got[0].Code != "marking-dropped" || !strings.Contains(got[0].Message, "left and right half") {
		t.Errorf("a line without room: %+v", got)
	}
	spec = ballSpec(3)
	if got := markingNotes(t, spec); len(got) != 0 {
		t.Errorf("a plain marking: %+v", got)
	}
	spec.Marking.Height = 9
	if got := markingNotes(t, spec); len(got) != 1 || got[0].Code != "marking-shrunk" || !(got[0].Value > 2 && got[0].Value < 6) {
		t.Errorf("large letters: %+v", got)
	}
}

// markingNotes are the findings about the marking of a mold.
func markingNotes(t *testing.T, spec Spec) (notes []Finding) {
	t.Helper()
	for _, f := range buildOf(t, spec).Findings {
		if strings.HasPrefix(f.Code, "marking-") {
			notes = append(notes, f)
		}
	}
	return notes
}

func TestBuildStopsWithContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Build(ctx, ballSpec(1)); !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v, want context.Canceled", err)
	}
}

func TestPartingMissesHead(t *testing.T) {
	spec := plainBalls(6)
	spec.Cavities[0].Pose.Parting = 7
	_, err := Build(context.Background(), spec)
	var se *SpecError
	if !errors.As(err, &se) || se.Field != "Cavities[0].Pose.Parting" {
		t.Errorf("error is %v, want a SpecError of Cavities[0].Pose.Parting", err)
	}
}

func TestTooLargeAHead(t *testing.T) {
	spec := plainBalls(6)
	spec.Print.BedX, spec.Print.BedY = 1000, 1000
	spec.Cavities[0].Scale = 1.01 * largestHead / 12
	_, err := Build(context.Background(), spec)
	var se *SpecError
	if !errors.As(err, &se) || se.Field != "Cavities[0].Head" || se.Limit != largestHead {
		t.Errorf("error is %v, want a SpecError of Cavities[0].Head", err)
	}
}

func BenchmarkBuild(b *testing.B) {
	for _, c := range []struct {
		name string
		spec Spec
	}{
		{"balls-1", ballSpec(1)}, {"balls-5", ballSpec(5)}, {"darters-1", darterSpec(b, 1)}, {"darters-5", darterSpec(b, 5)},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Build(context.Background(), c.spec); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
