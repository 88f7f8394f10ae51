package pourplan

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"halfpour/geom/geomtest"
)

func TestReadPlanReadsWhatWasWritten(t *testing.T) {
	p := plan(t, read(t, shortJob), measuredBalls(3))
	data, err := p.JSON()
	if err != nil {
		t.Fatal(err)
	}
	got, err := ReadPlan(data)
	if err != nil || !reflect.DeepEqual(got, p) {
		t.Errorf("%v\n got %+v\nwant %+v", err, got, p)
	}
}

func TestReadPlanRefuses(t *testing.T) {
	good, err := plan(t, read(t, shortJob), measuredBalls(3)).JSON()
	if err != nil {
		t.Fatal(err)
	}
	edit := func(old, with string) string {
		if !strings.Contains(string(good), old) {
			t.Fatalf("the plan has no %s", old)
		}
		return strings.Replace(string(good), old, with, 1)
	}
	for _, c := range []struct{ text, want string }{
		{"", "is no plan: EOF"},
		{"{}", "plan schema must be 1, got 0"},
		{edit(`"schema": 1`, `"schema": 2`), "plan schema must be 1, got 2"},
		{edit(`"metal_mm3": 928`, `"metal_mm3": -928`), `plan's head "ball" must hold metal and weigh something, got -928 mm³ and`},
		{edit(`"ratio_b": 3`, `"ratio_b": 0`), "plan must have a ratio, a scale's step and a density, got 100:0"},
		{string(good) + "{}", "is no plan: something follows it"},
	} {
		if _, err := ReadPlan([]byte(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
}

// Whatever is read as a plan can be written, and reads as the same plan. The
// input is what stands behind the fields of a small plan, which it replaces as
// JSON does: fuzzing spends a minute on making each plan of many kB smaller, and
// finds nothing meanwhile.
func FuzzReadPlan(f *testing.F) {
	small := smallPlan(f)
	fields := bytes.TrimSuffix(small, []byte("}"))
	for _, s := range []string{
		`"title":"x"`, `"schema":2`, `"heads":[{"name":"a","metal_mm3":1e308,"finished_g":{"low":1,"best":1,"high":1}}]`, `"heads":[]`,
		`"rubber":{"ratio_a":1e-300,"ratio_b":1e300,"halves":[{"half":"left","a_g":-1}]}`, `"metal":{"density_g_cm3":{"best":1e-308}}`, `"cost":null}{`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		const most = 512
		if len(data) <= most {
			tryPlan(t, slices.Concat(fields, []byte(","), data, []byte("}")))
		}
	})
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledPlan(t *testing.T) { geomtest.Mangle(t, planSamples(t), tryPlan) }

func planSamples(t testing.TB) (samples [][]byte) {
	add := func(data []byte) { samples = append(samples, data) }
	job, err := ReadJob("job.toml", []byte(shortJob))
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPlan(job, measuredBalls(3))
	if err != nil {
		t.Fatal(err)
	}
	data, err := p.JSON()
	if err != nil {
		t.Fatal(err)
	}
	add(data)
	add([]byte(`{"schema":1}`))
	add(bytes.Replace(data, []byte("928"), []byte("1e308"), 1))
	small := smallPlan(t)
	add(small)
	add(bytes.Replace(small, []byte("928"), []byte("0.928e3"), 1))
	return samples
}

// smallPlan is the least that is a plan, of which broken copies stay plans more
// often.
func smallPlan(t testing.TB) []byte {
	job, err := ReadJob("job.toml", []byte(shortJob))
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPlan(job, measuredBalls(3))
	if err != nil {
		t.Fatal(err)
	}
	small, err := json.Marshal(&Plan{Schema: p.Schema, Heads: p.Heads[:1], Rubber: p.Rubber, Metal: p.Metal, Casting: p.Casting, Cost: p.Cost})
	if err != nil {
		t.Fatal(err)
	}
	return small
}

var demo = sync.OnceValues(func() (*Account, error) { return ReadAccount([]byte(demoAccount)) })

func tryPlan(t testing.TB, data []byte) {
	p, err := ReadPlan(data)
	if err != nil {
		return
	}
	out, err := p.JSON()
	if err != nil {
		t.Fatal(err)
	}
	again, err := ReadPlan(out)
	if err != nil {
		t.Fatal(err)
	}
	if twice, err := again.JSON(); err != nil || !bytes.Equal(out, twice) {
		t.Errorf("%v: changed by reading again", err)
	}
	usePlan(t, p)
}

// usePlan asks of a plan what mix, compare and log ask of one: what was read
// must not bring them down, and what they print with --json must be JSON.
func usePlan(t testing.TB, p *Plan) {
	for _, half := range []string{"left", "right", "both"} {
		if b, err := p.Batch(half); err == nil && b.Half != half {
			t.Errorf("batch of the %s half is of %q", half, b.Half)
		}
	}
	account, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	differences := Compare(p, p)
	for _, d := range differences {
		if d.Row(); !d.Same() {
			t.Errorf("a plan differs from itself in %s, %s", d.Group, d.What)
		}
	}
	for _, shown := range []any{differences, account.Summarise(p, account.LastMold())} {
		if _, err := json.Marshal(shown); err != nil {
			t.Error(err)
		}
	}
}

// What account, mix and comparison count with has its bounds: each figure just
// inside and just outside.
func TestReadPlanBounds(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Plan)
		ok     bool
	}{
		{"as it is", func(*Plan) {}, true},
		{"no metal", func(p *Plan) { p.Heads[1].MetalMM3 = 0 }, false},
		{"hardly any metal", func(p *Plan) { p.Heads[1].MetalMM3 = 1e-9 }, true},
		{"no steel", func(p *Plan) { p.Heads[1].SteelG = 0 }, true},
		{"less than no steel", func(p *Plan) { p.Heads[1].SteelG = -1e-9 }, false},
		{"a range of one figure", func(p *Plan) { p.Heads[2].FinishedG = Range{1, 1, 1} }, true},
		{"a range from nothing", func(p *Plan) { p.Heads[2].FinishedG = Range{0, 1, 1} }, false},
		{"best below the least", func(p *Plan) { p.Heads[2].FinishedG = Range{2, 1, 3} }, false},
		{"best above the most", func(p *Plan) { p.Heads[2].FinishedG = Range{1, 3, 2} }, false},
		{"no heads", func(p *Plan) { p.Heads = nil }, false},
		{"no halves", func(p *Plan) { p.Rubber.Halves = nil }, false},
		{"no part A", func(p *Plan) { p.Rubber.RatioA = 0 }, false},
		{"no part B", func(p *Plan) { p.Rubber.RatioB = 0 }, false},
		{"no scale", func(p *Plan) { p.Rubber.ScaleStepG = 0 }, false},
		{"no density", func(p *Plan) { p.Metal.DensityGCM3.Best = 0 }, false},
		{"endless density", func(p *Plan) { p.Metal.DensityGCM3.Best = math.Inf(1) }, false},
		{"tiny figures", func(p *Plan) {
			p.Rubber.RatioA, p.Rubber.RatioB, p.Rubber.ScaleStepG, p.Metal.DensityGCM3.Best = 1e-9, 1e-9, 1e-9, 1e-9
		}, true},
	} {
		p := plan(t, read(t, shortJob), measuredBalls(3))
		c.change(p)
		if err := p.checkRead(); (err == nil) != c.ok {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	long := make([]byte, MaxPlanBytes+1)
	if _, err := ReadPlan(long); err == nil || !strings.Contains(err.Error(), "8388609 bytes, at most 8388608") {
		t.Errorf("a byte too long: %v", err)
	}
	if _, err := ReadPlan(long[1:]); err == nil || strings.Contains(err.Error(), "bytes, at most") {
		t.Errorf("just not too long: %v", err)
	}
}
