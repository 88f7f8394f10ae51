package pourplan

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/moldbox"
)

// drawSection cuts a half through the gate of the first cavity, as its tray
// lies on the bench, poured to the fill line.
func drawSection(ctx context.Context, m *moldbox.Mold, half moldbox.Half) (Drawing, error) {
	at := half.ToPrint(m.Cavities[0].GateAt).X
	plane := geom.FromAxes(geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: 1}).Then(geom.Move(geom.Vec{X: at}))
	out := half.Outside
	low, high := geom.Vec2{X: out.Min.Y, Y: out.Min.Z}, geom.Vec2{X: out.Max.Y, Y: out.Max.Z}
	d := Drawing{
		Half: half.Name, View: Section, Low: low, High: high,
		Name: fmt.Sprintf("%s half, cut through the gate of cavity 1", half.Name),
	}
	margin := geom.Vec2{X: 1, Y: 1}
	for _, part := range []struct {
		kind  AreaKind
		solid geom.Solid
	}{{RubberArea, half.Rubber()}, {PrintArea, half.Frame}} {
		o, err := geom.Section(ctx, part.solid, plane, low.Sub(margin), high.Add(margin), drawnCut)
		if err != nil {
			return Drawing{}, err
		}
		d.Areas = append(d.Areas, Area{part.kind, o})
	}
	in := half.Inside
	fill := func(y float64) geom.Vec2 { return geom.Vec2{X: y, Y: half.FillHeight} }
	d.Areas = append(d.Areas, Area{FillLine, geom.Polygon(fill(in.Min.Y), fill(in.Max.Y))})
	d.Dimensions = sectionDimensions(half)
	over, err := rubberOver(ctx, m, half, plane, low, high)
	if err != nil {
		return Drawing{}, err
	}
	d.Dimensions = append(d.Dimensions, over...)
	return d, nil
}

// rubberOver is the rubber over the highest place of the head that is cut.
func rubberOver(ctx context.Context, m *moldbox.Mold, half moldbox.Half, plane geom.Placement, low, high geom.Vec2) ([]Dimension, error) {
	head := half.InMold().Inverse().Solid(m.Cavities[0].Head)
	o, err := geom.Section(ctx, head, plane, low, high, drawnCut)
	if err != nil {
		return nil, err
	}
	top := geom.Vec2{Y: math.Inf(-1)}
	for _, loop := range o {
		for _, p := range loop {
			if p.Y > top.Y {
				top = p
			}
		}
	}
	if !(top.Y > 0 && top.Y < half.FillHeight) {
		return nil, nil
	}
	return []Dimension{{From: top, To: geom.Vec2{X: top.X, Y: half.FillHeight}, Side: Inside, Text: "over head " + dimensionText(half.FillHeight-top.Y)}}, nil
}

// sectionDimensions are the heights that the bench needs.
func sectionDimensions(half moldbox.Half) []Dimension {
	height := func(y, z0, z1 float64, side Side, row int, what string) Dimension {
		return Dimension{
			From: geom.Vec2{X: y, Y: z0}, To: geom.Vec2{X: y, Y: z1}, Side: side, Row: row,
			Text: what + " " + dimensionText(z1-z0),
		}
	}
	in, out := half.Inside, half.Outside
	return []Dimension{
		height(in.Min.Y, 0, half.FillHeight, Left, 0, "fill"),
		height(in.Max.Y, half.FillHeight, half.RimHeight, Right, 1, "to rim"),
		height(out.Max.Y, -half.Floor, 0, Right, 1, "floor"),
		height(out.Max.Y, 0, half.RimHeight, Right, 0, "rim"),
	}
}
