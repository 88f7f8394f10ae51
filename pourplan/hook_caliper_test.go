package pourplan

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// A hook and the same hook by caliper come to the same dimensions. The measures are
// worked out here by hand from its drawing: ring 2 + 2·1.1 mm across, the eye's far side
// 2.1 mm over its centre, the underside half a wire under the shank's axis, the eye
// 2.1 mm ahead of the leg.
func TestHookByCaliper(t *testing.T) {
	for _, c := range []struct {
		name  string
		table string
		want  moldbox.Hook
	}{
		{"a 90° jig hook", "wire = 1.1\nover_eye = 4.2\nover_leg = 11.6\nover_length = 33.65\nover_gape = 11.1\nover_point = 13.55",
			moldbox.Hook{EyeInside: 2, Leg: 8.95, Shank: 26, Gape: 10, Point: 8}},
		{"its eye across", "wire = 1.1\nover_eye = 4.2\nover_leg = 11.6\nover_length = 32.1\nover_gape = 11.1\nover_point = 13.55\neye_across = true",
			moldbox.Hook{EyeInside: 2, Leg: 8.95, Shank: 26, Gape: 10, Point: 8}},
		{"a straight hook", "wire = 1.1\nover_eye = 4.2\nover_length = 33.65\nover_gape = 11.1\nover_point = 13.55",
			moldbox.Hook{EyeInside: 2, Shank: 26, Gape: 10, Point: 8}},
		{"some by caliper", "wire = 1.1\neye_inside = 2\nover_leg = 11.6\nshank = 26\nover_gape = 11.1",
			moldbox.Hook{EyeInside: 2, Leg: 8.95, Shank: 26, Gape: 10}},
		{"bent by 60°: the eye leans forward by 6 cos 60°, up by 6 sin 60°", "wire = 1\nover_eye = 4\nleg_angle = 120\nover_leg = 7.69615242\nover_length = 29.5\nover_gape = 9",
			moldbox.Hook{EyeInside: 2, Leg: 6, Shank: 20, Gape: 8}},
	} {
		job := read(t, hookJob(c.table))
		got := job.Placed()[0].Hook.wire()
		for _, d := range []struct {
			key       string
			got, want float64
		}{{"eye_inside", got.EyeInside, c.want.EyeInside}, {"leg", got.Leg, c.want.Leg}, {"shank", got.Shank, c.want.Shank}, {"gape", got.Gape, c.want.Gape}, {"point", got.Point, c.want.Point}} {
			if math.Abs(d.got-d.want) > 1e-6 {
				t.Errorf("%s: %s: got %.6f, want %.6f", c.name, d.key, d.got, d.want)
			}
		}
		spec, err := job.Spec(func(string) (geom.Solid, error) { return geom.Ball(geom.Vec{}, 5), nil })
		if err != nil || spec.Cavities[0].Hook.Shank != got.Shank {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// hookJob is the short job with another table of the hook.
func hookJob(table string) string {
	from := strings.Index(shortJob, "[hook]")
	to := from + strings.Index(shortJob[from:], "\n[")
	return shortJob[:from] + "[hook]\n" + table + "\n" + shortJob[to:]
}

func TestCaliperRefuses(t *testing.T) {
	const rest = "\nshank = 26\ngape = 10"
	for _, c := range []struct{ table, key string }{
		{"wire = 1.1\nover_eye = 4.2" + rest, ""},
		{"wire = 1.1\neye_inside = 2\nover_eye = 4.2" + rest, "hook.over_eye"},
		{"wire = 1.1\nover_eye = 2.2" + rest, "hook.over_eye"}, // nothing left inside
		{"wire = 1.1\nover_eye = 4.2\nover_leg = 2" + rest, "hook.over_leg"},
		{"over_eye = 4.2" + rest, "hook.wire"},
		{"wire = 1.1\neye_inside = 2\nover_gape = 11\npoints = [[0, -9], [26, -9]]", "hook.over_gape"},
		{"file = \"hook.stl\"\nplace = \"eye\"\nover_gape = 11", "hook.over_gape"},
	} {
		_, err := ReadJob("job.toml", []byte(hookJob(c.table)))
		var list JobErrors
		errors.As(err, &list)
		switch {
		case c.key == "" && err != nil:
			t.Error(err)
		case c.key != "" && (len(list) != 1 || list[0].Key != c.key):
			t.Errorf("%s: got %v", c.table, err)
		}
	}
}

// The drawing of a hook shows the measures that the caliper gave, of an eye that lies in
// the plane; across, its ring is not seen.
func TestDrawingOfAHook(t *testing.T) {
	for _, across := range []bool{false, true} {
		table := "wire = 1.1\nover_eye = 4.2\nover_leg = 11.6\nover_length = 33.65\nover_gape = 11.1\nover_point = 13"
		want := []string{"over_length 33.65", "over_eye 4.2", "over_leg 11.6", "over_gape 11.1", "over_point 13"}
		if across {
			table, want = table+"\neye_across = true", []string{"over_length 33.65", "over_leg 11.6", "over_gape 11.1", "over_point 13"}
		}
		spec, err := read(t, strings.Replace(hookJob(table), "cavities = 3", "cavities = 2", 1)).Spec(func(string) (geom.Solid, error) { return geom.Ball(geom.Vec{}, 5), nil })
		if err != nil {
			t.Fatal(err)
		}
		spec.Cavities[1].Turn = 1 // not alike, but on the same hook
		m, err := moldbox.Build(context.Background(), spec)
		if err != nil {
			t.Fatal(err)
		}
		ds, err := RenderHookDrawings(context.Background(), m)
		if err != nil || len(ds) != 1 {
			t.Fatalf("%d drawings, %v", len(ds), err)
		}
		var got []string
		for _, d := range ds[0].Dimensions {
			got = append(got, d.Text)
		}
		if !slices.Equal(got, want) {
			t.Errorf("across %v: got %q, want %q", across, got, want)
		}
	}
}
