package pourplan

import (
	"math"
	"strings"
	"testing"
)

// A head far from its size as modelled is told of, with the slip that explains it.
// The balls weigh what 3/8 oz comes to; a target that is k times as heavy takes
// a scale of the cube root of k.
func TestScaleFindings(t *testing.T) {
	const asModelled = 3.0 / 8
	for _, c := range []struct {
		name, target string
		scale        float64
		want         string
	}{
		{"as drawn", `"3/8 oz"`, 1, ""},
		{"half", `"3/8 oz"`, 0.5, ""},
		{"twice", `"3/8 oz"`, 2, ""},
		{"less than half", `"3/8 oz"`, 0.499, "check weight.target"},
		{"more than twice", `"3/8 oz"`, 2.001, "for grams write weight.target = 0.375"},
		{"drawn in mm, said to be inches", `"3/8 oz"`, 1.0 / 18, "head.unit"},
		{"drawn in mm, said to be cm", "11", 0.07, "head.unit"},
		{"grams meant as ounces", "2", math.Cbrt(2/(asModelled*GramPerOz)) * 0.8, `for ounces write weight.target = "2 oz"`},
		{"ounces meant as grams", `"9 oz"`, math.Cbrt(9 / asModelled), "for grams write weight.target = 9"},
		{"drawn in inches", `"3/8 oz"`, 18, "head.unit"},
		{"no slip explains it", `"3/8 oz"`, 0.3, "check weight.target and head.unit"},
	} {
		job := read(t, strings.Replace(shortJob, `target = "3/8 oz"`, "target = "+c.target, 1))
		in := measuredBalls(3)
		in.Cavities[1].Scale = c.scale
		// A plan weighs what was measured; here it is what is asked.
		in.Cavities[1].Head = in.Cavities[1].WireInHead + MetalFor(float64(job.Weight.Target), 11.04, 1, 0.38)
		got := ""
		for _, f := range plan(t, job, in).Findings {
			if f.Code == "scale-odd" {
				got += f.Remedy
				if limit := map[bool]float64{true: 0.5, false: 2}[c.scale < 1]; f.Value != c.scale || f.Limit != limit || f.Message == "" {
					t.Errorf("%s: %+v, want the limit %g", c.name, f, limit)
				}
			}
		}
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

// A target of metal alone has no steel in it: 0.55 oz of metal make a head that
// is modelled 0.201 times as large just half of it, with 1 g of steel a little
// less. By hand: 0.201·∛15.592 = 0.502, 0.201·∛14.592 = 0.491.
func TestScaleFindingsOfMetalAlone(t *testing.T) {
	for of, want := range map[string]string{"metal": `"0.55 oz"`, "finished": "check weight.target"} {
		h := HeadPlan{Scale: 0.201, TargetG: 0.55, TargetOf: of, SteelG: 1, MetalG: Range{Best: 1}}
		if got := h.oddBecause(); !strings.Contains(got, want) {
			t.Errorf("%s: got %q, want %q in it", of, got, want)
		}
	}
}
