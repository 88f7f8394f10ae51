package pourplan

import (
	"context"
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// drawSection cuts a half through the gate of the first cavity, as its tray
// lies on the bench, poured to the fill line.
func drawSection(ctx context.Context, m *moldbox.Mold, half moldbox.Half) (Drawing, error) {
	at := half.ToPrint(m.Cavities[0].GateAt).X
	plane := geom.FromAxes(geom.Vec{Y: 1}, geom.Vec{Z: 1}, geom.Vec{X: 1}).Then(geom.Move(geom.Vec{X: at}))
	out := half.Outside
	low, far := geom.Vec2{X: out.Min.Y, Y: out.Min.Z}, geom.Vec2{X: out.Max.Y, Y: out.Max.Z}
	d := Drawing{
		Half: half.Name, View: Section, Low: low, High: far,
		Name: fmt.Sprintf("%s half, cut through the gate of cavity 1", half.Name),
	}
	margin := geom.Vec2{X: 1, Y: 1}
	for _, part := range []struct {
		kind  AreaKind
		solid geom.Solid
	}{{RubberArea, half.Rubber()}, {PrintArea, half.Frame}} {
		o, err := geom.Section(ctx, part.solid, plane, low.Sub(margin), far.Add(margin), drawnCut)
		if err != nil {
			return Drawing{}, err
		}
		d.Areas = append(d.Areas, Area{part.kind, o})
	}
	in, high := half.Inside, half.FillHeight-m.Spec.Frame.Over
	for _, line := range []struct {
		kind AreaKind
		z    float64
	}{{FillLine, half.FillHeight}, {HighLine, high}} {
		ends := geom.Polygon(geom.Vec2{X: in.Min.Y, Y: line.z}, geom.Vec2{X: in.Max.Y, Y: line.z})
		d.Areas = append(d.Areas, Area{line.kind, ends})
	}
	d.Dimensions = append(sectionDimensions(half), rubberOver(in, high))
	return d, nil
}

// rubberOver is the rubber over the highest point of all cavities, by which the
// fill line is set; that point may stand beside the cut.
func rubberOver(in geom.Box, high float64) Dimension {
	at := in.Min.Y + 0.12*(in.Max.Y-in.Min.Y)
	return Dimension{From: geom.Vec2{X: at, Y: high}, To: geom.Vec2{X: at, Y: in.Max.Z}, Side: Inside,
		Text: "over highest " + dimensionText(in.Max.Z-high)}
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
