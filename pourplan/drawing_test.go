package pourplan

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan/internal/plantest"
)

func drawingsOf(t testing.TB, m *moldbox.Mold) []Drawing {
	t.Helper()
	ds, err := RenderDrawings(context.Background(), m, PlanFindings(m.Findings))
	if err != nil {
		t.Fatal(err)
	}
	return ds
}

func area(d Drawing, kind AreaKind) (all []geom.Outline) {
	for _, a := range d.Areas {
		if a.Kind == kind {
			all = append(all, a.Outline)
		}
	}
	return all
}

func TestDrawingsShowWhatIsInTheTray(t *testing.T) {
	m := plantest.Mold(t, 2)
	ds := drawingsOf(t, m)
	if len(ds) != 4 {
		t.Fatalf("%d drawings, want both halves from above and cut", len(ds))
	}
	for i, half := range []moldbox.Half{m.Left, m.Right} {
		d := ds[i]
		if d.Half != half.Name || d.View != Above {
			t.Errorf("drawing %d is %s %s", i, d.Half, d.View)
		}
		heads := area(d, HeadArea)
		if len(heads) != 2 {
			t.Fatalf("%d heads, want 2", len(heads))
		}
		for j, h := range heads {
			r := (5 + 0.4*float64(j)) * 1.004
			if got, want := math.Abs(h.Area()), math.Pi*r*r; math.Abs(got-want) > 0.05*2*math.Pi*r {
				t.Errorf("head %d covers %.2f mm², want %.2f", j+1, got, want)
			}
			low, high := h.Bounds()
			label := d.Labels[j]
			if mid := low.Add(high).Mul(0.5); label.At.Sub(mid).Norm() > 1e-9 {
				t.Errorf("number %s is at %v, its head at %v", label.Text, label.At, mid)
			}
		}
		keys := append(area(d, RaisedKey), area(d, SunkenKey)...)
		if len(keys) != len(m.Keys) || len(keys) < 3 {
			t.Errorf("%d keys drawn of %d", len(keys), len(m.Keys))
		}
		for _, k := range m.Keys {
			at, found := half.ToPrint(k.At), false
			for n, o := range keys {
				low, high := o.Bounds()
				mid := low.Add(high).Mul(0.5)
				if math.Hypot(mid.X-at.X, mid.Y-at.Y) < 0.05 && math.Abs(high.X-low.X-k.Diameter) < 0.05 {
					found = (n < len(area(d, RaisedKey))) == (k.BumpLeft != (half.Name == "left"))
				}
			}
			if !found {
				t.Errorf("%s half: no key of %g mm at %v, raised or sunken as it is", half.Name, k.Diameter, at)
			}
		}
		if low, high := area(d, InsideArea)[0].Bounds(); low != flat(half.Inside.Min) || high != flat(half.Inside.Max) {
			t.Errorf("%s half: inside from %v to %v", half.Name, low, high)
		}
		if d.Low != flat(half.Outside.Min) || d.High != flat(half.Outside.Max) || !d.Labels[0].Big {
			t.Errorf("%s half: drawn from %v to %v", half.Name, d.Low, d.High)
		}
		for _, kind := range []AreaKind{FloorArea, InsideArea, SprueArea, VentArea, BedArea, WireArea, MarkArea} {
			if all := area(d, kind); len(all) == 0 || len(all[0]) == 0 {
				t.Errorf("%s half: no %s", half.Name, kind)
			}
		}
		for _, a := range d.Areas {
			if low, high := a.Outline.Bounds(); low.X < d.Low.X-0.1 || high.X > d.High.X+0.1 || low.Y < d.Low.Y-0.1 || high.Y > d.High.Y+0.1 {
				t.Errorf("%s of the %s half reaches from %v to %v, the drawing from %v to %v", a.Kind, half.Name, low, high, d.Low, d.High)
			}
		}
	}
}

