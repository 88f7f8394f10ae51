package moldbox

import (
	"context"
	"errors"
	"math"
	"testing"
	"time"

	"halfpour/geom"
)

// costly is a head that cannot be asked about a point.
type costly struct {
	geom.Solid
	t *testing.T
}

func (c costly) Evaluate(p geom.Vec) float64 {
	c.t.Fatalf("asked about %v", p)
	return 0
}

// What a head's box shows is told before its solid is looked at.
func TestCheckHeadsByBoxAlone(t *testing.T) {
	for _, c := range []struct {
		field string
		spoil func(*Cavity)
		ok    func(*Cavity) // as far as it may go
	}{
		{"Cavities[0].Pose.Parting", func(v *Cavity) { v.Pose.Parting = 6 }, func(v *Cavity) { v.Pose.Parting = 5.8 }},
		{"Cavities[0].Pose.Parting", func(v *Cavity) { v.Pose.Parting = -40 }, func(v *Cavity) { v.Pose.Parting = -5.8 }},
		{"Cavities[0].Gate", func(v *Cavity) { v.Gate = &geom.Vec{Y: 6.1} }, func(v *Cavity) { v.Gate = &geom.Vec{Y: 5.9} }}, // turned by 90°
		{"Cavities[0].Gate", func(v *Cavity) { v.Gate = &geom.Vec{Z: 0.11} }, func(v *Cavity) { v.Gate = &geom.Vec{Z: -0.1} }},
		{"Cavities[0].Gate", func(v *Cavity) { v.Pose.Parting, v.Gate = 1, &geom.Vec{} }, func(v *Cavity) { v.Pose.Parting, v.Gate = 1, &geom.Vec{Z: 1} }},
		{"Cavities[0].Eye", func(v *Cavity) { v.Eye = geom.Vec{Y: 6.1 + farthestEye} }, func(v *Cavity) { v.Eye = geom.Vec{Y: 5.9 + farthestEye} }},
		{"Cavities[0].Eye", func(v *Cavity) { v.Eye = geom.Vec{X: -1e18} }, func(v *Cavity) { v.Scale, v.Eye = 0.5, geom.Vec{X: -300} }},
		{"Cavities[0].Keepers[0].Points", func(v *Cavity) { v.Keepers = []Keeper{keeperAt(1e9)} }, func(v *Cavity) { v.Keepers = []Keeper{keeperAt(150)} }},
	} {
		for _, edit := range []func(*Cavity){c.spoil, c.ok} {
			spec := ballSpec(1)
			spec.Cavities[0].MetalVolume, spec.Cavities[0].Shrink = 0, 1
			edit(&spec.Cavities[0])
			spec.Cavities[0].Head = costly{spec.Cavities[0].Head, t}
			err := spec.CheckHeads()
			var e *SpecError
			if found := errors.As(err, &e); found && e.Field != c.field {
				t.Errorf("told at %s, want %s: %v", e.Field, c.field, err)
			}
		}
		spec := ballSpec(1)
		spec.Cavities[0].MetalVolume, spec.Cavities[0].Shrink = 0, 1
		if c.ok(&spec.Cavities[0]); spec.CheckHeads() != nil {
			t.Errorf("%s: within its limit: %v", c.field, spec.CheckHeads())
		}
		if c.spoil(&spec.Cavities[0]); spec.CheckHeads() == nil {
			t.Errorf("%s: over its limit and not told", c.field)
		}
	}
}

func keeperAt(x float64) Keeper {
	return Keeper{Wire: 0.9, Fit: 0.05, Points: []geom.Vec{{X: x, Y: 3}, {X: x + 10, Y: 3}}}
}

// An eye that only the scale puts too far is told when the scale is known.
func TestEyeTooFarAtScale(t *testing.T) {
	spec := ballSpec(1)
	spec.Cavities[0].Eye = geom.Vec{Y: 190}
	spec.Cavities[0].MetalVolume *= 2
	var e *SpecError
	if _, err := Build(context.Background(), spec); !errors.As(err, &e) || e.Field != "Cavities[0].Eye" {
		t.Errorf("got %v", err)
	}
}

