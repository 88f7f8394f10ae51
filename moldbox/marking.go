package moldbox

import (
	"context"
	"fmt"
	"math"
	"slices"
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

// mark is one line of raised text in a half's print coordinates, mirrored.
type mark struct {
	outline geom.Outline
	shape   *geom.Shape
}

func newMark(o geom.Outline) mark { return mark{o, geom.NewShape(o)} }

// solid raises the text from z0 to z1.
func (m mark) solid(z0, z1 float64) geom.Solid { return m.shape.Prism(z0, z1) }

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
	ctx    context.Context // ends the search
	spec   Spec
	inside geom.Box
	keys   []Key
	avoid  obstacles
	nx, ny int
	grid   []float64 // leeways, row by row from the lowest; NaN where nobody has asked
}

// markStep is the grid's, mm.
const markStep = 1.5

func newMarkRoom(ctx context.Context, spec Spec, inside geom.Box, keys []Key, avoid obstacles) *markRoom {
	size := inside.Size()
	m := &markRoom{
		ctx: ctx, spec: spec, inside: inside, keys: keys, avoid: avoid,
		nx: int(size.X/markStep) + 1, ny: int(size.Y/markStep) + 1,
	}
	m.grid = slices.Repeat([]float64{math.NaN()}, m.nx*m.ny)
	return m
}

// leewayAt is the leeway of a place of the grid: lines stand low, so that most of them
// are never asked about.
func (m *markRoom) leewayAt(i, j int) float64 {
	g := &m.grid[j*m.nx+i]
	if math.IsNaN(*g) {
		*g = m.leeway(m.at(i, j))
	}
	return *g
}

// at is a place of the grid.
func (m *markRoom) at(i, j int) geom.Vec {
	mid := m.inside.Centre().X
	return geom.Vec{X: mid + (float64(i)-float64(m.nx-1)/2)*markStep, Y: m.inside.Min.Y + float64(j)*markStep}
}

