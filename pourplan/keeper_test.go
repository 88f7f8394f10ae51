package pourplan

import (
	"errors"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

const keeperTable = `
[[keeper]]
name = "spike"
wire = 0.8
count = 3
step = [2, 0, 0]
points = [[3, 2, 0], [12, 2, 0], ["14 mm", 4, 0]]
`

func TestKeepersReachTheSpec(t *testing.T) {
	job := read(t, shortJob+keeperTable+"[[keeper]]\nwire = \"0.02 in\"\nin_hook = [[0, -5], [14, -5]]\nmass = 0.3\n")
	spec, err := job.Spec(balls(t, map[string]int{}))
	if err != nil {
		t.Fatal(err)
	}
	if err := spec.Validate(); err != nil {
		t.Fatal(err)
	}
	c := spec.Cavities[2]
	if len(c.Keepers) != 2 {
		t.Fatalf("got %d keepers", len(c.Keepers))
	}
	k := c.Keepers[0]
	if k.Name != "spike" || k.Count != 3 || k.Step != (geom.Vec{X: 2}) || k.Points[2] != (geom.Vec{X: 14, Y: 4}) || k.Fit != 0.05 {
		t.Errorf("got %+v", k)
	}
	// All steel is taken off the target: hook, three spikes, a weighed wire.
	steel := 7.85e-3*(c.Hook.Volume()+3*k.Volume(c.Pose)) + 0.3
	near(t, "metal", c.MetalVolume, (10.631071171875-steel)/(11.0412*fedByHand())*1000, 1e-5)
}

// A cavity's own keepers replace the job's; coordinates follow the file's unit.
func TestKeepersOfACavity(t *testing.T) {
	job := read(t, strings.Replace(shortJob, "cavities = 3\n", "", 1)+keeperTable+`
[[cavity]]
[[cavity]]
head.unit = "in"
keeper = [{ wire = 0.9, points = [[0.1, 0, 0], ["20 mm", 0, 0]] }]
[[cavity]]
keeper = []
`)
	c := job.Placed()
	if len(c) != 3 || len(c[0].Keeper) != 1 || len(c[1].Keeper) != 1 || len(c[2].Keeper) != 0 {
		t.Fatalf("got %+v", c)
	}
	if c[0].Keeper[0].Name != "spike" || c[1].Keeper[0].Name != "" || c[1].Keeper[0].Density != springSteel {
		t.Errorf("got %+v", c[1].Keeper[0])
	}
	k := c[1].Keeper[0].shape(c[1].Head.MMPerUnit())
	if math.Abs(k.Points[0].X-2.54) > 1e-12 || k.Points[1].X != 20 {
		t.Errorf("got %+v", k.Points)
	}
}

func TestKeeperErrors(t *testing.T) {
	for _, c := range []struct{ table, key, says string }{
		{"[[keeper]]\nwire = 0.8\n", "keeper[0].points", "must give the wire's axis"},
		{"[[keeper]]\nwire = 9\npoints = [[0, 0, 0], [9, 0, 0]]\n", "keeper[0].wire", "must be at most 6 mm"},
		{"[[keeper]]\nwire = 0.8\npoints = [[0, 0, 0], [0, 0, 4]]\n", "keeper[0].points", "must be apart in the parting plane"},
		{"[[keeper]]\nwire = 0.8\npoints = [[0, 0, 0], [0, 0]]\n", "keeper[0].points", "place 2: want a place"},
		{"[[keeper]]\nwire = 0.8\ncount = 2\npoints = [[0, 0, 0], [9, 0, 0]]\n", "keeper[0].step", "must move the wires apart"},
		{"[[keeper]]\nwire = 0.8\ncount = 0\npoints = [[0, 0, 0], [9, 0, 0]]\n", "keeper[0].count", "must be at least 1"},
		{"[[keeper]]\nwire = 0.8\npoints = [[0, 0, 0], [9, 0, 0]]\nin_hook = [[0, 0], [9, 0]]\n", "keeper[0].in_hook", "cannot be used with points"},
		{"[[keeper]]\nwyre = 0.8\n", "keeper[0].wyre", "no such key in [keeper]"},
		{"[keeper]\nwire = 0.8\n", "keeper", "want a list of tables"},
	} {
		_, err := ReadJob("job.toml", []byte(shortJob+c.table))
		list, ok := err.(JobErrors)
		if !ok || len(list) == 0 {
			t.Errorf("%q: no error, or %v", c.table, err)
			continue
		}
		if e := list[0]; e.Key != c.key || !strings.Contains(e.Err.Error(), c.says) || e.Line == 0 {
			t.Errorf("%q: %v at line %d", c.table, e, e.Line)
		}
	}
}

// Alike neighbours make one kind with a count; the steel in the head is their
// mean.
func TestPlanWires(t *testing.T) {
	job := read(t, strings.Replace(shortJob, "cavities = 3", "cavities = 1", 1)+keeperTable)
	c := job.Placed()[0]
	m := measuredBalls(1).Cavities[0]
	for _, in := range []float64{2, 3, 4} {
		m.Wires = append(m.Wires, moldbox.PlacedWire{Name: "spike", Keeper: 0, Diameter: 0.8, Volume: 10, InHead: in, Length: 20})
	}
	ws := planWires(c, m)
	if len(ws) != 2 || !ws[0].Hook || ws[0].ToCut || ws[1].Hook || !ws[1].ToCut || ws[1].Count != 3 {
		t.Fatalf("got %+v", ws)
	}
	near(t, "steel", ws[1].SteelG, 10*7.85e-3, 1e-12)
	near(t, "steel in the head", ws[1].SteelInHeadG, 3*7.85e-3, 1e-12)
	h := planHead(c, m, Metal{FillFactor: 1, Density: exactly(10)}, Rubber{}, 60)
	near(t, "all steel", h.SteelG, (47.5+30)*7.85e-3, 1e-12)
	near(t, "all steel in the head", h.SteelInHeadG, (12+9)*7.85e-3, 1e-12)
}

// A keeper's body takes the place of wire and points; a mirrored one counts twice.
func TestKeysOfKeepers(t *testing.T) {
	for _, c := range []struct{ table, key string }{
		{"file = \"wire.stl\"\nmirror = true", ""},
		{"wire = 0.8\nin_hook = [[0, -5], [14, -5]]\nmirror = true", ""},
		{"file = \"wire.stl\"\nwire = 0.8", "keeper[0].wire"},
		{"file = \"wire.stl\"\npoints = [[0, 0, 0], [9, 0, 0]]", "keeper[0].points"},
		{"file = \"wire.stl\"\nleaves = true", ""},
		{"file = \"//host/wire.stl\"", "keeper[0].file"},
		{"in_hook = [[0, -5], [14, -5]]", "keeper[0].wire"},
		{"wire = 0.8", "keeper[0].points"},
	} {
		_, err := ReadJob("job.toml", []byte(shortJob+"\n[[keeper]]\n"+c.table+"\n"))
		var list JobErrors
		errors.As(err, &list)
		switch {
		case c.key == "" && err != nil:
			t.Error(err)
		case c.key != "" && (len(list) != 1 || list[0].Key != c.key):
			t.Errorf("%s: got %v", c.table, err)
		}
	}
	const wire = "\n[[keeper]]\nwire = 0.8\nmass = 0.4\nin_hook = [[0, -5], [14, -5]]\n"
	one, two := read(t, shortJob+wire), read(t, shortJob+wire+"mirror = true\n")
	metal := func(j *Job) float64 {
		spec, err := j.Spec(balls(t, map[string]int{}))
		if err != nil {
			t.Fatal(err)
		}
		return spec.Cavities[0].MetalVolume
	}
	near(t, "metal that one wire more of 0.4 g leaves out", metal(one)-metal(two), 0.4/(11.0412*fedByHand())*1000, 1e-5)
}
