package pourplan

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/moldbox"
)

// bodyJob is the short job on a hook's body, with more keys in [hook].
func bodyJob(more string) string {
	from := strings.Index(shortJob, "[hook]")
	to := from + strings.Index(shortJob[from:], "\n[")
	lines := []string{}
	for _, line := range strings.Split(shortJob[:from]+"[hook]\nfile = \"hook.stl\"\n"+more+shortJob[to:], "\n") {
		if !strings.HasPrefix(line, "eye = ") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

// The body decides hook, eye and steel; place and unit go by their keys.
func TestHookBodyReachesTheSpec(t *testing.T) {
	mesh, err := heads.Hook(context.Background(), heads.HookKind{}, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	at := geom.Vec{X: -1, Y: 9}
	body, err := moldbox.MeasureHook(context.Background(), mesh.Transform(geom.Move(at).Point, false))
	if err != nil {
		t.Fatal(err)
	}
	small, err := moldbox.MeasureHook(context.Background(), mesh.Transform(geom.Scale(0.8).Point, false))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		more, eye string
		unit      float64
		want      geom.Vec
	}{
		{"", "", 1, at},
		{"unit = \"in\"", "", 25.4, at},
		{"place = \"eye\"", "[head]\neye = [2, 7, 0]", 1, geom.Vec{X: 2, Y: 7}},
	} {
		job := read(t, strings.Replace(bodyJob(c.more), "[head]", c.eye+"\n"+strings.Repeat("[head]", max(0, 1-len(c.eye))), 1))
		spec, err := job.SpecWithHooks(balls(t, map[string]int{}), func(file string, mmPerUnit float64) (*moldbox.HookBody, error) {
			if file != "hook.stl" || mmPerUnit != c.unit {
				t.Errorf("asked for %s, %g mm per unit", file, mmPerUnit)
			}
			return body, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if err := spec.Validate(); err != nil {
			t.Error(err)
		}
		v := spec.Cavities[0]
		if d := v.Eye.Dist(c.want); d > 0.02 {
			t.Errorf("eye %.3f mm off", d)
		}
		near(t, "wire", v.Hook.Wire, heads.HookWire, 0.05)
		near(t, "hook", v.Hook.Volume(), mesh.Volume(), 1e-9)
		near(t, "metal", v.MetalVolume, (10.631071171875-7.85e-3*mesh.Volume())/(11.0412*fedByHand())*1000, 1e-5)
		f := job.Placed()[0].HookTaken(body)
		if f.Code != "hook-body" || !strings.Contains(f.Message, "hook.stl is the hook: wire 1.") || math.Abs(f.Value-mesh.Volume()) > 1e-9 {
			t.Errorf("%+v", f)
		}
	}
	gone := errors.New("gone")
	_, err = read(t, bodyJob("")).SpecWithHooks(balls(t, map[string]int{}), func(string, float64) (*moldbox.HookBody, error) { return nil, gone })
	if !errors.Is(err, gone) || !strings.Contains(err.Error(), "hook.file") {
		t.Errorf("got %v", err)
	}
	// A coat that would close its eye is refused as soon as the eye is known.
	_, err = read(t, bodyJob("")+"\n[finish]\npowder = 0.9\n").SpecWithHooks(balls(t, map[string]int{}), func(string, float64) (*moldbox.HookBody, error) { return small, nil })
	if err == nil || !strings.Contains(err.Error(), "hook's eye") {
		t.Errorf("got %v", err)
	}
}

// What does not go with a body is refused at its key, and what a hook without one needs
// is asked for.
func TestKeysBesideAHookBody(t *testing.T) {
	for _, c := range []struct{ text, key string }{
		{bodyJob(""), ""},
		{bodyJob("wire = 1"), "hook.wire"},
		{bodyJob("points = [[0, -8], [20, -8]]"), "hook.points"},
		{bodyJob("eye_across = true"), "hook.eye_across"},
		{bodyJob("leaves = true"), "hook.leaves"},
		{bodyJob("place = \"eye\""), "head.eye"},
		{strings.Replace(bodyJob(""), "[head]", "[head]\neye = [0, 8, 0]", 1), "head.eye"},
		{bodyJob("place = \"nose\""), "hook.place"},
		{strings.Replace(bodyJob(""), "hook.stl", "//host/hook.stl", 1), "hook.file"},
		{strings.Replace(shortJob, "[hook]", "[hook]\nunit = \"in\"", 1), "hook.unit"},
		{strings.Replace(shortJob, "wire = ", "# wire = ", 1), "hook.wire"},
	} {
		_, err := ReadJob("job.toml", []byte(c.text))
		var list JobErrors
		errors.As(err, &list)
		switch {
		case c.key == "" && err != nil:
			t.Error(err)
		case c.key != "" && (len(list) != 1 || list[0].Key != c.key):
			t.Errorf("%s: got %v", c.key, err)
		}
	}
}

// A hook in the head's file that the job does not take is a stop.
func TestHookLeftInTheHead(t *testing.T) {
	hooks := []*geom.TriMesh{heads.Ball(5, 4)}
	job := read(t, shortJob)
	for _, c := range []struct {
		cavity CavityTable
		hooks  []*geom.TriMesh
		found  bool
	}{{job.Placed()[0], hooks, true}, {job.Placed()[0], nil, false}, {read(t, bodyJob("")).Placed()[0], hooks, false}} {
		fs := c.cavity.CheckHookApart(c.hooks)
		if (len(fs) == 1 && fs[0].Severity == moldbox.Stop && fs[0].HeadAt != nil) != c.found {
			t.Errorf("got %+v", fs)
		}
	}
}
