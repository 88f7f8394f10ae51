package moldbox_test

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/moldbox"
)

// A bar with a round nose, as another library of solids would give it: its own
// vectors and boxes, but the same two methods.
type (
	foreignVec struct{ X, Y, Z float64 }
	foreignBox struct{ Min, Max foreignVec }
	foreignBar struct{ radius, half float64 }
)

func (b foreignBar) Evaluate(p foreignVec) float64 {
	return math.Hypot(math.Max(math.Abs(p.X)-b.half, 0), math.Hypot(p.Y, p.Z)) - b.radius
}

func (b foreignBar) BoundingBox() foreignBox {
	r := b.radius
	return foreignBox{foreignVec{-b.half - r, -r, -r}, foreignVec{b.half + r, r, r}}
}

// A mold round a solid that another library has made: two trays to print, and
// the rubber that each takes.
func ExampleBuild() {
	spec := moldbox.Default()
	spec.Title = "Bar"
	spec.Cavities = []moldbox.Cavity{{
		Name: "bar", Head: geom.Adopt(foreignBar{radius: 5, half: 6}),
		Pose: moldbox.Pose{Nose: geom.Vec{X: -1}, Back: geom.Vec{Y: 1}},
		Turn: -math.Pi / 2, // nose up, under the sprue
	}}
	ctx := context.Background()
	mold, err := moldbox.Build(ctx, spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, half := range []moldbox.Half{mold.Left, mold.Right} {
		rubber, err := geom.Integrate(ctx, half.Rubber(), geom.IntegrateOptions{RelTol: 1e-3})
		if err != nil {
			fmt.Println(err)
			return
		}
		size := half.Outside.Size()
		fmt.Printf("%s: a tray of %.0f x %.0f x %.0f mm takes %.0f ml\n", half.Name, size.X, size.Y, size.Z, rubber.Best/1000)
	}
	for _, f := range mold.Findings {
		fmt.Println(f.Severity, f.Code)
	}
	// Output:
	// left: a tray of 39 x 65 x 20 mm takes 23 ml
	// right: a tray of 39 x 65 x 20 mm takes 23 ml
	// note marking-shrunk
}