// The right tray is the left one seen in a mirror, but for keys and marks.
func TestDrawingsMirrorTheRightHalf(t *testing.T) {
	ds := drawingsOf(t, plantest.Mold(t, 2))
	for _, kind := range []AreaKind{HeadArea, SprueArea, WireArea} {
		left, right := area(ds[0], kind), area(ds[1], kind)
		for i := range left {
			for j, loop := range left[i].Mirror() {
				for k, p := range loop {
					if p.Sub(right[i][j][k]).Norm() > 1e-9 {
						t.Fatalf("%s %d: point %v has no mirror image", kind, i, p)
					}
				}
			}
		}
	}
	if len(area(ds[0], RaisedKey)) != len(area(ds[1], SunkenKey)) || len(area(ds[0], SunkenKey)) != len(area(ds[1], RaisedKey)) {
		t.Error("a bump of one tray is not a hollow of the other")
	}
}

func TestDrawingsMeasure(t *testing.T) {
	m := plantest.Mold(t, 2)
	ds := drawingsOf(t, m)
	texts := func(d Drawing) string {
		var all []string
		for _, m := range d.Dimensions {
			all = append(all, m.Text)
		}
		return strings.Join(all, "; ")
	}
	in, out := m.Left.Inside.Size(), m.Left.Outside.Size()
	pitch := m.Cavities[1].GateAt.X - m.Cavities[0].GateAt.X
	for _, want := range []string{
		fmt.Sprintf("inside %s mm (%.2f in)", dimensionText(in.X), in.X/25.4), "inside " + dimensionText(in.Y), "outside " + dimensionText(out.X),
		"outside " + dimensionText(out.Y), dimensionText(pitch),
	} {
		if !strings.Contains(texts(ds[0]), want) {
			t.Errorf("%q is missing in %q", want, texts(ds[0]))
		}
	}
	for _, want := range []string{
		"fill " + dimensionText(m.Left.FillHeight), "rim " + dimensionText(m.Left.RimHeight),
		"floor " + dimensionText(m.Left.Floor), "to rim " + dimensionText(m.Left.RimHeight-m.Left.FillHeight),
		"over highest " + dimensionText(m.Spec.Frame.Over),
	} {
		if !strings.Contains(texts(ds[2]), want) {
			t.Errorf("%q is missing in %q", want, texts(ds[2]))
		}
	}
	// What the cut shows as rubber ends at the fill line and at the tray's floor.
	low, high := area(ds[2], RubberArea)[0].Bounds()
	if math.Abs(high.Y-m.Left.FillHeight) > 0.1 || low.Y > 0.1 || low.Y < -m.Left.Floor {
		t.Errorf("rubber stands from %.2f to %.2f, fill line at %.2f", low.Y, high.Y, m.Left.FillHeight)
	}
}

// Nothing in a tray but its walls stands higher than the line that the sheet
// measures the rubber from, and something reaches it: of one small head the mouth
// of the sprue, of five heads the largest, which is not the one that is cut.
func TestHighLineIsOverAll(t *testing.T) {
	for _, n := range []int{1, 5} {
		m := plantest.Mold(t, n)
		for _, d := range drawingsOf(t, m)[2:] {
			half := map[string]moldbox.Half{"left": m.Left, "right": m.Right}[d.Half]
			in, z := half.Inside, area(d, HighLine)[0][0][0].Y
			above, below := math.Inf(1), math.Inf(1) // the least gaps to what is solid
			for x := in.Min.X + m.Spec.Frame.Corner; x < in.Max.X-m.Spec.Frame.Corner; x += 0.5 {
				for y := in.Max.Y - 0.02; y > in.Min.Y+1; y -= 0.5 {
					above = min(above, half.Frame.Evaluate(geom.Vec{X: x, Y: y, Z: z + 0.01}))
					below = min(below, half.Frame.Evaluate(geom.Vec{X: x, Y: y, Z: z - 0.1}))
				}
			}
			if above < 0 || below > 0 {
				t.Errorf("%d heads, %s half: the least gap over the line at %.2f mm is %.2f mm, 0.1 mm under it %.2f mm", n, d.Half, z, above, below)
			}
		}
	}
}