// leewayBounds brackets the leeway of p by that of the nearest grid place,
// from which it differs by no more than the distance.
func (m *markRoom) leewayBounds(p geom.Vec) (lo, hi float64) {
	first := m.at(0, 0)
	i := min(max(int(math.Round((p.X-first.X)/markStep)), 0), m.nx-1)
	j := min(max(int(math.Round((p.Y-first.Y)/markStep)), 0), m.ny-1)
	g, off := m.leewayAt(i, j), m.at(i, j).Dist(geom.Vec{X: p.X, Y: p.Y})
	return g - off, g + off
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

// free reports whether a part of the rectangle all keeps markGap from everything:
// by its middle's leeway, else in halves.
func (m *markRoom) free(b, all geom.Box) bool {
	c, r := b.Centre(), b.HalfDiagonal()
	// What is free all round has leeway to the rectangle's own edge at least.
	edge := math.Min(math.Min(c.X-all.Min.X, all.Max.X-c.X), math.Min(c.Y-all.Min.Y, all.Max.Y-c.Y))
	if lo, hi := m.leewayBounds(c); lo >= markGap+r {
		return true
	} else if hi < markGap+edge {
		return false
	}
	d := m.leeway(c)
	if d >= markGap+r {
		return true
	}
	if d < markGap+edge || r < 0.1 {
		return false
	}
	low, high := b, b
	if size := b.Size(); size.X > size.Y {
		low.Max.X, high.Min.X = c.X, c.X
	} else {
		low.Max.Y, high.Min.Y = c.Y, c.Y
	}
	return m.free(low, all) && m.free(high, all)
}

// placeMarks sets the text of both halves.
func (b *builder) placeMarks(ctx context.Context) error {
	room := newMarkRoom(ctx, b.spec, b.row.inside, b.keys, b.hollows())
	left, right := &marker{markRoom: room}, &marker{markRoom: room, right: true}
	var leastLeft, leastRight float64
	var err error
	dropped := map[string][]string{}
	if b.leftMarks, leastLeft, dropped["LEFT"], err = left.marks("LEFT"); err != nil {
		return err
	}
	if b.rightMarks, leastRight, dropped["RIGHT"], err = right.marks("RIGHT"); err != nil {
		return err
	}
	b.findings = append(b.findings, checkMarks(b.spec, min(leastLeft, leastRight), dropped)...)
	return nil
}

// marks are those of a half.
func (b *builder) marks(h Half) []mark {
	return [2][]mark{b.leftMarks, b.rightMarks}[h.index()]
}

// marker sets the text of one half.
type marker struct {
	*markRoom
	right bool
	taken []geom.Box // mold coordinates
}

// place finds room for a line and takes it: the lowest row of the grid first,
// in a row the middle first.
func (m *marker) place(l lettering) (mark, bool) {
	half := geom.Vec{X: l.size.X / 2, Y: l.size.Y / 2}
	for j := range m.ny {
		if m.ctx.Err() != nil {
			break
		}
		for k := range m.nx + 1 {
			i := (m.nx-1)/2 + (k+1)/2*(1-2*(k%2))
			if i < 0 || i >= m.nx || m.leewayAt(i, j) < math.Min(half.X, half.Y)+markGap {
				continue
			}
			c := m.at(i, j)
			b := geom.Box{Min: c.Sub(half), Max: c.Add(half)}
			if m.crowded(b) || !m.free(b, b) {
				continue
			}
			m.taken = append(m.taken, b.Grow(markGap))
			corner := geom.Vec2{X: b.Min.X, Y: b.Min.Y}
			if m.right { // which is printed turned about Y
				corner.X = -b.Max.X
			}
			return newMark(l.outline.Move(corner)), true
		}
	}
	return mark{}, false
}

func (m *marker) crowded(b geom.Box) bool {
	return slices.ContainsFunc(m.taken, func(t geom.Box) bool { return !t.Intersect(b).IsEmpty() })
}

// marks sets all text of a half: in one line when that has room, else line by
// line, the half's name first, each as large as fits. least is the height of
// the smallest capital; dropped are the lines that find no room at any height.
func (m *marker) marks(name string) (marks []mark, least float64, dropped []string, err error) {
	lines := []string{name}
	for _, l := range m.spec.Marking.Lines {
		if l = strings.TrimSpace(l); l != "" {
			lines = append(lines, l)
		}
	}
	least = m.spec.Marking.Height
	all := strings.Join(append(append([]string{}, lines[1:]...), lines[0]), "   ")
	if mk, capital, err := m.largest(all); err != nil {
		return nil, 0, nil, err
	} else if capital == least {
		return []mark{mk}, least, nil, nil
	}
	m.taken = nil
	for _, l := range lines {
		mk, capital, err := m.largest(l)
		switch {
		case err != nil:
			return nil, 0, nil, err
		case capital == 0:
			dropped = append(dropped, l)
		default:
			marks, least = append(marks, mk), math.Min(least, capital)
		}
	}
	return marks, least, dropped, nil
}

// checkMarks tells what of the marking is left out or smaller than asked, each
// once for both halves. dropped are the lines that the halves lack, by name.
func checkMarks(spec Spec, least float64, dropped map[string][]string) []Finding {
	var findings []Finding
	for _, half := range []string{"LEFT", "RIGHT"} {
		for _, l := range dropped[half] {
			where := strings.ToLower(half) + " half"
			if slices.Contains(dropped["LEFT"], l) && slices.Contains(dropped["RIGHT"], l) {
				if half == "RIGHT" {
					continue
				}
				where = "left and right half"
			}
			findings = append(findings, Finding{Severity: Note, Code: "marking-dropped",
				Message: fmt.Sprintf("%q does not fit on the floor of the %s", l, where)})
		}
	}
	if least < spec.Marking.Height {
		findings = append(findings, Finding{Severity: Note, Code: "marking-shrunk",
			Message: "some of the marking is smaller, to fit", Value: least, Limit: spec.Marking.Height, Unit: "mm"})
	}
	return findings
}

// largest places a line as large as fits and returns its capital's height, 0
// when it has no room at any size.
func (m *marker) largest(text string) (mark, float64, error) {
	least := math.Min(m.spec.Marking.Height, leastCapital*m.spec.Print.Nozzle)
	for capital := m.spec.Marking.Height; capital >= least-1e-9; capital *= 0.9 {
		l, err := letter(text, capital)
		if err != nil {
			return mark{}, 0, refused("Marking.Lines", fmt.Sprintf("must be text in the font's characters, got %q", text),
				math.NaN(), math.NaN(), "", err.Error())
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
