package sheet

import (
	"math"
	"sort"

	"halfpour/geom"
)

// hatch returns lines at 45° through an outline, filled by the even-odd rule,
// spacing mm apart. Lines of neighbouring outlines meet: they all pass at
// whole multiples of the spacing from the origin.
func hatch(o geom.Outline, spacing float64) []pageLoop {
	turned := o.Transform(turn45)
	low, high := turned.Bounds()
	if !(spacing > 0) || low.Y > high.Y {
		return nil
	}
	var lines []pageLoop
	for k := math.Ceil(low.Y / spacing); k*spacing < high.Y; k++ {
		xs := crossings(turned, k*spacing)
		for i := 0; i+1 < len(xs); i += 2 {
			a, b := geom.Vec2{X: xs[i], Y: k * spacing}, geom.Vec2{X: xs[i+1], Y: k * spacing}
			lines = append(lines, pageLoop{points: []geom.Vec2{back45(a), back45(b)}})
		}
	}
	return lines
}

// crossings returns the places where the outline crosses a level, in order. A
// vertex on the level counts for the edge above it, so their number is even.
func crossings(o geom.Outline, y float64) []float64 {
	var xs []float64
	for _, loop := range o {
		for i, b := range loop {
			a := loop[(i+len(loop)-1)%len(loop)]
			if (a.Y > y) != (b.Y > y) {
				xs = append(xs, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
			}
		}
	}
	sort.Float64s(xs)
	return xs
}

func turn45(p geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: (p.X + p.Y) * math.Sqrt2 / 2, Y: (p.Y - p.X) * math.Sqrt2 / 2}
}

func back45(p geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: (p.X - p.Y) * math.Sqrt2 / 2, Y: (p.X + p.Y) * math.Sqrt2 / 2}
}
