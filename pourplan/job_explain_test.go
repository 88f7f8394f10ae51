package pourplan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"halfpour/moldbox"
)

// What only the heads can show is told at the job's keys all the same.
func TestExplain(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(string) string
		want string
	}{
		{"keys without room", swap("[weight]", "[keys]\ndiameter = 30\n[weight]"), `
job.toml:16:1: keys.count: needs room for at least 3, got 0
     15 | 
     16 | [keys]
          ^^^^^^
hint: enlarge frame.to_wall, or use a smaller keys.diameter or keys.clear
`},
		{"a small printer", swap("[weight]", "[print]\nbed_x = 60\nbed_y = 60\n[weight]"), `
job.toml:2:12: cavities: must make a frame, here 166.5 x 47.9 x 20.3 mm, within print.bed_x of 60 mm, got 166.6 mm
      1 | title = "ball jig"
      2 | cavities = 3
                     ^
hint: not even one cavity fits: use a smaller frame.to_wall, a shorter sprue.length or a larger printer
`},
		{"a plane beside the head", swap("eye = [0, 9.5, 0]", "eye = [0, 9.5, 0]\nparting = 9"), `
job.toml:7:11: head.parting: must cut the head with 0.2 mm of it on each side, got 9 mm
      6 | eye = [0, 9.5, 0]
      7 | parting = 9
                    ^
hint: as modelled, the head lies between -6.00 and 6.00 mm along +z
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := read(t, c.edit(shortJob))
			spec, err := job.Spec(balls(t, map[string]int{}))
			if err != nil {
				t.Fatal(err)
			}
			_, err = moldbox.Build(context.Background(), spec)
			var list JobErrors
			if !errors.As(job.Explain(err), &list) || len(list) != 1 || list[0].Rule != RuleMold {
				t.Fatalf("got %v", err)
			}
			if got := rendered(list); got != c.want[1:] {
				t.Errorf("got\n%s\nwant%s", got, c.want)
			}
		})
	}
}

func TestExplainFields(t *testing.T) {
	job := read(t, swap("cavities = 3\n", "[[cavity]]\n[[cavity]]\ntarget = 12\nhead = { left = \"+z\" }\n")(shortJob))
	for field, want := range map[string]string{
		"Frame.Wall":              "job.toml: frame.wall: is wrong",
		"Cavities":                "job.toml:2:1: cavity: is wrong",
		"Cavities[0].MetalVolume": "job.toml:20:10: weight.target: is wrong",
		"Cavities[1].MetalVolume": "job.toml:4:10: cavity[1].target: is wrong",
		"Cavities[0].Pose.Left":   "job.toml:7:1: head.left: is wrong",
		"Cavities[1].Pose.Left":   "job.toml:5:17: cavity[1].head.left: is wrong",
		"Cavities[1].Hook.Wire":   "job.toml:12:8: hook.wire: is wrong",
	} {
		err := fmt.Errorf("built: %w", &moldbox.SpecError{Field: field, Rule: "is wrong", Value: math.NaN(), Limit: math.NaN()})
		if got := job.Explain(err).Error(); got != want {
			t.Errorf("%s: got %s, want %s", field, got, want)
		}
	}
	other := errors.New("disk full")
	if got := job.Explain(errors.Join(other, &moldbox.SpecError{Field: "Frame.Wall"})); !errors.Is(got, other) {
		t.Errorf("got %v", got)
	}
	if job.Explain(nil) != nil {
		t.Error("nothing wrong is explained")
	}
	if got := Default().Explain(&moldbox.SpecError{Field: "Frame.Wall", Rule: "must be at least", Value: 0.1, Limit: 1, Unit: "mm"}); got.Error() != "job: frame.wall: must be at least 1 mm, got 0.1 mm" {
		t.Errorf("without a file: %v", got)
	}
}

// Angles are told in degrees, by hand; a figure that the error does not have is
// left out.
func TestExplainFigures(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		e    moldbox.SpecError
		want string
	}{
		{moldbox.SpecError{Rule: "must be at most", Value: math.Pi / 2, Limit: math.Pi / 6, Unit: "rad"}, "must be at most 30°, got 90°"},
		{moldbox.SpecError{Rule: "must be at least", Value: 2, Limit: 3.5, Unit: "mm"}, "must be at least 3.5 mm, got 2 mm"},
		{moldbox.SpecError{Rule: "must be at least", Value: 2, Limit: 3}, "must be at least 3, got 2"},
		{moldbox.SpecError{Rule: "must be at least", Value: none, Limit: 3, Unit: "mm"}, "must be at least 3 mm"},
		{moldbox.SpecError{Rule: "must be within", Bound: "Print.BedX", Value: 5, Limit: 3, Unit: "mm"}, "must be within print.bed_x of 3 mm, got 5 mm"},
		{moldbox.SpecError{Rule: "must be set", Value: 4, Limit: none, Unit: "mm"}, "must be set, got 4 mm"},
	} {
		if got := new(jobSource).shapeError(&c.e).Error(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	job := read(t, shortJob)
	for field, key := range map[string]string{
		"Cavities[0].Head": "head.file", "Cavities[0].Eye": "head.eye", "Cavities[0].Gate": "head.gate", "Cavities[0].Wall": "weight.wall",
		"Cavities[2].Scale": "weight.scale", "Cavities[1].Shrink": "metal.shrink", "Cavities[1].Pose.Nose": "head.nose",
		"Cavities[0].Keepers[2].Wire": "keeper[2].wire", "Cavities": "cavities", "Sprue.Length": "sprue.length", "Cavities[0].Turn": "turn",
	} {
		if got := job.source.keyOf(field); got != key {
			t.Errorf("%s is decided by %s, want %s", field, got, key)
		}
	}
}