func TestDrawingsStop(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	m := plantest.Mold(t, 1)
	stop()
	if _, err := RenderDrawings(ctx, m, nil); err == nil {
		t.Error("a cancelled drawing gives no error")
	}
}

// Dimensions of a tray with round numbers, by hand: its lengths, and the pitch of
// each row where it changes by 0.05 mm or more.
func TestDimensionsByHand(t *testing.T) {
	half := moldbox.Half{Name: "left", Inside: geom.Box{Min: geom.Vec{X: 1, Y: 2}, Max: geom.Vec{X: 81, Y: 62, Z: 15}},
		Outside: geom.Box{Min: geom.Vec{X: -2, Y: -1, Z: -2.4}, Max: geom.Vec{X: 84, Y: 65, Z: 17}}, Floor: 2.4, FillHeight: 15, RimHeight: 17}
	m := &moldbox.Mold{}
	for _, at := range []geom.Vec{{X: 10, Y: 50}, {X: 10, Y: 20}, {X: 25, Y: 50}, {X: 40.04, Y: 50}, {X: 60, Y: 50 + 5e-7}, {X: 60, Y: 50 + 5e-7}, {X: 30, Y: 20 - 5e-7}} {
		m.Cavities = append(m.Cavities, moldbox.Placed{GateAt: at})
	}
	type row struct {
		text  string
		side  Side
		row   int
		width float64 // from its first point to its last, along its side
	}
	along := func(d Dimension) row {
		size := d.To.Sub(d.From)
		width := size.X
		if d.Side == Left || d.Side == Right || d.Side == Inside {
			width = size.Y
		}
		return row{d.Text, d.Side, d.Row, math.Round(width*1e6) / 1e6}
	}
	var got []row
	for _, d := range aboveDimensions(m, half) {
		got = append(got, along(d))
		if d.Side == Top && (d.From.Y != 65 || d.To.Y != 65) {
			t.Errorf("%+v is not at the tray's edge", d)
		}
	}
	want := []row{
		{"inside 80 mm (3.15 in)", Bottom, 0, 80}, {"outside 86 mm (3.39 in)", Bottom, 1, 86},
		{"inside 60 mm (2.36 in)", Right, 0, 60}, {"outside 66 mm (2.60 in)", Right, 1, 66},
		{"15", Top, 0, 15}, {"20", Top, 0, 19.96}, {"20", Top, 1, 20},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%v, want\n%v", got, want)
	}
	got = nil
	for _, d := range append(sectionDimensions(half), rubberOver(half.Inside, 8)) {
		got = append(got, along(d))
	}
	want = []row{{"fill 15", Left, 0, 15}, {"to rim 2", Right, 1, 2}, {"floor 2.4", Right, 1, 2.4}, {"rim 17", Right, 0, 17}, {"over highest 7", Inside, 0, 7}}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%v, want\n%v", got, want)
	}
	// The outer loop of a frame is the widest, whatever the order; none of none.
	small, large := geom.Circle(geom.Vec2{}, 2), geom.Circle(geom.Vec2{}, 5)
	for _, o := range []geom.Outline{{small, large}, {large, small}} {
		if out := outermost(o); len(out) != 1 || out[0][0].Norm() < 4.9 {
			t.Errorf("outermost of %d loops: %v", len(o), out)
		}
	}
	if outermost(nil) != nil {
		t.Error("outermost of nothing")
	}
}

// Two of the areas are lines: where to fill to, and what stands highest.
func TestAreasThatAreLines(t *testing.T) {
	for _, k := range []AreaKind{FloorArea, InsideArea, SprueArea, VentArea, BedArea, HeadArea, WireArea, MarkArea, RaisedKey, SunkenKey, PrintArea, RubberArea, FillLine, HighLine} {
		if want := k == "fill-line" || k == "high-line"; k.IsLine() != want {
			t.Errorf("%s: is a line: %v", k, k.IsLine())
		}
	}
}
