package moldbox

import (
	"fmt"
	"math"
	"strings"

	"halfpour/geom"
)

const (
	markGap  = 1.0 // between a marking and anything else, mm
	markWall = 2.0 // between a marking and a wall, mm
	// A stem of the bold font is about a fifth of a capital's height; the
	// least capital has stems a little over one nozzle wide.
	leastCapital = 6.0 // in nozzles
)

// mark is one line of raised text in a half's print coordinates: mirrored,
// its lower left corner at the origin, and where that corner lies.
type mark struct {
	outline geom.Outline
	at      geom.Vec2
}

// solid raises the text from z0 to z1.
func (m mark) solid(z0, z1 float64) geom.Solid {
	return geom.Prism(m.outline.Move(m.at), z0, z1)
}

// lettering is a line of text set at a capital's height, mirrored, its box's
// lower left corner at the origin.
type lettering struct {
	outline geom.Outline
	size    geom.Vec2
}

func letter(text string, capital float64) (lettering, error) {
	o, _, err := geom.Text(text, capital)
	if err != nil {
		return lettering{}, err
	}
	o = o.Mirror()
	low, high := o.Bounds()
	if !(low.X < high.X) { // blanks only
		return lettering{}, nil
	}
	return lettering{o.Move(low.Mul(-1)), high.Sub(low)}, nil
}

// markRoom is where text may stand, in mold coordinates.
type markRoom struct {
	spec   Spec
	inside geom.Box
	keys   []Key
	avoid  obstacles
	spots  []spot // the lowest row first, the middle first
}

// spot is a free place of the floor and how far it is from wall, keys and
// bodies.
type spot struct {
	at     geom.Vec
	leeway float64
}

func newMarkRoom(spec Spec, inside geom.Box, keys []Key, avoid obstacles) *markRoom {
	m := &markRoom{spec: spec, inside: inside, keys: keys, avoid: avoid}
	const step = 1.5
	size, mid := inside.Size(), inside.Centre()
	nx, ny := int(size.X/2/step), int(size.Y/step)
	for j := 1; j < ny; j++ {
		for i := 0; i < 2*nx; i++ {
			x := float64((i+1)/2) * step
			if i%2 == 1 {
				x = -x
			}
			p := geom.Vec{X: mid.X + x, Y: inside.Min.Y + float64(j)*step}
			if d := m.leeway(p); d > markGap {
				m.spots = append(m.spots, spot{p, d})
			}
		}
	}
	return m
}

// leeway is how far a place of the floor is from wall, keys and bodies, the
// wall's greater gap allowed for.
func (m *markRoom) leeway(p geom.Vec) float64 {
	d := insideRounded(m.inside, m.spec.Frame.Corner, p) - (markWall - markGap)
	r := m.spec.Keys.socketRadius()
	for _, k := range m.keys {
		d = math.Min(d, p.Dist(k.At)-r)
	}
	if d <= markGap {
		return d
	}
	return math.Min(d, m.avoid.distance(p))
}

// free reports whether a rectangle keeps markGap from everything.
func (m *markRoom) free(b geom.Box) bool { return m.freePart(b, b) }

// freePart looks at a part of the rectangle all: by its middle's leeway, else
// in halves.
func (m *markRoom) freePart(b, all geom.Box) bool {
	c := b.Centre()
	d, r := m.leeway(c), b.HalfDiagonal()
	if d >= markGap+r {
		return true
	}
	// What is free all round has leeway to the rectangle's own edge at least.
	edge := math.Min(math.Min(c.X-all.Min.X, all.Max.X-c.X), math.Min(c.Y-all.Min.Y, all.Max.Y-c.Y))
	if d < markGap+edge || r < 0.1 {
		return false
	}
	low, high := b, b
	if size := b.Size(); size.X > size.Y {
		low.Max.X, high.Min.X = c.X, c.X
	} else {
		low.Max.Y, high.Min.Y = c.Y, c.Y
	}
	return m.freePart(low, all) && m.freePart(high, all)
}

// marker sets the text of one half.
type marker struct {
	*markRoom
	right bool
	taken []geom.Box // mold coordinates
}

// place finds room for a line and takes it.
func (m *marker) place(l lettering) (mark, bool) {
	half := geom.Vec{X: l.size.X / 2, Y: l.size.Y / 2}
	for _, s := range m.spots {
		if s.leeway < math.Min(half.X, half.Y)+markGap {
			continue
		}
		b := geom.Box{Min: s.at.Sub(half), Max: s.at.Add(half)}
		if m.crowded(b) || !m.free(b) {
			continue
		}
		m.taken = append(m.taken, b.Grow(markGap))
		corner := geom.Vec2{X: b.Min.X, Y: b.Min.Y}
		if m.right { // which is printed turned about Y
			corner.X = -b.Max.X
		}
		return mark{l.outline, corner}, true
	}
	return mark{}, false
}

func (m *marker) crowded(b geom.Box) bool {
	for _, t := range m.taken {
		if !t.Intersect(b).IsEmpty() {
			return true
		}
	}
	return false
}

// marks sets all text of a half: in one line when that has room, else line by
// line, the half's name first, each as large as fits. What finds no room is
// left out with a note.
func (m *marker) marks(name string) ([]mark, []Finding, error) {
	lines := []string{name}
	for _, l := range m.spec.Marking.Lines {
		if l = strings.TrimSpace(l); l != "" {
			lines = append(lines, l)
		}
	}
	all := strings.Join(append(append([]string{}, lines[1:]...), lines[0]), "   ")
	if mk, capital, err := m.largest(all); err != nil {
		return nil, nil, err
	} else if capital == m.spec.Marking.Height {
		return []mark{mk}, nil, nil
	}
	m.taken = nil
	var marks []mark
	var findings []Finding
	half := strings.ToLower(name)
	for _, l := range lines {
		mk, capital, err := m.largest(l)
		switch {
		case err != nil:
			return nil, nil, err
		case capital == 0:
			findings = append(findings, Finding{
				Severity: Note, Code: "marking-dropped",
				Message: fmt.Sprintf("%q has no room on the floor of the %s half", l, half),
				Remedy:  "shorten it, or enlarge frame.to_wall",
			})
			continue
		case capital < m.spec.Marking.Height:
			findings = append(findings, Finding{
				Severity: Note, Code: "marking-shrunk", Value: capital, Limit: m.spec.Marking.Height, Unit: "mm",
				Message: fmt.Sprintf("%q has room at %.1f mm on the floor of the %s half", l, capital, half),
				Remedy:  "shorten it, or enlarge frame.to_wall",
			})
		}
		marks = append(marks, mk)
	}
	return marks, findings, nil
}

// largest places a line as large as fits and returns its capital's height, 0
// when it has no room at any size.
func (m *marker) largest(text string) (mark, float64, error) {
	least := math.Min(m.spec.Marking.Height, leastCapital*m.spec.Print.Nozzle)
	for capital := m.spec.Marking.Height; capital >= least-1e-9; capital *= 0.8 {
		l, err := letter(text, capital)
		if err != nil {
			return mark{}, 0, &SpecError{"marking.lines", fmt.Sprintf("must be text that the font has, got %q", text),
				math.NaN(), math.NaN(), "", err.Error()}
		}
		if l.outline == nil {
			return mark{}, 0, nil
		}
		if mk, ok := m.place(l); ok {
			return mk, capital, nil
		}
	}
	return mark{}, 0, nil
}
