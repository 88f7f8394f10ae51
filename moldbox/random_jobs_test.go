package moldbox

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"

	"halfpour/geom"
)

// jobs is how many random jobs TestRandomJobs takes; CI asks for 200.
var jobs = flag.Int("jobs", 3, "how many random molds TestRandomJobs builds, meshes and puts together again")

// sensibleSpec is a mold as a person would ask for one, small and with thin
// rubber to be quick: one to three heads of one or several sizes, some bare, some
// on hooks of all kinds, with keepers, in rows or under a runner.
func sensibleSpec(r *rand.Rand, mesh geom.Solid) Spec {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	spec := Default()
	kind, alike := sensibleCavity(r, mesh), r.IntN(2) == 0
	for range []int{1, 1, 2, 2, 2, 3}[r.IntN(6)] {
		c := kind
		if !alike {
			c = sensibleCavity(r, mesh)
		}
		c.MetalVolume = between(120, 400)
		spec.Cavities = append(spec.Cavities, c)
	}
	spec.Layout.Rows = min(1+r.IntN(2), len(spec.Cavities))
	if spec.Runner.On = r.IntN(4) == 0; spec.Runner.On {
		spec.Runner.Rise = between(1, 6) * math.Pi / 180
	}
	f, s := &spec.Frame, &spec.Sprue
	f.Draft, f.Corner, f.Over, f.ToWall, f.Between = between(0, 0.06), between(0, 6), between(3, 6), between(9, 12), between(3, 6)
	s.Mouth, s.Throat, s.Length = between(7, 9), between(2.5, 3.5), between(6, 10)
	s.GateWidth, s.GateThickness, s.GateLength = between(1.5, 2.5), between(1, 2), between(1.5, 2)
	spec.Keys.Count, spec.Keys.Diameter, spec.Keys.Depth, spec.Keys.Clear = 3+r.IntN(2), 4, between(1, 1.8), between(1, 2)
	spec.Vents.Count, spec.Vents.Width = 1+r.IntN(2), between(0.5, 1)
	if r.IntN(4) == 0 {
		spec.Marking.Lines, spec.Marking.Height = []string{"HP"}, 3
	}
	return spec
}

// sensibleCavity is a head of some 4 mm radius.
func sensibleCavity(r *rand.Rand, mesh geom.Solid) Cavity {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	hook := &Hook{Wire: between(0.5, 0.9), EyeInside: between(1.2, 1.8), Leg: between(6, 7.5), LegAngle: math.Pi / 2,
		Shank: between(16, 20), Gape: between(5, 8), Point: between(2, 5), Fit: between(0.02, 0.1)}
	c := Cavity{Head: geom.Ball(geom.Vec{}, 4), Pose: plainPose, Turn: -math.Pi/2 + between(-0.2, 0.2),
		Eye: geom.Vec{X: 0.6, Y: hook.Leg}, Hook: hook, Shrink: 1 / (1 - between(0, 0.01))}
	switch r.IntN(3) {
	case 0:
		c.Head = mesh
	case 1: // a body of three balls, rounded into each other
		front := geom.SmoothUnion(0.8, geom.Ball(geom.Vec{X: -3}, 2.6), geom.Ball(geom.Vec{}, 4))
		c.Head = geom.SmoothUnion(0.8, front, geom.Ball(geom.Vec{X: 4}, 2.4))
	}
	c.Pose.Parting = between(-0.3, 0.3)
	switch r.IntN(5) {
	case 0:
		c.Hook = nil
	case 1:
		hook.LegAngle = between(1.3, 1.7)
	case 2:
		hook.Points = [][2]float64{{0, -hook.Leg}, {between(12, 15), -hook.Leg}, {between(15, 18), -hook.Leg + between(2, 4)}}
	}
	if r.IntN(4) == 0 {
		c.Keepers = []Keeper{{Wire: 0.5, Fit: 0.05, Points: []geom.Vec{{X: 1, Y: -3}, {X: 8, Y: -3.2}, {X: 9, Y: -5}}}}
	}
	return c
}

// Random jobs that a person may write: frames are closed meshes that do not cut
// through themselves, left rubber, right rubber and void make the block, the
// void is what it is said to be made of, and every head weighs what was asked.
func TestRandomJobs(t *testing.T) {
	const seed = 33
	r := rand.New(rand.NewPCG(seed, 1))
	mesh := darterMesh(t, 20, 16)
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	var wait sync.WaitGroup
	var valid atomic.Int64
	if testing.Short() {
		*jobs = min(*jobs, 3)
	}
	drawn := *jobs + *jobs/7 + 2 // some have a wire that crosses another or misses its head, air that stays, or no room for keys
	for number := range drawn {
		spec := sensibleSpec(r, mesh)
		wait.Add(1)
		free <- struct{}{}
		go func() {
			defer func() { <-free; wait.Done() }()
			m, err := Build(context.Background(), spec)
			if err != nil || stops(m) {
				return
			}
			valid.Add(1)
			for _, fault := range faultsOf(m, number) {
				t.Errorf("seed %d, job %d (%d cavities, %d rows, runner %v): %v", seed, number, len(m.Cavities), m.Rows, m.Runner != nil, fault)
			}
		}()
	}
	wait.Wait()
	t.Logf("seed %d: %d valid jobs of %d", seed, valid.Load(), drawn)
	if int(valid.Load()) < *jobs {
		t.Errorf("seed %d: %d of %d jobs were valid, want %d", seed, valid.Load(), drawn, *jobs)
	}
}

