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
	"halfpour/moldbox/head"
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
		spec, err := job.SpecWithBodies(balls(t, map[string]int{}), Bodies{Hook: func(file string, mmPerUnit float64) (*moldbox.HookBody, error) {
			if file != "hook.stl" || mmPerUnit != c.unit {
				t.Errorf("asked for %s, %g mm per unit", file, mmPerUnit)
			}
			return body, nil
		}})
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
	_, err = read(t, bodyJob("")).SpecWithBodies(balls(t, map[string]int{}), Bodies{Hook: func(string, float64) (*moldbox.HookBody, error) { return nil, gone }})
	if !errors.Is(err, gone) || !strings.Contains(err.Error(), "hook.file") {
		t.Errorf("got %v", err)
	}
	// A coat that would close its eye is refused as soon as the eye is known.
	_, err = read(t, bodyJob("")+"\n[finish]\npowder = 0.9\n").SpecWithBodies(balls(t, map[string]int{}), Bodies{Hook: func(string, float64) (*moldbox.HookBody, error) { return small, nil }})
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
		{bodyJob("leaves = true"), ""},
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

// A wire without an eye in the head's file is said to be cast, and is a stop where nobody
// would cast it. The place is on it, in mm, whatever the file's unit.
func TestWireLeftInTheHead(t *testing.T) {
	c := read(t, strings.Replace(shortJob, "[head]", "[head]\nunit = \"in\"", 1)).Placed()[0]
	wire := heads.Ball(1, 4).Transform(geom.Move(geom.Vec{X: 2}).Point, false)
	for long, severity := range map[float64]moldbox.Severity{12: moldbox.Warn, 30: moldbox.Stop} {
		fs := c.CheckWiresApart([]head.Wire{{Mesh: wire, Long: long}})
		if len(fs) != 1 || fs[0].Severity != severity || fs[0].Remedy == "" || math.Abs(fs[0].HeadAt.Dist(geom.Vec{X: 50.8})-12.7) > 0.1 {
			t.Errorf("%g: got %+v", long, fs)
		}
	}
	if fs := c.CheckHookApart([]*geom.TriMesh{wire}); math.Abs(fs[0].HeadAt.Dist(geom.Vec{X: 50.8})-12.7) > 0.1 {
		t.Errorf("the hook is at %v", *fs[0].HeadAt)
	}
}

// A hook by its name is the one that the library has, with the job's own keys over it;
// what is wrong in the library is told at its place there.
func TestHookFromTheLibrary(t *testing.T) {
	const hooks = "[\"club 2/0\"]\nwire = 1.1\nover_eye = 4.2\nleg = 8\nshank = 26\ngape = 10\nmass = 0.5\n[thick]\nwire = 9\neye_inside = 2\n[odd]\nwirr = 1\n"
	library := func(text string) Library {
		return func(name string) (string, []byte, error) {
			if text == "" || name != HooksFile {
				return name, nil, nil
			}
			return name, []byte(text), nil
		}
	}
	_, err := ReadJobWith("job.toml", []byte(hookJob("use = \"club 2/0\"\nleg = 9\n[[cavity]]\n[[cavity]]\nhook = { use = \"club 2/0\", name = \"short\" }\n")), library(hooks))
	if err == nil || !strings.Contains(err.Error(), "cavities") { // the short job says how many
		t.Fatal(err)
	}
	text := strings.Replace(hookJob("use = \"club 2/0\"\nleg = 9"), "cavities = 3\n", "", 1) + "\n[[cavity]]\n[[cavity]]\nhook = { use = \"club 2/0\", name = \"short\" }\n"
	job, err := ReadJobWith("job.toml", []byte(text), library(hooks))
	if err != nil {
		t.Fatal(err)
	}
	c := job.Placed()
	if a, b := c[0].Hook, c[1].Hook; a.Name != "club 2/0" || a.Leg != 9 || a.wire().EyeInside < 1.99 || a.Mass != 0.5 || a.Fit != 0.05 || b.Name != "short" || b.Leg != 8 {
		t.Errorf("got %+v and %+v", a, b)
	}
	for _, c := range []struct{ table, library, file, key, says string }{
		{"use = \"club 20\"", hooks, "job.toml", "hook.use", `did you mean "club 2/0"`},
		{"use = \"x\"", "", "job.toml", "hook.use", "not there"},
		{"use = \"thick\"\nshank = 26\ngape = 20", hooks, "hooks.toml", "thick.wire", "at most 6 mm"},
		{"use = \"odd\"", hooks, "hooks.toml", "odd.wirr", "wire"},
		{"use = \"club 2/0\"", "[club\n", "hooks.toml", "", ""},
	} {
		_, err := ReadJobWith("job.toml", []byte(hookJob(c.table)), library(c.library))
		var list JobErrors
		errors.As(err, &list)
		if len(list) == 0 || list[0].File != c.file || list[0].Key != c.key || !strings.Contains(list[0].Error()+list[0].Hint, c.says) || c.file == "hooks.toml" && list[0].Line == 0 {
			t.Errorf("%s: got %v", c.table, err)
		}
	}
	if _, err := ReadJob("job.toml", []byte(hookJob("use = \"any\""))); err != nil {
		t.Errorf("without a library: %v", err)
	}
	stopped := errors.New("stopped")
	if _, err := ReadJobWith("job.toml", []byte(hookJob("use = \"any\"")), func(name string) (string, []byte, error) { return name, nil, stopped }); !strings.Contains(err.Error(), "stopped") {
		t.Errorf("got %v", err)
	}
}
