package pourplan

import (
	"math"
	"strings"
	"testing"

	"halfpour/geom"
)

func TestDirections(t *testing.T) {
	for text, want := range map[string]geom.Vec{
		`"-y"`: {Y: -1}, `[0, 3, 4]`: {Y: 3, Z: 4}, `[-0.99, 0.12, 1e-3]`: {X: -0.99, Y: 0.12, Z: 1e-3},
	} {
		job := read(t, swap(`file = "ball.stl"`, "file = \"ball.stl\"\nback = [0.1, -0.2, 1]\nnose = "+text)(shortJob))
		if got := geom.Vec(job.Head.Nose); got != want {
			t.Errorf("%s: got %v", text, got)
		}
	}
	for _, text := range []string{`"x"`, `"up"`, `3`, `[1, 2]`, `[0, 0, 0]`, `["1 mm", 0, 0]`, `[nan, 0, 0]`, `[inf, 0, 0]`} {
		_, err := ReadJob("job.toml", []byte(swap(`file = "ball.stl"`, "file = \"ball.stl\"\nnose = "+text)(shortJob)))
		if err == nil || !strings.Contains(err.Error(), "head.nose: want an axis with its sign") {
			t.Errorf("%s: %v", text, err)
		}
	}
	for text, want := range map[string]Direction{`"+y"`: {Y: 2}, `[0.6, 0, -0.8]`: {X: 3, Z: -4}} {
		if got := want.String(); got != text {
			t.Errorf("got %s, want %s", got, text)
		}
	}
}

// The left flank follows from nose and back; a job that gives it has to give the
// same.
func TestLeftFollows(t *testing.T) {
	with := func(keys string) error {
		_, err := ReadJob("job.toml", []byte(swap(`file = "ball.stl"`, "file = \"ball.stl\"\n"+keys)(shortJob)))
		return err
	}
	if err := with("nose = [-12, 0, 1]\nback = [0.1, 3, 0]\nleft = \"+z\""); err != nil {
		t.Error(err)
	}
	if err := with("back = \"-y\"\nleft = \"+z\""); err == nil || !strings.Contains(err.Error(), "must be the left flank, which is -z with this nose and back") {
		t.Error(err)
	}
	if err := with("back = \"-x\""); err == nil || !strings.Contains(err.Error(), "head.back: must be at right angles to nose") {
		t.Error(err)
	}
	job := read(t, shortJob)
	if left := job.Head.pose().Left(); math.Abs(left.Z-1) > 1e-12 {
		t.Errorf("left is %v", left)
	}
}
