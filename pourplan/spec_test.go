package pourplan

import (
	"errors"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
)

func balls(t testing.TB, loads map[string]int) func(string) (geom.Solid, error) {
	return func(file string) (geom.Solid, error) {
		loads[file]++
		return geom.Ball(geom.Vec{}, 6), nil
	}
}

func TestSpecOfShortJob(t *testing.T) {
	job := read(t, shortJob)
	loads := map[string]int{}
	spec, err := job.Spec(balls(t, loads))
	if err != nil {
		t.Fatal(err)
	}
	if loads["ball.stl"] != 1 || len(loads) != 1 {
		t.Errorf("loads: %v", loads)
	}
	if err := spec.Validate(); err != nil {
		t.Error(err)
	}
	c := spec.Cavities[2]
	if c.Name != "cavity 3" || c.Head != spec.Cavities[0].Head || c.Eye.Y != 9.5 {
		t.Errorf("third cavity: %+v", c)
	}
	// 3/8 oz less the hook, over 96-4 lead-antimony by the rule of mixtures.
	steel := 7.85e-3 * c.Hook.Volume()
	near(t, "metal", c.MetalVolume, (10.631071171875-steel)/(11.0412*fedByHand())*1000, 1e-5)
	near(t, "shrinkage", c.Shrink, 1/(0.995*(1-0.01*metalShrink(t, job))*(1+37*270e-6)), 1e-12)
	if got := strings.Join(spec.Marking.Lines, "|"); got != "ball jig|3/8 oz" {
		t.Errorf("marking: %q", got)
	}
}

func metalShrink(t *testing.T, job *Job) float64 {
	m, err := job.Metal.resolve()
	if err != nil {
		t.Fatal(err)
	}
	return m.Shrink.Best
}

func TestSpecOfMetalAlone(t *testing.T) {
	job := read(t, swap(`target = "3/8 oz"`, "target = \"3/8 oz\"\nof = \"metal\"")(shortJob))
	spec, err := job.Spec(balls(t, map[string]int{}))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "metal", spec.Cavities[0].MetalVolume, 10.631071171875/(11.0412*fedByHand())*1000, 1e-5)
}

// A head drawn in inches: the solid and bare coordinates grow, text does not.
func TestSpecOfInches(t *testing.T) {
	job := read(t, swap(`eye = [0, 9.5, 0]`, `unit = "in"
eye = [0, 0.5, "3 mm"]
gate = [0.25, 0, 0]
parting = 0.1`)(shortJob))
	spec, err := job.Spec(balls(t, map[string]int{}))
	if err != nil {
		t.Fatal(err)
	}
	c := spec.Cavities[0]
	if c.Eye != (geom.Vec{Y: 12.7, Z: 3}) || *c.Gate != (geom.Vec{X: 6.35}) || math.Abs(c.Pose.Parting-2.54) > 1e-12 {
		t.Errorf("got eye %v, gate %v, parting %g", c.Eye, *c.Gate, c.Pose.Parting)
	}
	near(t, "box", c.Head.BoundingBox().Size().X, 12*25.4, 1e-9)
	if spec.Cavities[1].Head != c.Head {
		t.Error("equal cavities hold different solids")
	}
}

func TestSpecMarking(t *testing.T) {
	for name, c := range map[string]struct {
		edit func(string) string
		want string
	}{
		"given":             {swap("[metal]", "[marking]\nlines = [\"X\"]\n[metal]"), "X"},
		"none":              {swap("[metal]", "[marking]\nlines = []\n[metal]"), ""},
		"grams":             {swap(`"3/8 oz"`, `"14 g"`), "ball jig|14 g"},
		"different weights": {swap("cavities = 3\n", "[[cavity]]\ntarget = \"1/4 oz\"\n[[cavity]]\n"), "ball jig"},
		"1 1/2 oz":          {swap(`"3/8 oz"`, `"1 1/2 oz"`), "ball jig|1 1/2 oz"},
	} {
		spec, err := read(t, c.edit(shortJob)).Spec(balls(t, map[string]int{}))
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(spec.Marking.Lines, "|"); got != c.want {
			t.Errorf("%s: got %q, want %q", name, got, c.want)
		}
	}
}

func TestSpecPassesLoadErrors(t *testing.T) {
	gone := errors.New("no such file")
	_, err := read(t, shortJob).Spec(func(string) (geom.Solid, error) { return nil, gone })
	if !errors.Is(err, gone) {
		t.Errorf("got %v", err)
	}
}

// Rubber gives way by 40 mm over its Shore hardness (common practice, no
// source); where that is not known, as at Shore A 40.
func TestUndercutByHardness(t *testing.T) {
	own := MM(2.5)
	for _, c := range []struct {
		hardness float64
		own      *MM
		want     float64
	}{{0, nil, 1}, {10, nil, 4}, {20, nil, 2}, {40, nil, 1}, {20, &own, 2.5}, {0, &own, 2.5}} {
		job := Default()
		job.Rubber.Hardness, job.Checks.Undercut = c.hardness, c.own
		if got := job.undercut(); got != c.want {
			t.Errorf("Shore A %g: %g mm, want %g mm", c.hardness, got, c.want)
		}
	}
}

// A weight is marked in ounces where those come to a short fraction.
func TestMarkedMass(t *testing.T) {
	const oz = 28.349523125
	for g, want := range map[float64]string{
		oz / 8: "1/8 oz", 3 * oz / 8: "3/8 oz", oz: "1 oz", 2.5 * oz: "2 1/2 oz", oz / 32: "1/32 oz", 17 * oz / 32: "15.1 g", 3: "3 g", 10.06: "10.1 g",
	} {
		if got := markedMass(g); got != want {
			t.Errorf("%g g: %q, want %q", g, got, want)
		}
	}
}

// One unit of a head's file in mm (NIST SP 811 for inch and foot).
func TestUnitsOfHeads(t *testing.T) {
	for unit, want := range map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8, "mil": 1, "": 1} {
		if got := (HeadTable{Unit: unit}).MMPerUnit(); got != want {
			t.Errorf("%q: %g mm", unit, got)
		}
	}
}

// A head's file is read once, however many units and cavities it has.
func TestSpecLoadsOnce(t *testing.T) {
	loads := map[string]int{}
	text := swap("cavities = 3\n", "[[cavity]]\n[[cavity]]\nhead = { unit = \"in\" }\n[[cavity]]\nhead = { unit = \"in\" }\n[[cavity]]\nhead = { file = \"other.stl\" }\n")(shortJob)
	spec, err := read(t, text).Spec(balls(t, loads))
	if err != nil || loads["ball.stl"] != 1 || loads["other.stl"] != 1 {
		t.Fatalf("%v, %v", loads, err)
	}
	c := spec.Cavities
	if c[1].Head != c[2].Head || c[0].Head == c[1].Head || c[1].Head.BoundingBox().Size().X < 300 {
		t.Error("one solid for each file and unit")
	}
}
