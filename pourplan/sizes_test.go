package pourplan

import (
	"errors"
	"strings"
	"testing"

	"halfpour/geom"
)

// sizesJob is a size run over the short job.
const sizesJob = shortJob + `
[[size]]
target = "1/8 oz"
cavities = 4
heads = 20
[size.hook]
wire = 0.8
[[size]]
name = "Big & bare"
target = "1/2 oz"
without_hook = true
sprue = { gate_width = 4 }
turn = 90
[[size]]
`

func TestSizes(t *testing.T) {
	job := read(t, sizesJob)
	molds := job.Molds()
	if len(molds) != 3 {
		t.Fatalf("%d molds, want 3", len(molds))
	}
	small, big, plain := molds[0], molds[1], molds[2]
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"name by target", small.Name, "1/8 oz"}, {"folder", small.Folder, "1-8-oz"},
		{"title", small.Job.Title, "ball jig 1/8 oz"},
		{"marking", strings.Join(small.Job.markingLines(), "|"), "ball jig|1/8 oz"},
		{"cavities", len(small.Job.Placed()), 4}, {"heads", small.Job.Casting.Heads, 20},
		{"wire", float64(small.Job.Hook.Wire), 0.8}, {"leg stays", float64(small.Job.Hook.Leg), 8.6},
		{"folder", big.Folder, "big-bare"}, {"no hook", big.Job.Hook == nil, true},
		{"gate", float64(big.Job.Sprue.GateWidth), 4.0}, {"throat stays", float64(big.Job.Sprue.Throat), 4.0},
		{"name of the plain one", plain.Name, "3/8 oz"}, {"its wire", float64(plain.Job.Hook.Wire), 1.0},
		{"its cavities", len(plain.Job.Placed()), 3}, {"job's own hook", float64(job.Hook.Wire), 1.0},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
	if one := read(t, shortJob).Molds(); len(one) != 1 || one[0].Folder != "" {
		t.Errorf("a job of one mold: %+v", one)
	}
}

// What is wrong with a size is said at the size's own keys, once.
func TestSizeErrors(t *testing.T) {
	for _, c := range []struct{ old, with, key string }{
		{"cavities = 4", "cavities = 0", "size[0].cavities"},
		{"heads = 20", "heads = -1", "size[0].heads"},
		{"wire = 0.8", "wire = 0.1", "size[0].hook.wire"},
		{"gate_width = 4", "gate_width = 400", "size[1].sprue.gate_width"},
		{"turn = 90", "trun = 90", "size[1].trun"},
		{`name = "Big & bare"`, `name = "1/8-OZ"`, "size[1]"},
		{`name = "Big & bare"`, `name = "?"`, "size[1].name"},
		{`name = "Big & bare"`, `name = "Con"`, "size[1].name"},
		{`name = "Big & bare"`, `name = "lpt1."`, "size[1].name"},
		{`name = "Big & bare"`, `name = "` + strings.Repeat("я", 41) + `"`, "size[1].name"},
		{"cavities = 3\n", "cavity = [{}]\n", "cavity"},
		{"[[size]]\ntarget", "[frame]\nwall = -1\n[[size]]\ntarget", "frame.wall"},
	} {
		_, err := ReadJob("job.toml", []byte(strings.Replace(sizesJob, c.old, c.with, 1)))
		var list JobErrors
		if !errors.As(err, &list) || len(list) != 1 || list[0].Key != c.key || list[0].Line == 0 {
			t.Errorf("%s: got %v, want one error of %s with its line", c.with, err, c.key)
		}
	}
}

// A mold that cannot be built is told of at the keys of its size.
func TestSizeExplain(t *testing.T) {
	job := read(t, sizesJob).Molds()[0].Job
	spec, err := job.Spec(func(string) (geom.Solid, error) { return geom.Ball(geom.Vec{}, 5), nil })
	if err != nil {
		t.Fatal(err)
	}
	spec.Cavities[1].Hook.Wire = 0.1
	var list JobErrors
	if err := job.Explain(spec.Validate()); !errors.As(err, &list) || list[0].Key != "size[0].hook.wire" {
		t.Errorf("got %v, want an error of size[0].hook.wire", err)
	}
}

