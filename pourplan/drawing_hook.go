package pourplan

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/moldbox"
)

// HookView looks at a hook as a person measures it, from outside to outside.
const HookView View = "hook"

// RenderHookDrawings returns a drawing of each kind of hook in a mold with its measures
// as a caliper takes them. It fails only when ctx is cancelled.
func RenderHookDrawings(ctx context.Context, m *moldbox.Mold) ([]Drawing, error) {
	var out []Drawing
	for i, c := range m.Cavities {
		h, ok := m.HookShape(i)
		if !ok || c.AlikeTo < i {
			continue
		}
		d, err := drawHook(ctx, h)
		if err != nil {
			return nil, err
		}
		d.Name = c.Wires[0].Name + " of " + c.Name + ", as a caliper measures it"
		if n := len(out); n > 0 && sameMeasures(out[n-1], d) {
			continue // of another head on the same hook
		}
		out = append(out, d)
	}
	return out, nil
}

func sameMeasures(a, b Drawing) bool {
	for i := range a.Dimensions {
		if i >= len(b.Dimensions) || a.Dimensions[i].Text != b.Dimensions[i].Text {
			return false
		}
	}
	return len(a.Dimensions) == len(b.Dimensions)
}

// hookCut is fine enough to show a wire's outline.
var hookCut = geom.SectionOptions{Cell: 0.2}

func drawHook(ctx context.Context, h moldbox.HookShape) (Drawing, error) {
	box := h.Solid.BoundingBox().Grow(0.5)
	o, err := geom.Section(ctx, h.Solid, geom.Identity(), geom.Vec2{X: box.Min.X, Y: box.Min.Y}, geom.Vec2{X: box.Max.X, Y: box.Max.Y}, hookCut)
	if err != nil {
		return Drawing{}, err
	}
	low, high := o.Bounds()
	d := Drawing{View: HookView, Low: low, High: high, Areas: []Area{{WireArea, o}}}
	r := h.Diameter / 2
	eye, under := h.EyeOver/2, h.Shank.Y-r
	top := under
	for _, loop := range o {
		for _, p := range loop {
			if p.X > h.Shank.X+r && p.X > h.EyeOver {
				top = math.Max(top, p.Y)
			}
		}
	}
	add := func(from, to geom.Vec2, side Side, row int, text string, long float64) {
		d.Dimensions = append(d.Dimensions, Dimension{from, to, side, row, text + " " + FormatNumber(long, 2)})
	}
	add(geom.Vec2{X: low.X, Y: under}, geom.Vec2{X: high.X, Y: under}, Bottom, 0, "over_length", high.X-low.X)
	if !h.Across {
		add(geom.Vec2{X: -eye, Y: 0}, geom.Vec2{X: eye, Y: 0}, Top, 0, "over_eye", h.EyeOver)
	}
	if leg := -h.Shank.Y; leg > h.Diameter {
		add(geom.Vec2{X: low.X, Y: under}, geom.Vec2{X: 0, Y: eye}, Left, 0, "over_leg", eye-under)
	}
	add(geom.Vec2{X: high.X, Y: under}, geom.Vec2{X: high.X - 1, Y: top}, Right, 0, "over_gape", top-under)
	add(geom.Vec2{X: h.End.X, Y: top}, geom.Vec2{X: high.X, Y: top}, Top, 1, "over_point", high.X-h.End.X)
	return d, nil
}
