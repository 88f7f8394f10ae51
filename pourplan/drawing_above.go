package pourplan

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"halfpour/geom"
	"halfpour/moldbox"
)

// cavityCut is where the parting plane cuts what makes up a cavity, in mold
// coordinates.
type cavityCut struct {
	parts []Area
	head  geom.Outline
}

// cutCavities cuts every kind of cavity once for both halves, which mirror each
// other in the parting plane.
func cutCavities(ctx context.Context, m *moldbox.Mold) ([]cavityCut, error) {
	low, high := flat(m.Left.Inside.Min), flat(m.Left.Inside.Max)
	cuts := make([]cavityCut, len(m.Cavities))
	for i, c := range m.Cavities {
		if c.AlikeTo < i {
			cuts[i] = cuts[c.AlikeTo].moved(flat(c.Eye.Sub(m.Cavities[c.AlikeTo].Eye)))
			continue
		}
		for _, part := range []struct {
			kind  AreaKind
			solid geom.Solid
		}{
			{SprueArea, c.Sprue}, {VentArea, c.Vent}, {BedArea, c.Bed}, {HeadArea, c.Head}, {WireArea, c.Wire},
		} {
			if part.solid == nil {
				continue
			}
			o, err := geom.Section(ctx, part.solid, geom.Identity(), low, high, drawnCut)
			if err != nil {
				return nil, err
			}
			if part.kind == HeadArea {
				cuts[i].head = o
			}
			cuts[i].parts = append(cuts[i].parts, Area{part.kind, o})
		}
	}
	if m.Runner == nil {
		return cuts, nil
	}
	shared, err := cutRunner(ctx, m.Runner, low, high)
	return append(cuts, shared), err
}

// cutRunner cuts the channel that all cavities share; it has no head.
func cutRunner(ctx context.Context, r *moldbox.Runner, low, high geom.Vec2) (cavityCut, error) {
	var cut cavityCut
	solid, err := geom.Section(ctx, r.Solid, geom.Identity(), low, high, drawnCut)
	if err != nil {
		return cut, err
	}
	cut.parts = append(cut.parts, Area{SprueArea, solid})
	if r.Vent != nil {
		vent, err := geom.Section(ctx, r.Vent, geom.Identity(), low, high, drawnCut)
		if err != nil {
			return cut, err
		}
		cut.parts = append(cut.parts, Area{VentArea, vent})
	}
	return cut, nil
}

func (c cavityCut) moved(by geom.Vec2) cavityCut {
	m := cavityCut{head: c.head.Move(by)}
	for _, a := range c.parts {
		m.parts = append(m.parts, Area{a.Kind, a.Outline.Move(by)})
	}
	return m
}

// drawAbove draws a half as one looks down into its tray, with the letters of findings.
func drawAbove(ctx context.Context, m *moldbox.Mold, half moldbox.Half, cuts []cavityCut, fs []PlanFinding) (Drawing, error) {
	inside := half.Inside
	d := Drawing{
		Half: half.Name, View: Above, Name: half.Name + " half, looking down into the tray",
		Low: flat(half.Outside.Min), High: flat(half.Outside.Max),
	}
	floor, err := geom.Section(ctx, half.Frame, geom.Move(geom.Vec{Z: -half.Floor / 2}),
		d.Low.Sub(geom.Vec2{X: 1, Y: 1}), d.High.Add(geom.Vec2{X: 1, Y: 1}), drawnCut)
	if err != nil {
		return Drawing{}, err
	}
	d.Areas = append(d.Areas,
		Area{FloorArea, outermost(floor)},
		Area{InsideArea, geom.Polygon(geom.RoundedRectangle(flat(inside.Min), flat(inside.Max), m.Spec.Frame.Corner)...)})
	toPrint := func(p geom.Vec2) geom.Vec2 { return flat(half.ToPrint(geom.Vec{X: p.X, Y: p.Y})) }
	// Kind by kind, so that no cavity's funnel is painted over another's head.
	for _, kind := range []AreaKind{SprueArea, VentArea, BedArea, HeadArea, WireArea} {
		for _, c := range cuts {
			for _, a := range c.parts {
				if a.Kind == kind {
					d.Areas = append(d.Areas, Area{kind, a.Outline.Transform(toPrint)})
				}
			}
		}
	}
	for _, k := range m.Keys {
		kind := RaisedKey
		if k.BumpLeft == (half.Name == "left") {
			kind = SunkenKey
		}
		at := flat(half.ToPrint(k.At))
		d.Areas = append(d.Areas, Area{kind, geom.Polygon(geom.Circle(at, k.Diameter/2)...)})
	}
	marks, err := cutMarks(ctx, half)
	if err != nil {
		return Drawing{}, err
	}
	d.Areas = append(d.Areas, Area{MarkArea, marks})
	d.Dimensions = aboveDimensions(m, half)
	for i, c := range cuts {
		if low, high := c.head.Bounds(); low.X <= high.X {
			d.Labels = append(d.Labels, Label{At: toPrint(low.Add(high).Mul(0.5)), Text: strconv.Itoa(i + 1), Big: true})
		}
	}
	for _, f := range FindingMarks(fs, half) {
		d.Labels = append(d.Labels, Label{At: flat(half.ToPrint(f.At)), Text: f.Letter})
	}
	return d, nil
}

