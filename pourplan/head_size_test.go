package pourplan

import (
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox/head"
)

// A head that is drawn in another unit than the job says is far too small or
// large: the units that fit are named.
func TestHeadSize(t *testing.T) {
	size := geom.Vec{X: 14.79, Y: 10.2, Z: 10.2}
	for _, c := range []struct {
		name  string
		scale float64
		says  []string
	}{
		{"mm", 1, nil},
		{"inches taken as mm", 1 / 25.4, []string{"the head is 0.58 x 0.4 x 0.4 mm", `likely "cm" (5.823 mm long) or "in" (14.79 mm long)`}},
		{"metres taken as mm", 1e-3, []string{"the head is 0.015 x 0.01 x 0.01 mm", `likely "ft" (4.508 mm long) or "m" (14.79 mm long)`}},
		{"micrometres taken as mm", 1e3, []string{"the head is 14790.0 x"}},
	} {
		drawn := &head.Head{Name: "head.stl", Format: head.STL, Solid: geom.Block(geom.Box{Max: size.Mul(c.scale)})}
		said := ""
		for _, f := range (HeadTable{Unit: "mm"}).CheckSize(drawn) {
			said += f.Message + "; " + f.Remedy
		}
		if (said == "") != (c.says == nil) {
			t.Errorf("%s: said %q", c.name, said)
		}
		for _, want := range c.says {
			if !strings.Contains(said, want) {
				t.Errorf("%s: said %q, want in it %q", c.name, said, want)
			}
		}
	}
}
