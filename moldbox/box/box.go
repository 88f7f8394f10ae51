package box

import (
	"context"

	"halfpour/geom"
	"halfpour/moldbox"
)

// Input is the frame of one half as its file has it.
type Input struct {
	Mesh *geom.TriMesh // closed, mm
	Up   geom.Vec      // the way its open side looks, along an axis; zero: found
}

// Spec is a mold of two such frames.
type Spec struct {
	Left, Right Input
	Options
	Checks moldbox.CheckSpec
	Over   float64 // least rubber over the highest point, mm
}

// Box is what was found of a mold whose frames somebody else has drawn.
type Box struct {
	Left, Right *Frame // nil: see Findings
	Findings    []moldbox.Finding
}

// Stopped reports whether there is no mold to plan.
func (b *Box) Stopped() bool { return b.Left == nil || b.Right == nil }

// Look looks at both halves. Its error is the context's.
func (s Spec) Look(ctx context.Context) (*Box, error) {
	b := new(Box)
	var solids [2]geom.Solid
	var frames [2]*Frame
	for i, in := range []Input{s.Left, s.Right} {
		c := &checker{half: [2]string{"left", "right"}[i]}
		var err error
		frames[i], solids[i], err = s.look(ctx, in, c)
		b.Findings = append(b.Findings, c.list...)
		if err != nil {
			return nil, err
		}
	}
	b.Left, b.Right = frames[0], frames[1]
	if b.Stopped() {
		return b, nil
	}
	l, err := heightsOf(ctx, b.Left, solids[0])
	if err != nil {
		return nil, err
	}
	r, err := heightsOf(ctx, b.Right, solids[1])
	if err != nil {
		return nil, err
	}
	c := &checker{half: "right"}
	c.tellMate(mate(b.Left, b.Right, l, r))
	b.Findings = append(b.Findings, c.list...)
	return b, nil
}

// look looks at one half; no frame where what it holds cannot be told.
func (s Spec) look(ctx context.Context, in Input, c *checker) (*Frame, geom.Solid, error) {
	c.up = func(p geom.Vec) geom.Vec { return p }
	if err := c.bodies(ctx, in.Mesh); err != nil || len(c.list) > 0 {
		return nil, nil, err
	}
	m, f, turned := s.stand(in)
	c.up = turned.inverse
	solid, err := geom.NewMeshSolid(m)
	if err != nil {
		return nil, nil, err
	}
	if f == nil {
		return nil, nil, c.noRoom(ctx, m, solid)
	}
	if !c.rim(f) {
		return nil, nil, nil
	}
	return f, solid, c.rubber(ctx, f, solid, s.Checks, s.Over)
}

// usualShare is what share of its outer box an open box holds at least; other ways
// up are not tried then.
const usualShare = 0.2

// stand turns a frame so that its open side is up. Where that is not known, it is
// the one of the six along axes that holds most.
func (s Spec) stand(in Input) (*geom.TriMesh, *Frame, turn) {
	ways := turns
	if in.Up != (geom.Vec{}) {
		ways = nil
		for _, t := range turns {
			if t.up == in.Up {
				ways = append(ways, t)
			}
		}
	}
	mesh, best, by := in.Mesh, (*Frame)(nil), ways[0]
	most := 0.0
	for i, t := range ways {
		m := in.Mesh
		if t.up != (geom.Vec{Z: 1}) {
			m = m.Transform(t.forward, false)
		}
		if i == 0 {
			mesh = m
		}
		f, ok := Look(m, s.Options)
		if !ok {
			continue
		}
		v := held(m, f.room, f.Rim)
		if best == nil || v > most {
			mesh, best, by, most = m, f, t, v
		}
		if v > usualShare*f.Outside.Volume() {
			break
		}
	}
	return mesh, best, by
}

// turn is a right-angled turn that brings an axis up.
type turn struct{ up, x, y geom.Vec } // y = up × x

func (t turn) forward(p geom.Vec) geom.Vec {
	return geom.Vec{X: p.Dot(t.x), Y: p.Dot(t.y), Z: p.Dot(t.up)}
}

func (t turn) inverse(p geom.Vec) geom.Vec {
	return t.x.Mul(p.X).Add(t.y.Mul(p.Y)).Add(t.up.Mul(p.Z))
}

// turns are the six ways up, the usual one first.
var turns = func() (list []turn) {
	for _, up := range []geom.Vec{{Z: 1}, {Z: -1}, {Y: 1}, {Y: -1}, {X: 1}, {X: -1}} {
		x := geom.Vec{X: 1}
		if up.X != 0 {
			x = geom.Vec{Y: 1}
		}
		list = append(list, turn{up, x, up.Cross(x)})
	}
	return list
}()

// Measured is what a plan of the pour rests on; there are no cavities in it.
func (b *Box) Measured() moldbox.Measured {
	half := func(f *Frame) moldbox.MeasuredHalf {
		return moldbox.MeasuredHalf{
			Rubber:     geom.Integral{Lo: f.Volume, Best: f.Volume, Hi: f.Volume},
			FillHeight: f.Fill - f.Floor, RimHeight: f.Rim - f.Floor, Floor: f.Floor - f.Outside.Min.Z,
			Inside: f.Inside.Size(), Outside: f.Outside.Size(),
		}
	}
	return moldbox.Measured{Left: half(b.Left), Right: half(b.Right), Layout: moldbox.MeasuredLayout{Rows: 1}, Findings: b.Findings}
}
