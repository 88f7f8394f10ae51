package sheet

import (
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/pourplan"
)

// wirePattern is a wire at its true size on paper: the blank to cut, and the
// shape to lay it on when it is bent, as seen from the left flank.
type wirePattern struct {
	pourplan.WirePlan
	ring, axis []geom.Vec2 // of the eye and of the rest, mm from the upper left corner of their box, y down
	size       geom.Vec2   // of the box
	cut        float64     // length of the blank, mm
}

// bendStep is the angle of a chord of a drawn bend.
const bendStep = math.Pi / 36

// newWirePattern follows a wire from its eye or its first point on. A bend runs
// round its inside radius, the axis half a wire further out.
func newWirePattern(w pourplan.WirePlan) wirePattern {
	t := wirePattern{WirePlan: w, cut: math.Ceil(w.LengthMM)}
	at, heading := geom.Vec2{}, 0.0
	line := []geom.Vec2{at}
	for _, b := range w.Bends {
		radius := b.InsideMM + w.DiameterMM/2
		if b.BendDeg == 360 { // the wire leaves the ring outwards from its middle
			t.ring = geom.Circle(geom.Vec2{X: -radius}, radius)
			continue
		}
		sin, cos := math.Sincos(heading)
		at = at.Add(geom.Vec2{X: cos, Y: sin}.Mul(b.StraightMM))
		line = append(line, at)
		turn := b.BendDeg * math.Pi / 180
		if b.InsideMM > 0 {
			side := math.Copysign(1, turn)
			middle := at.Add(geom.Vec2{X: -sin, Y: cos}.Mul(side * radius))
			for n, i := int(math.Ceil(math.Abs(turn)/bendStep)), 1; i <= n; i++ {
				s, c := math.Sincos(heading + turn*float64(i)/float64(n))
				at = middle.Add(geom.Vec2{X: s, Y: -c}.Mul(side * radius))
				line = append(line, at)
			}
		}
		heading += turn
	}
	t.axis = line
	t.settle()
	return t
}

// settle moves the shape into the quadrant of the paper, the wire's thickness
// included.
func (t *wirePattern) settle() {
	low, high := geom.Outline{append(append([]geom.Vec2{}, t.ring...), t.axis...)}.Bounds()
	half := t.DiameterMM / 2
	for _, ps := range [][]geom.Vec2{t.ring, t.axis} {
		for i, p := range ps {
			ps[i] = geom.Vec2{X: p.X - low.X + half, Y: high.Y - p.Y + half}
		}
	}
	t.size = high.Sub(low).Add(geom.Vec2{X: t.DiameterMM, Y: t.DiameterMM})
}

// straight reports whether there is nothing to bend.
func (t wirePattern) straight() bool { return len(t.Bends) == 1 && t.Bends[0].BendDeg == 0 }

const (
	patternGap   = 6.0  // between patterns side by side, mm
	patternFall  = 3.0  // and one over the other
	patternBlank = 4.0  // room of the blank and its ends
	patternWord  = 57.0 // least width, for the words over it
)

// words say what to cut and how to bend it.
func (t wirePattern) words() (what, length, bends string) {
	return fmt.Sprintf("%d × %s", t.Count, t.Name),
		fmt.Sprintf("%s mm thick; cut %.0f mm (%.2f in)", pourplan.FormatNumber(t.DiameterMM, 2), t.cut, t.cut/pourplan.MMPerInch), bendText(t.WirePlan)
}

// room is what a pattern takes on paper that is so wide; a blank that is wider
// is not drawn.
func (t wirePattern) room(f *typefaces, most float64) geom.Vec2 {
	v := geom.Vec2{X: math.Max(patternWord, math.Min(t.size.X, most))}
	if t.cut <= most {
		v.X = math.Max(v.X, t.cut)
	}
	_, _, bends := t.words()
	lines := 1 + len(f.wrap(drawStyle, bends, v.X))
	v.Y = strongStyle.lineHeight() + float64(lines)*drawStyle.lineHeight() + 1
	if t.cut <= most {
		v.Y += patternBlank
	}
	if !t.straight() && t.size.X <= most {
		v.Y += 1 + t.size.Y
	}
	return v
}

// pattern draws one with its upper left corner at (x, y).
func (s *sheet) pattern(p *page, x, y float64, t wirePattern, at region) {
	wide := t.room(s.faces, at.width).X
	what, length, bends := t.words()
	p.text(x, y+strongStyle.ascent(), strongStyle, alignLeft, s.faces.clip(strongStyle, s.faces.printable(what), wide))
	y += strongStyle.lineHeight()
	p.text(x, y+drawStyle.ascent(), drawStyle, alignLeft, length)
	y = s.paragraph(p, x, y+drawStyle.lineHeight(), wide, drawStyle, bends) + 1
	if t.cut <= at.width {
		middle := y + patternBlank/2
		p.strand([]geom.Vec2{{X: x, Y: middle}, {X: x + t.cut, Y: middle}}, false, t.DiameterMM)
		for _, end := range []float64{x, x + t.cut} {
			p.line(end, y+0.3, end, y+patternBlank-0.3, 0.15)
		}
		y += patternBlank
	}
	if t.straight() || t.size.X > at.width {
		return
	}
	move := func(ps []geom.Vec2) []geom.Vec2 {
		out := make([]geom.Vec2, len(ps))
		for i, q := range ps {
			out[i] = q.Add(geom.Vec2{X: x, Y: y + 1})
		}
		return out
	}
	if len(t.ring) > 0 {
		p.strand(move(t.ring), true, t.DiameterMM)
	}
	p.strand(move(t.axis), false, t.DiameterMM)
}

// strand is a wire of a thickness along an axis.
func (p *page) strand(axis []geom.Vec2, closed bool, thick float64) {
	p.shapes = append(p.shapes, pageShape{loops: []pageLoop{{axis, closed}}, fill: none, ink: 0.35, width: thick})
}

// patternsOf are the patterns of the wires that a plan has to cut.
func patternsOf(plan *pourplan.Plan) []wirePattern {
	var list []wirePattern
	for _, w := range plan.WiresToCut() {
		list = append(list, newWirePattern(w))
	}
	return list
}

// patterns sets as many patterns in rows as there is room for, the first row in
// any case, under a heading. It returns those that are left, and where it ends.
func (s *sheet) patterns(p *page, at region, list []wirePattern) ([]wirePattern, float64) {
	y := s.runIn(p, at, smallStyle, "Cut and bend", "true size, 1:1, for one shot; lay the wire on. Seen from the left flank; lengths in mm, bends + left and - right.") + 1.5
	for first := true; len(list) > 0; first = false {
		n, x, tall := 0, at.x, 0.0
		for n < len(list) {
			v := list[n].room(s.faces, at.width)
			if n > 0 && x+v.X > at.x+at.width {
				break
			}
			n, x, tall = n+1, x+v.X+patternGap, math.Max(tall, v.Y)
		}
		if !first && y+tall > at.y+at.height {
			break
		}
		x = at.x
		for _, t := range list[:n] {
			s.pattern(p, x, y, t, at)
			x += t.room(s.faces, at.width).X + patternGap
		}
		list, y = list[n:], y+tall+patternFall
	}
	return list, y - patternFall
}