func stops(m *Mold) bool {
	for _, f := range m.Findings {
		if f.Severity == Stop {
			return true
		}
	}
	return false
}

// faultsOf looks at all that must hold of a mold; of its frames and of its
// heads, number says which one is looked at.
func faultsOf(m *Mold, number int) []error {
	faults := append(meshFaults([]Half{m.Left, m.Right}[number%2]), assemblyFaults(m)...)
	i := number / 2 % len(m.Cavities)
	c, asked := &m.Cavities[i], m.Spec.Cavities[i].MetalVolume
	// The cold head about the hook's eye, and the wires as they are.
	metal := geom.Move(c.Eye.Neg()).Then(geom.Scale(1 / c.Shrink)).Then(geom.Move(c.Eye)).Solid(c.Head)
	if c.Wire != nil {
		metal = geom.Subtract(metal, c.Wire)
	}
	// The estimate is some ten times better than the error it is asked for.
	v, err := geom.Integrate(context.Background(), metal, geom.IntegrateOptions{RelTol: 2e-3})
	if err != nil || math.Abs(v.Best-asked) > 1e-3*asked {
		faults = append(faults, fmt.Errorf("%s: metal %.3f mm³, asked for %.3f; %v", c.Name, v.Best, asked, err))
	}
	return faults
}

// meshFaults makes the half's frame as coarse as it still shows everything.
func meshFaults(h Half) []error {
	mesh, err := geom.Mesh(context.Background(), h.Frame, geom.MeshOptions{Tolerance: 0.5})
	if err != nil {
		return []error{fmt.Errorf("%s frame: %w", h.Name, err)}
	}
	var faults []error
	for _, f := range geom.Audit(mesh) {
		if !f.IsNote() {
			faults = append(faults, fmt.Errorf("%s frame: %w", h.Name, f))
		}
	}
	crossings, err := geom.SelfCrossings(context.Background(), mesh, 1)
	if err != nil || len(crossings) > 0 {
		faults = append(faults, fmt.Errorf("%s frame: crossings %v, %v", h.Name, crossings, err))
	}
	return faults
}

// bracket is a sum of certified volumes.
type bracket struct{ lo, best, hi float64 }

func (b *bracket) add(s geom.Solid, opt geom.IntegrateOptions) error {
	v, err := geom.Integrate(context.Background(), s, opt)
	b.lo, b.best, b.hi = b.lo+v.Lo, b.best+v.Best, b.hi+v.Hi
	return err
}

// meets reports an error unless the brackets overlap and the bests are within a
// share of whole of each other.
func (b bracket) meets(what string, o bracket, share, whole float64) error {
	if b.lo > o.hi || b.hi < o.lo || math.Abs(b.best-o.best) > share*whole {
		return fmt.Errorf("%s: %.2f in %.2f..%.2f mm³, want %.2f in %.2f..%.2f", what, b.best, b.lo, b.hi, o.best, o.lo, o.hi)
	}
	return nil
}

// assemblyFaults puts the mold together again.
func assemblyFaults(m *Mold) []error {
	var faults []error
	try := func(err error) {
		if err != nil {
			faults = append(faults, err)
		}
	}
	var halves, void, block, made bracket
	try(block.add(m.Block, geom.IntegrateOptions{RelTol: 2e-3}))
	rough, fine := geom.IntegrateOptions{AbsTol: 4e-3 * block.best}, geom.IntegrateOptions{AbsTol: 1e-3 * block.best}
	try(halves.add(m.Left.Rubber(), rough))
	try(halves.add(m.Right.Rubber(), rough))
	try(void.add(m.Void, rough))
	sum := bracket{halves.lo + void.lo, halves.best + void.best, halves.hi + void.hi}
	try(sum.meets("left + right + void against the block", block, 1e-3, block.best))
	// Heads, beds, sprues, vents and runner run into each other; letters and the
	// gaps at the keys stand alone.
	var hollow []geom.Solid
	for i := range m.Cavities {
		hollow = append(append(hollow, m.Cavities[i].Head), m.Cavities[i].channels()...)
	}
	try(made.add(geom.Intersect(geom.Union(append(hollow, m.Runner.channels()...)...), m.Block), rough))
	for _, k := range m.Keys {
		try(made.add(k.gap(m.Spec.Keys.Clearance), fine))
	}
	for _, h := range []Half{m.Left, m.Right} {
		place := geom.Identity()
		if h.Name == "right" {
			place = toRight()
		}
		if !h.Marking.BoundingBox().IsEmpty() {
			above := geom.Intersect(h.Marking, geom.HalfSpace(geom.Vec{Z: -1}, 0))
			try(made.add(place.Solid(above), fine))
		}
	}
	try(made.meets("what the void is made of", void, 2e-3, block.best))
	return faults
}
