package heat_test

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest/tets"
	"halfpour/moldbox/heat"
)

// outsideVariable, when set, has the tests run that need another program;
// .ci/run installs it and sets this.
const outsideVariable = "HALFPOUR_OUTSIDE"

// pouring is metal poured into a block: what both programs are told.
type pouring struct {
	metal, rubber, board heat.Substance
	contact              float64 // W/(m²·K), 0 for perfect
	pour, mold, air      float64 // °C
	loss                 float64 // to the air, W/(m²·K)
	until                float64 // s
}

// course is what the other program finds.
type course struct {
	times []float64   // s
	skin  [][]float64 // at each time, °C by place
	solid [3]float64  // when head, neck and funnel are, s; below 0 when never
	said  string
}

// at returns the skin at a time by a straight line from one step to the next.
func (c course) at(time float64) []float64 {
	i := 1
	for i < len(c.times)-1 && c.times[i] < time {
		i++
	}
	share := (time - c.times[i-1]) / (c.times[i] - c.times[i-1])
	out := make([]float64, len(c.skin[i]))
	for k := range out {
		out[k] = c.skin[i-1][k] + share*(c.skin[i][k]-c.skin[i-1][k])
	}
	return out
}

// finiteElements is FreeFem++ on a script of .ci/outside/heat, with the other
// files that it reads.
func finiteElements(t *testing.T, script string, p pouring, files map[string]string, options ...string) course {
	t.Helper()
	dir := t.TempDir()
	files["case.txt"] = p.text()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	path, err := filepath.Abs(filepath.Join("..", "..", ".ci", "outside", "heat", script))
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command("FreeFem++", append([]string{"-nw", "-ne", "-v", "0", path}, options...)...)
	run.Dir = dir
	said, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	out, err := os.ReadFile(filepath.Join(dir, "out.txt"))
	if err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	c := course{said: string(said)}
	for line := range strings.Lines(string(out)) {
		words := strings.Fields(line)
		var numbers []float64
		for _, w := range words[1:] {
			x, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			numbers = append(numbers, x)
		}
		switch words[0] {
		case "t":
			c.times = append(c.times, numbers[0])
			c.skin = append(c.skin, numbers[1:])
		case "solid":
			copy(c.solid[:], numbers)
		}
	}
	if len(c.times) < 2 {
		t.Fatalf("no steps: %s", said)
	}
	t.Log(strings.TrimSpace(c.said))
	return c
}

// text is the case as the scripts read it, in W, mm, J.
func (p pouring) text() string {
	capacity := func(s heat.Substance) float64 {
		a, b := s.States[0], s.States[1]
		return (b.H - a.H) / (b.C - a.C)
	}
	var b strings.Builder
	fmt.Fprintln(&b, "kmetal", p.metal.States[0].K/1000, "krest", p.rubber.States[0].K/1000, "crest", capacity(p.rubber),
		"kboard", p.board.States[0].K/1000, "cboard", capacity(p.board), "contact", p.contact*1e-6,
		"pour", p.pour, "mold", p.mold, "air", p.air, "loss", p.loss*1e-6, "tend", p.until, "tsolid", p.metal.Solidus())
	fmt.Fprintln(&b, "knots", len(p.metal.States))
	for _, s := range p.metal.States {
		fmt.Fprintln(&b, s.C, s.H)
	}
	return b.String()
}

// patch is how far round a place the skin is averaged, mm: scales and edges of the
// head are finer than what either program's cells show.
const patch = 1.0

// inBlock is what block.edp reads: the mesh, how high neck and funnel begin, and
// the places of the skin that are wanted. With a contact the mesh is taken apart.
func inBlock(t *testing.T, m *tets.Mesh, p pouring, neck, funnel float64, wanted ...geom.Vec) map[string]string {
	t.Helper()
	area := map[int32]float64{}
	for _, f := range m.Faces {
		if f.Label != tets.Surface {
			continue
		}
		q := m.Tets[f.Tet]
		i, j, k := q[(f.Corner+1)%4], q[(f.Corner+2)%4], q[(f.Corner+3)%4]
		a := m.Points[j].Sub(m.Points[i]).Cross(m.Points[k].Sub(m.Points[i])).Norm() / 6
		area[i], area[j], area[k] = area[i]+a, area[j]+a, area[k]+a
	}
	var pairs, probes, mesh strings.Builder
	apart := map[int32]int32{}
	if p.contact > 0 {
		list := m.Apart()
		fmt.Fprintln(&pairs, len(list))
		for _, q := range list {
			fmt.Fprintln(&pairs, q[0], q[1])
			apart[q[0]] = q[1]
		}
	}
	count := 0
	for n, w := range wanted {
		sum := 0.0
		var near []int32
		for i := range m.Points {
			if a, ok := area[int32(i)]; ok && m.Points[i].Sub(w).Norm() <= patch {
				near = append(near, int32(i))
				sum += a
			}
		}
		if len(near) == 0 {
			t.Fatalf("no skin at %v", w)
		}
		for _, i := range near {
			node := i
			if p.contact > 0 {
				node = apart[i]
			}
			fmt.Fprintln(&probes, n, node, area[i]/sum)
		}
		count += len(near)
	}
	if err := m.WriteMedit(&mesh); err != nil {
		t.Fatal(err)
	}
	return map[string]string{"block.mesh": mesh.String(), "pairs.txt": pairs.String(),
		"probes.txt": fmt.Sprintln(neck, funnel, count) + probes.String()}
}

func needFreeFem(t *testing.T) {
	t.Helper()
	if os.Getenv(outsideVariable) == "" {
		t.Skipf("needs FreeFem++ and minutes: set %s=1, as .ci/run does", outsideVariable)
	}
}

// within fails when two figures are further apart than a share of the second.
func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	t.Logf("%s: %.4g, by the other %.4g (%+.2f %%)", what, got, want, 100*(got/want-1))
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %g, by the other %g: %+.2f %%, allowed %.2g %%", what, got, want, 100*(got/want-1), 100*share)
	}
}

func line(name string, k float64, points ...[2]float64) heat.Substance {
	s := heat.Substance{Name: name}
	for _, p := range points {
		s.States = append(s.States, heat.State{C: p[0], H: p[1], K: k})
	}
	s.States[0].Solid, s.States[1].Solid = 1, 1
	return s
}

func graded(finest, inMetal, inRubber float64) func(float64) float64 {
	return func(d float64) float64 { return math.Max(finest, math.Max(inRubber*d, -inMetal*d)) }
}

func cut(t *testing.T, s geom.Solid, box geom.Box, opt tets.Options) *tets.Mesh {
	t.Helper()
	m, err := tets.New(s, box, opt)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

var (
	rubber = heat.Plain("rubber", 0.27, 1.32, 1.25)
	wood   = heat.Plain("wood", 0.12, 0.55, 1.6)
)