// Wires that are too long, or too many, or stand too far from each other.
func TestWireBounds(t *testing.T) {
	long := make([][2]float64, 0, mostPoints+2)
	for i := range mostPoints + 1 {
		long = append(long, [2]float64{20 + float64(i%2), -8.6})
	}
	for field, spoil := range map[string]func(*Cavity){
		"Cavities[0].Hook.Points":          func(v *Cavity) { v.Hook.Points = long },
		"Cavities[0].Keepers[0].Step":      func(v *Cavity) { k := keeperAt(2); k.Count, k.Step = 2, geom.Vec{Y: 1e7}; v.Keepers = []Keeper{k} },
		"Cavities[0].Keepers[0].Points":    func(v *Cavity) { v.Keepers = []Keeper{zigzag()} },
		"Cavities[0].Keepers":              func(v *Cavity) { v.Keepers = make([]Keeper, mostKeepers+1) },
		"Cavities[0].Keepers[0].InHook[0]": func(v *Cavity) { v.Keepers = []Keeper{{Wire: 1, InHook: [][2]float64{{1e9, 0}, {1e9 + 9, 0}}}} },
	} {
		spec := ballSpec(1)
		spoil(&spec.Cavities[0])
		var e *SpecError
		if err := spec.Validate(); !errors.As(err, &e) || e.Field != field {
			t.Errorf("%s: got %v", field, err)
		}
	}
}

// zigzag is a keeper of 30 stretches of 100 mm.
func zigzag() Keeper {
	k := keeperAt(0)
	for i := range 30 {
		k.Points = append(k.Points, geom.Vec{X: 100 * float64(i%2), Y: 5 + float64(i)})
	}
	return k
}

// slow is a ball that takes a millisecond for each point, however near it is told
// to be: a search on it ends with its context or not at all.
type slow struct{ geom.Solid }

func (s slow) Evaluate(p geom.Vec) float64 {
	time.Sleep(time.Millisecond)
	return s.Solid.Evaluate(p)
}

// Every search ends with its context.
func TestBuildEndsWithContext(t *testing.T) {
	spec := ballSpec(3)
	spec.Runner.On = true
	for i := range spec.Cavities {
		spec.Cavities[i].MetalVolume, spec.Cavities[i].Scale = 0, 1+0.01*float64(i)
		spec.Cavities[i].Head = slow{geom.Ball(geom.Vec{}, 6)}
	}
	for _, after := range []time.Duration{time.Millisecond, 300 * time.Millisecond, time.Second} {
		ctx, cancel := context.WithTimeout(context.Background(), after)
		began := time.Now()
		_, err := Build(ctx, spec)
		cancel()
		if took := time.Since(began); !errors.Is(err, context.DeadlineExceeded) || took > after+lateness {
			t.Errorf("after %v: %v, took %v", after, err, took)
		}
	}
}

// lateness is how late a build may be that is told to end, on a busy machine.
const lateness = 10 * time.Second

// ended is a context that ends when it has been asked some times.
type ended struct {
	context.Context
	left int
}

func (e *ended) Err() error {
	if e.left--; e.left < 0 {
		return context.Canceled
	}
	return nil
}

// A march that never arrives ends with its context.
func TestMarchesEndWithContext(t *testing.T) {
	a := wireAxis{wire: 1, pieces: []piece{line(geom.Vec{}, geom.Vec{X: 1e18})}}
	if v := a.within(&ended{context.Background(), 10}, geom.Ball(geom.Vec{X: 5}, 6)); math.IsNaN(v) {
		t.Error("no number")
	}
	p := &part{bed: geom.Ball(geom.Vec{Y: 1e18}, 1)}
	p.passes(&ended{context.Background(), 10}, Default().Sprue, geom.Vec{}, 0)
}
