package page

import (
	"context"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/moldbox"
)

// airStep is how far apart the lines are on which air is looked for, mm.
const airStep = 0.25

// findPockets looks again at the cavities of which a finding says that air
// stays in them, to show how far it reaches.
func findPockets(ctx context.Context, m *moldbox.Mold) ([]pocket, error) {
	told := map[string]bool{}
	for _, f := range m.Findings {
		if f.Code == "air-trapped" {
			told[f.Cavity] = true
		}
	}
	var list []pocket
	top := m.Left.Inside.Max.Y
	over := geom.HalfSpace(geom.Vec{Y: -1}, 0.05-top)
	look := func(name string, metal geom.Solid, source geom.Vec, open geom.Solid) error {
		found, err := column.Pockets(ctx, metal, column.Pour{Up: geom.Vec{Y: 1}, Source: source, Open: open, Step: airStep, Least: m.Spec.Checks.Air})
		for _, p := range found {
			list = append(list, pocket{p, name})
		}
		return err
	}
	for _, c := range m.Cavities {
		if !told[c.Name] {
			continue
		}
		// Air leaves by the sprue's upper end, into a runner if there is one.
		end := c.Sprue.BoundingBox().Grow(1)
		end.Min.Y = min(end.Max.Y-1, top) - 0.3
		if err := look(c.Name, c.Metal, c.GateAt, geom.Union(geom.Block(end), over)); err != nil {
			return nil, err
		}
	}
	if m.Runner != nil && told[""] {
		if err := look("runner", m.Runner.Metal, m.Runner.Foot, over); err != nil {
			return nil, err
		}
	}
	return list, nil
}
