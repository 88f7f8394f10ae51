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
	near(t, "metal", c.MetalVolume, (10.631071171875-steel)/11.0412*1000, 1e-5)
	near(t, "shrinkage", c.Shrink, 1/(0.995*(1-0.01*metalShrink(t, job))), 1e-12)
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
	near(t, "metal", spec.Cavities[0].MetalVolume, 10.631071171875/11.0412*1000, 1e-5)
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
