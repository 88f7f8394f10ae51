package pourplan

import (
	"math"
	"testing"

	"halfpour/geom"
)

func TestTurnKey(t *testing.T) {
	for _, c := range []struct {
		text string
		want Turn
	}{
		{`"auto"`, Turn{Auto: true}}, {"-90", Turn{Angle: -math.Pi / 2}}, {`"45 deg"`, Turn{Angle: math.Pi / 4}},
	} {
		job := read(t, "turn = "+c.text+"\n"+shortJob)
		if math.Abs(float64(job.Turn.Angle-c.want.Angle)) > 1e-12 || job.Turn.Auto != c.want.Auto {
			t.Errorf("turn = %s reads as %+v", c.text, job.Turn)
		}
		spec, err := job.Spec(func(string) (geom.Solid, error) { return geom.Ball(geom.Vec{}, 5), nil })
		if err != nil || spec.Cavities[0].AutoTurn != c.want.Auto {
			t.Errorf("turn = %s: %v, auto %v", c.text, err, spec.Cavities[0].AutoTurn)
		}
	}
	if _, err := ReadJob("job.toml", []byte("turn = \"best\"\n"+shortJob)); err == nil {
		t.Error("took turn = \"best\"")
	}
}

// The undercut that rubber gives way to goes with its hardness, unless the job
// says: 4 mm at Shore A 10 (common practice, no source).
func TestUndercutLimit(t *testing.T) {
	for _, c := range []struct {
		keys string
		want float64
	}{
		{"", 1}, {"hardness = 10\n", 4}, {"hardness = 20\n", 2}, {"hardness = 60\n", 2.0 / 3},
		{"hardness = 10\n[checks]\nundercut = 0.5\n", 0.5},
	} {
		job := read(t, swap("preset = \"tin-cure 100:3\"\n", "preset = \"tin-cure 100:3\"\n"+c.keys)(shortJob))
		near(t, c.keys, job.undercut(), c.want, 1e-12)
	}
}