func TestRunList(t *testing.T) {
	job := read(t, sizesJob+"\n[[kit]]\nmass = 200\nprice = 9\n")
	plan := func(a, b, shot float64, shots int, wires ...WirePlan) *Plan {
		return &Plan{
			Rubber: RubberPlan{Name: "tin-cure 100:3", Ratio: "100:3", ScaleStepG: 0.1, TotalAG: 2 * a, TotalBG: 2 * b,
				Halves: []HalfPlan{{Half: "left", AG: a, BG: b}, {Half: "right", AG: a, BG: b}}},
			Metal: MetalPlan{Name: "lead", ShotG: shot, Shots: shots, HeelG: 150, MeltG: float64(shots)*shot/0.95 + 150, ReturnsG: 10},
			Heads: []HeadPlan{{Wires: wires}, {Wires: wires}},
		}
	}
	hook := WirePlan{Name: "jig hook", Hook: true, Count: 1, DiameterMM: 1, LengthMM: 60, SteelG: 0.5}
	barb := WirePlan{Name: "barb", Count: 2, DiameterMM: 0.8, LengthMM: 20, ToCut: true, SteelG: 0.1}
	var molds []PlannedMold
	for i, m := range job.Molds()[:2] {
		molds = append(molds, PlannedMold{m, []*Plan{plan(60, 1.8, 40, 5, hook, barb), plan(80, 2.4, 95, 2, hook)}[i]})
	}
	b, err := NewRunList(job, molds)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"A", b.Rubber.AG, 280}, {"B", b.Rubber.BG, 8.4}, {"both", b.Rubber.TotalG, 288.4},
		// One heel of 150 g, and 5 x 40 + 2 x 95 = 390 g over 0.95.
		{"melt", b.Metal.MeltG, 390/0.95 + 150}, {"returns", b.Metal.ReturnsG, 20},
		// Two heads a shot, 5 and 2 shots; two barbs a head in the first mold.
		{"hooks", float64(b.Hooks[0].Count), 14}, {"barbs", float64(b.Keepers[0].Count), 20}, {"barb wire", b.Keepers[0].TotalMM, 400},
	} {
		near(t, c.what, c.got, c.want, 1e-9)
	}
	if len(b.Hooks) != 1 || len(b.Keepers) != 1 || b.Hooks[0].CutMM != 0 {
		t.Errorf("hooks %+v, keepers %+v", b.Hooks, b.Keepers)
	}
	for _, want := range []string{
		"1/8 oz      left  A 60.0 g  B 1.8 g  right A 60.0 g  B 1.8 g",
		// 5 shots of 40 g and 2 of 95 g; 390/0.95 + 150 to melt, 2 x 10 g back.
		"\n  1/8 oz      5 x 40.0 g (1.411 oz)\n  Big & bare  2 x 95.0 g (3.351 oz)\n",
		"lead: 561 g (19.772 oz) ", " 20.0 g (0.705 oz) ", "tin-cure 100:3, ", "Big & bare  left  A 80.0 g  B 2.4 g  right A 80.0 g  B 2.4 g",
		"buy 2 x ", "400 g (14.110 oz) in all, 112 g", "total A 280 g (9.877 oz), B 8.40 g", "jig hook     14  wire 1 mm", "barb     20  wire 0.8 mm, cut 20.0 mm each, 0.40 m in all",
	} {
		if !strings.Contains(b.Text(), want) {
			t.Errorf("no %q in\n%s", want, b.Text())
		}
	}
}

// Wires are of one kind that agree in name and figures to what can be told
// apart.
func TestRunWires(t *testing.T) {
	base := WirePlan{Name: "barb", Count: 2, DiameterMM: 0.8, LengthMM: 20, ToCut: true, SteelG: 0.1}
	for i, change := range []func(*WirePlan){
		func(w *WirePlan) { w.Name = "spike" }, func(w *WirePlan) { w.DiameterMM = 0.801 }, func(w *WirePlan) { w.LengthMM = 20.1 },
		func(w *WirePlan) { w.SteelG = 0.101 }, func(w *WirePlan) { w.ToCut = false },
	} {
		b, other := &RunList{}, base
		change(&other)
		b.addWires([]WirePlan{base, other, base}, 3)
		if len(b.Keepers) != 2 || b.Keepers[0].Count != 12 || b.Keepers[1].Count != 6 || b.Keepers[0].TotalMM != 240 {
			t.Errorf("change %d: %+v", i, b.Keepers)
		}
	}
	b, hook := &RunList{}, base
	hook.Hook = true
	other := base
	other.DiameterMM += 5e-7
	b.addWires([]WirePlan{hook, base, other}, 1)
	if len(b.Hooks) != 1 || len(b.Keepers) != 1 || b.Keepers[0].Count != 4 {
		t.Errorf("%+v", b)
	}
}
