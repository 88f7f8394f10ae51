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
		modelled := &head.Head{Name: "head.stl", Format: head.STL, Solid: geom.Block(geom.Box{Max: size.Mul(c.scale)})}
		said := ""
		for _, f := range (HeadTable{Unit: "mm"}).CheckSize(modelled) {
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

// A length of 4 to 200 mm is a head's (common practice, no source), in
// whichever direction it lies; the units that fit are named.
func TestHeadSizeBounds(t *testing.T) {
	for _, c := range []struct {
		size  geom.Vec
		unit  string
		likes string // "" for nothing said
	}{
		{geom.Vec{X: 4, Y: 1, Z: 1}, "mm", ""}, {geom.Vec{X: 3.99, Y: 1, Z: 1}, "mm", `"cm" (39.9 mm long) or "in" (101.3 mm long)`},
		{geom.Vec{X: 1, Y: 200, Z: 1}, "mm", ""}, {geom.Vec{X: 1, Y: 1, Z: 200.1}, "mm", "-"},
		{geom.Vec{X: 1, Y: 1, Z: 4}, "mm", ""}, {geom.Vec{X: 1, Y: 1, Z: 8}, "in", `"mm" (8 mm long) or "cm" (80 mm long)`},
		{geom.Vec{X: 0.2, Y: 0.1, Z: 0.1}, "mm", `"in" (5.08 mm long) or "ft" (60.96 mm long) or "m" (200 mm long)`},
		{geom.Vec{X: 4, Y: 1, Z: 1}, "m", `"mm" (4 mm long) or "cm" (40 mm long) or "in" (101.6 mm long)`},
		{geom.Vec{X: 20, Y: 1, Z: 1}, "cm", ""}, {geom.Vec{X: 20.1, Y: 1, Z: 1}, "cm", `"mm" (20.1 mm long)`},
		{geom.Vec{X: 0.4, Y: 0.1, Z: 0.1}, "cm", ""},
	} {
		modelled := &head.Head{Name: "head.stl", Format: head.STL, Solid: geom.Block(geom.Box{Max: c.size})}
		fs := (HeadTable{Unit: c.unit}).CheckSize(modelled)
		if (len(fs) == 0) != (c.likes == "") {
			t.Errorf("%v %s: %+v", c.size, c.unit, fs)
			continue
		}
		if len(fs) == 0 {
			continue
		}
		_, likes, named := strings.Cut(fs[0].Remedy, "likely ")
		if named != (c.likes != "-") || named && likes != c.likes {
			t.Errorf("%v %s: likely %q, want %q", c.size, c.unit, likes, c.likes)
		}
	}
	for _, c := range []struct {
		size geom.Vec
		want string
	}{{geom.Vec{X: 0.99, Y: 0.5, Z: 0.25}, "0.99 x 0.5 x 0.25"}, {geom.Vec{X: 0.5, Y: 1, Z: 0.25}, "0.5 x 1.0 x 0.2"},
		{geom.Vec{X: 0.5, Y: 0.5, Z: 1}, "0.5 x 0.5 x 1.0"}} {
		if got := sizeText(c.size); got != c.want {
			t.Errorf("%v: %q, want %q", c.size, got, c.want)
		}
	}
}
