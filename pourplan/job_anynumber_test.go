package pourplan

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/BurntSushi/toml"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/geomtest"
	"halfpour/moldbox"
)

// anyNumberJobs mention every key that takes a number, as bare numbers.
var anyNumberJobs = []string{`
cavities = 2
turn = -90
[head]
file = "a.stl"
parting = 0.1
eye = [-1.8, 8.6, 0.1]
gate = [-5.9, 0, 0]
[hook]
wire = 1
eye_inside = 2.2
leg = 8.6
leg_angle = 90
shank = 24
gape = 9
point = 6
fit = 0.05
bend = 1
eye_rubber = 1.2
mass = 0.4
density = 7.85
[[keeper]]
wire = 0.8
points = [[2, 1, 0], [12, 1, 0]]
bend = 1
count = 2
step = [0, 2.5, 0]
fit = 0.05
mass = 0.1
density = 7.9
[weight]
target = 10
wall = 0.1
[metal]
composition = { tin = 42, bismuth = 58 }
density = 8.56
density_range = [8.5, 8.6]
shrink = 0.17
shrink_range = [0.1, 0.2]
fill_factor = 0.99
fill_range = [0.97, 1]
liquidus = 139
solidus = 138
latent = 44
[casting]
superheat = 54
mold = 50
dross = 4
heel = 200
heads = 100
yield = 80
life = [15, 40]
pot = 4000
[rubber]
name = "own rubber"
cure = "platinum"
ratio = "10:1"
density_a = 1.1
density_b = 1.0
shrink = 0.1
shrink_range = [0, 0.1]
expansion = 250
expansion_range = [200, 300]
pot_life = "2700 s"
demold = "57600 s"
rest = "86400 s"
heat_continuous = 200
heat_short = 250
conductivity = 0.25
specific_heat = 1.4
waste = 6
residue = 10
brush = 0.4
scale = 0.5
b_tolerance = 5
hardness = 30
[layout]
rows = 1
[frame]
floor = 2
wall = 2
draft = 2
corner = 3
over = 8
to_wall = 10
between = 8
freeboard = 3
pry_tab = 4
[keys]
count = 4
diameter = 6
depth = 2
clearance = 0.2
clear = 3
[sprue]
mouth = 12
throat = 4
length = 16
gate_width = 3
gate_thickness = 2
gate_length = 2
[vents]
width = 1
depth = 0.5
count = 1
[marking]
lines = []
height = 5
relief = 0.5
[finish]
seal_coat = 0.08
powder = 0.1
powder_density = 1.6
bake = 110
socket = 4.5
stick_eye = 4
[[coat]]
coats = 2
thickness = 0.12
density = 1.15
bake = 60
bake_time = "1800 s"
stays = 90
[print]
nozzle = 0.4
gap = 5
layer = 0.2
step = 0.08
bed_x = 220
bed_y = 220
bed_high = 250
[checks]
air = 1
undercut = 2
rubber = 1
overhang = 50
gap = 0.2
flash = 2
[output]
tolerance = 0.05
[buying]
molds = 2
have = 100
shelf_life = "8640000 s"
[[kit]]
mass = 1000
price = 40
[evening]
room = 23
mix = "300 s"
deair = "300 s"
pour = "480 s"
cup = 500
post_cure = "3600 s"
post_cure_at = 60
[plastic]
filament = 1.75
name = "own"
softens = 60
density = 1.24
solid = 40
[cost]
metal = 20
hook = 0.2
keeper = 0.1
plastic = 20
other = 5
shop = 2
`, `
[head]
file = "a.stl"
nose = [-1.0, 0.0, 0.01]
back = [0.05, 1.0, 0.0]
left = [0.01, 0.0, 1.0]
eye = [-1.8, 8.6, 0]
[hook]
wire = 1
eye_inside = 2.2
points = [[0, -8.6], [24, -8.6], [24, 1.0]]
[[keeper]]
wire = 0.8
in_hook = [[4, -6.5], [14, -6.5]]
[metal]
preset = "tin"
[casting]
pour = 300
[rubber]
preset = "tin-cure 100:5"
density = 1.2
[frame]
pitch = 60
[weight]
scale = 1
[runner]
diameter = 5
rise = 3
[[kit]]
a = 1000
price = 40
[[cavity]]
count = 2
turn = 10
[[cavity]]
turn = 20
`, `
[head]
file = "a.stl"
[metal]
preset = "tin"
[rubber]
preset = "tin-cure 100:5"
[[size]]
name = "small"
turn = 10
target = 10
cavities = 2
heads = 10
[cost]
rubber = 40
`, `
[head]
file = "a.stl"
eye = [-1.8, 8.6, 0]
[hook]
wire = 1
over_eye = 4.2
over_leg = 11.2
over_length = 31.6
over_gape = 10
over_point = 11
[metal]
preset = "tin"
[rubber]
preset = "tin-cure 100:5"
`}

// numberAt is a number of a job's text, and how to have another in its place.
type numberAt struct {
	job, key string
	with     func(x float64) string
}

