package pourplan

import (
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// A thin section is told of when metal hardly enters it, or when it freezes
// first; one that fills is not.
func TestFillFindings(t *testing.T) {
	job := read(t, shortJob)
	heat := plan(t, job, measuredBalls(3)).Heads[0].Fill
	for _, c := range []struct {
		thick float64
		want  string
	}{
		{0.9 * heat.FinestRadiusMM, "section-too-fine"},
		{1.1 * heat.FinestRadiusMM, "section-freezes"},
		{4, ""},
	} {
		in := measuredBalls(3)
		in.Cavities[0].Thin = &moldbox.ThinSection{Thickness: c.thick, At: geom.Vec{X: 1}, HeadAt: geom.Vec{X: 2}}
		got := ""
		for _, f := range plan(t, job, in).Findings {
			if f.Code == "section-too-fine" || f.Code == "section-freezes" {
				got = f.Code
				if f.AtMM == nil || f.AtMM[0] != 1 || f.HeadAtMM[0] != 2 || f.Mark == "" {
					t.Errorf("%.2f mm: place %v, %v, mark %q", c.thick, f.AtMM, f.HeadAtMM, f.Mark)
				}
			}
		}
		if got != c.want {
			t.Errorf("%.2f mm: %q, want %q (finest %.2f mm, full in %.2f s)", c.thick, got, c.want, heat.FinestRadiusMM, heat.FillS)
		}
	}
}

// A section just as thick as what metal enters, or that freezes just when the
// head is full, fills.
func TestFillFindingBounds(t *testing.T) {
	for _, c := range []struct {
		thin, finest, freezes, full float64
		code                        string
		value, limit                float64
	}{
		{1, 1, 2, 2, "", 0, 0},
		{0.99, 1, 2, 2, "section-too-fine", 0.99, 1},
		{1, 1, 1.99, 2, "section-freezes", 1.99, 2},
		{0.99, 1, 1.99, 2, "section-too-fine", 0.99, 1},
		{0, 1, 1, 2, "", 0, 0},
	} {
		p := &Plan{Heads: []HeadPlan{{Name: "a"}, {Name: "b", Fill: &Filling{ThinMM: c.thin, FinestRadiusMM: c.finest, ThinFreezesS: c.freezes, FillS: c.full}}}}
		fs := FillFindings(p)
		if len(fs) == 0 != (c.code == "") || len(fs) > 1 {
			t.Errorf("%+v: %+v", c, fs)
		} else if len(fs) == 1 && (fs[0].Code != c.code || fs[0].Value != c.value || fs[0].Limit != c.limit || fs[0].Cavity != "b" || fs[0].At != nil) {
			t.Errorf("%+v: %+v", c, fs)
		}
	}
}