// aboveDimensions are the tray's lengths and the pitch of its cavities.
func aboveDimensions(m *moldbox.Mold, half moldbox.Half) []Dimension {
	in, out := half.Inside, half.Outside
	along := func(b geom.Box, side Side, row int, what string) Dimension {
		d := Dimension{From: flat(b.Min), To: flat(b.Max), Side: side, Row: row}
		length := b.Size().X
		if side == Left || side == Right {
			length = b.Size().Y
		}
		d.Text = fmt.Sprintf("%s %s mm (%.2f in)", what, dimensionText(length), length/MMPerInch)
		return d
	}
	ds := []Dimension{
		along(in, Bottom, 0, "inside"), along(out, Bottom, 1, "outside"),
		along(in, Right, 0, "inside"), along(out, Right, 1, "outside"),
	}
	for k, row := range gateRows(m) {
		var last float64
		for i := 1; i < len(row); i++ {
			a, b := half.ToPrint(row[i-1]), half.ToPrint(row[i])
			pitch := math.Abs(b.X - a.X)
			if pitch == 0 || math.Abs(pitch-last) < 0.05 {
				continue // stated once for equal ones
			}
			last = pitch
			a.Y, b.Y = out.Max.Y, out.Max.Y
			ds = append(ds, Dimension{From: flat(a), To: flat(b), Side: Top, Row: k, Text: dimensionText(pitch)})
		}
	}
	return ds
}

// gateRows are the gates of each row from left to right, the upper row first.
func gateRows(m *moldbox.Mold) [][]geom.Vec {
	var rows [][]geom.Vec
next:
	for _, c := range m.Cavities {
		for k := range rows {
			if math.Abs(rows[k][0].Y-c.GateAt.Y) < 1e-6 {
				rows[k] = append(rows[k], c.GateAt)
				continue next
			}
		}
		rows = append(rows, []geom.Vec{c.GateAt})
	}
	return rows
}

// cutMarks returns the raised text of a tray, cut finely: letters are small.
func cutMarks(ctx context.Context, half moldbox.Half) (geom.Outline, error) {
	b := half.Marking.BoundingBox()
	if b.IsEmpty() {
		return nil, nil
	}
	margin := geom.Vec2{X: 0.5, Y: 0.5}
	plane := geom.Move(geom.Vec{Z: b.Max.Z / 2})
	return geom.Section(ctx, half.Marking, plane, flat(b.Min).Sub(margin), flat(b.Max).Add(margin), geom.SectionOptions{})
}

func flat(p geom.Vec) geom.Vec2 { return geom.Vec2{X: p.X, Y: p.Y} }

// outermost returns the loop with the widest box, the rim of the whole.
func outermost(o geom.Outline) geom.Outline {
	best, width := -1, 0.0
	for i, loop := range o {
		low, high := geom.Polygon(loop...).Bounds()
		if w := high.X - low.X; w > width {
			best, width = i, w
		}
	}
	if best < 0 {
		return nil
	}
	return geom.Outline{o[best]}
}