// numbersOf lists the numbers of a job's text.
func numbersOf(t testing.TB, job string) []numberAt {
	var all []numberAt
	var walk func(key string, v any)
	tree := func() map[string]any {
		var root map[string]any
		if _, err := toml.Decode(job, &root); err != nil {
			t.Fatal(err)
		}
		return root
	}
	step := func(v any, k any) any {
		switch k := k.(type) {
		case string:
			return v.(map[string]any)[k]
		default:
			return reflect.ValueOf(v).Index(k.(int)).Interface()
		}
	}
	var path []any
	walk = func(key string, v any) {
		down := func(k any, name string, w any) {
			path = append(path, k)
			walk(name, w)
			path = path[:len(path)-1]
		}
		switch v := v.(type) {
		case map[string]any:
			for _, k := range sortedKeys(v) {
				down(k, strings.TrimPrefix(key+"."+k, "."), v[k])
			}
		case []any:
			for i, w := range v {
				down(i, key, w)
			}
		case []map[string]any:
			for i, w := range v {
				down(i, key, w)
			}
		case int64, float64, string:
			text, _ := v.(string)
			if number, unit, _ := strings.Cut(text, " "); text != "" && (unit != "s" || number == "") {
				return
			}
			way := append([]any(nil), path...)
			all = append(all, numberAt{job, key, func(x float64) string {
				root := tree()
				at := any(root)
				for _, k := range way[:len(way)-1] {
					at = step(at, k)
				}
				var value any = x
				switch {
				case text != "":
					value = fmt.Sprint(x, " s")
				case x == math.Trunc(x) && math.Abs(x) < 1e18:
					value = int64(x)
				}
				switch at := at.(type) {
				case map[string]any:
					at[way[len(way)-1].(string)] = value
				case []any:
					at[way[len(way)-1].(int)] = value
				}
				var b bytes.Buffer
				if err := toml.NewEncoder(&b).Encode(root); err != nil {
					t.Fatal(err)
				}
				return b.String()
			}})
		}
	}
	walk("", tree())
	return all
}

// Every key of a job whose values are numbers stands in anyNumberJobs.
func TestAnyNumberJobsMentionEveryKey(t *testing.T) {
	told := map[string]bool{}
	for _, job := range anyNumberJobs {
		read(t, job)
		for _, n := range numbersOf(t, job) {
			told[n.key] = true
		}
	}
	eachKey(func(table string, k key) {
		name := strings.TrimPrefix(table+"."+k.name, ".")
		switch kind := k.kind().name; {
		case k.isTable(), strings.HasPrefix(table, "cavity"), strings.HasPrefix(table, "size."): // as in the job
		case table == "box": // makes no mold
		case strings.Contains(kind, "text"), strings.Contains(kind, "clock"), kind == "true or false", kind == `"A:B"`, strings.HasPrefix(kind, "{"):
		case !told[name]:
			t.Errorf("no number for %s, a %s", name, kind)
		}
	})
}

// meshBall loads a coarse ball of 6 mm, whose volume is known at once.
var meshBall = sync.OnceValue(func() func(string) (geom.Solid, error) {
	solid, err := geom.NewMeshSolid(heads.Ball(12, 4))
	return func(string) (geom.Solid, error) { return solid, err }
})

// lateness is how long after its context's end a mold may be given up, on a busy
// machine.
const lateness = 8 * time.Second

// tryNumber reads a job and makes its mold and plan: whatever its numbers, that
// ends with its context, in a mold and a plan or in an error at a key. A known mold is
// not made again.
func tryNumber(t testing.TB, key, text string, within time.Duration, known ...moldbox.Spec) {
	ctx, cancel := context.WithTimeout(context.Background(), within)
	defer cancel()
	began := time.Now()
	defer func() {
		if took := time.Since(began); took > within+lateness {
			t.Errorf("%s: took %v\n%s", key, took, text)
		}
	}()
	job, err := ReadJob("job.toml", []byte(text))
	if err != nil {
		return
	}
	load := meshBall()
	for _, m := range job.Molds() {
		spec, err := m.Job.Spec(load)
		if err == nil && !slices.ContainsFunc(known, func(s moldbox.Spec) bool { return reflect.DeepEqual(s, spec) }) {
			_, err = moldbox.Build(ctx, spec)
		}
		if err != nil && !errors.Is(err, context.DeadlineExceeded) {
			if list := (JobErrors{}); !errors.As(m.Job.Explain(err), &list) {
				t.Errorf("%s: not at a key: %v", key, err)
			}
		}
		if p, err := NewPlan(m.Job, measuredBalls(len(m.Job.Placed()))); err == nil {
			if _, err := p.JSON(); err != nil {
				t.Errorf("%s: a plan that cannot be written: %v\n%s", key, err, text)
			}
		}
	}
}

// Any finite number as any key: no job runs on after its context, none panics.
func TestAnyNumber(t *testing.T) {
	random := rand.New(rand.NewPCG(20, 25))
	for _, job := range anyNumberJobs {
		var known []moldbox.Spec
		load := meshBall()
		for _, m := range read(t, job).Molds() {
			spec, err := m.Job.Spec(load)
			if err != nil {
				t.Fatal(err)
			}
			known = append(known, spec)
		}
		for _, n := range numbersOf(t, job) {
			numbers := append(farNumbers, math.Exp(random.NormFloat64()*4)*float64(1-2*random.IntN(2)))
			if !geomtest.Long() {
				numbers = numbers[random.IntN(len(numbers)):][:1]
			}
			for _, x := range numbers {
				tryNumber(t, fmt.Sprintf("%s = %g", n.key, x), n.with(x), 60*time.Millisecond, known...)
			}
		}
	}
}

var farNumbers = []float64{0, 1e7, -math.MaxFloat64}

func FuzzAnyNumber(f *testing.F) {
	var all []numberAt
	for _, job := range anyNumberJobs {
		all = append(all, numbersOf(f, job)...)
	}
	f.Add(uint16(0), 1.0)
	f.Add(uint16(20), -1e18)
	f.Fuzz(func(t *testing.T, i uint16, x float64) {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return
		}
		n := all[int(i)%len(all)]
		tryNumber(t, fmt.Sprintf("%s = %g", n.key, x), n.with(x), 2*time.Second)
	})
}
