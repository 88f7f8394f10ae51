package page

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"math"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// packedLying is how heads lie, as the page's scripts read it. Lengths are mm;
// places and directions are along the axes of the head's file.
type packedLying struct {
	Schema int          `json:"schema"`
	Heads  []packedHead `json:"heads"`
}

type packedHead struct {
	Name    string        `json:"name"`
	Shape   string        `json:"shape"` // names its mesh
	Unit    float64       `json:"unit"`
	ToHook  [16]float64   `json:"to_hook"` // by columns: to the hook's plane, x to the tail, y to the back, the eye at the origin
	Nose    geom3         `json:"nose"`
	Back    geom3         `json:"back"`
	Across  geom3         `json:"across"` // the parting plane is square to it
	Parting float64       `json:"parting"`
	Low     float64       `json:"low"` // between where the plane cuts the head
	High    float64       `json:"high"`
	EyeOff  float64       `json:"eye_off"` // of the eye as given from the plane
	Keys    packedKeys    `json:"keys"`
	Points  []packedPoint `json:"points"`
	Ghosts  []packedGhost `json:"ghosts"`
	Marks   []packedMark  `json:"marks"`
	Wires   []packedMesh  `json:"wires"` // in the hook's plane
	Blob    string        `json:"blob"`
}

type packedKeys struct {
	Nose    string `json:"nose"`
	Back    string `json:"back"`
	Parting string `json:"parting"`
}

type packedPoint struct {
	Key    string `json:"key"`
	Label  string `json:"label"`
	Item   int    `json:"item"`
	At     *geom3 `json:"at,omitempty"`
	Follow bool   `json:"follow"` // the hook goes with it
}

type packedGhost struct {
	pourplan.Ghost
	At  *geom3 `json:"at,omitempty"`
	Way *geom3 `json:"way,omitempty"`
}

type packedMark struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	At       geom3  `json:"at"`
}

// lyingTolerance is that of wires to look at, mm.
const lyingTolerance = 0.1

// LyingJSON is how heads lie, for the page's scripts. ghosts are what is proposed,
// a list for each head. It fails when a wire cannot be meshed or ctx ends.
func LyingJSON(ctx context.Context, heads []pourplan.LyingHead, ghosts [][]pourplan.Ghost) ([]byte, error) {
	doc := packedLying{Schema: 1, Heads: []packedHead{}}
	for i, h := range heads {
		p, err := packLying(ctx, h, ghosts[i])
		if err != nil {
			return nil, err
		}
		doc.Heads = append(doc.Heads, p)
	}
	return json.Marshal(doc)
}

func packLying(ctx context.Context, h pourplan.LyingHead, ghosts []pourplan.Ghost) (packedHead, error) {
	across := h.Pose.Across()
	out := packedHead{Name: h.Name, Shape: ShapeName(h.Mesh), Unit: h.Unit, ToHook: columns(h.FromFile),
		Nose: rounded(h.Pose.Nose.Unit()), Back: rounded(h.Pose.Back.Unit()), Across: rounded(across), Parting: h.Pose.Parting,
		EyeOff: math.Round(h.Eye.Z*1e3) / 1e3, Keys: packedKeys{h.Keys.Nose, h.Keys.Back, h.Keys.Parting},
		Points: []packedPoint{}, Ghosts: []packedGhost{}, Marks: []packedMark{}, Wires: []packedMesh{}}
	out.Low, out.High = math.Inf(1), math.Inf(-1)
	for _, v := range h.Mesh.Vertices {
		x := v.Dot(across) * h.Unit
		out.Low, out.High = math.Min(out.Low, x), math.Max(out.High, x)
	}
	for _, p := range h.Points {
		out.Points = append(out.Points, packedPoint{p.Key, p.Label, p.Item, packedPlace(p.At), p.Label == "eye"})
	}
	for _, g := range ghosts {
		out.Ghosts = append(out.Ghosts, packedGhost{g, packedPlace(g.At), packedPlace(g.Way)})
	}
	for _, f := range h.Findings {
		if f.Severity != moldbox.Note {
			out.Marks = append(out.Marks, packedMark{string(f.Severity), f.Code, micrometres(*f.HeadAt)})
		}
	}
	var p packer
	for _, w := range h.Wires {
		mesh, err := geom.Mesh(ctx, w, geom.MeshOptions{Tolerance: lyingTolerance})
		if err != nil {
			return out, fmt.Errorf("page: wires: %w", err)
		}
		out.Wires = append(out.Wires, p.mesh(mesh))
	}
	out.Blob = base64.StdEncoding.EncodeToString(p.blob.Bytes())
	return out, nil
}

func packedPlace(v *geom.Vec) *geom3 {
	if v == nil {
		return nil
	}
	p := rounded(*v)
	return &p
}

// rounded rounds what is no length, or a length in mm, to six digits behind the point.
func rounded(v geom.Vec) geom3 {
	round := func(x float64) float64 { return math.Round(x*1e6)/1e6 + 0 }
	return geom3{round(v.X), round(v.Y), round(v.Z)}
}

// columns is a transform as the scripts have it.
func columns(t geom.Transform) (m [16]float64) {
	o := t.Point(geom.Vec{})
	for k, v := range []geom.Vec{t.Point(geom.Vec{X: 1}).Sub(o), t.Point(geom.Vec{Y: 1}).Sub(o), t.Point(geom.Vec{Z: 1}).Sub(o), o} {
		m[4*k], m[4*k+1], m[4*k+2] = v.X, v.Y, v.Z
	}
	m[15] = 1
	return m
}

// mostShape is up to how many triangles a head is shown as it is.
const mostShape = 150000

// ShapeName names a head's mesh by what it is.
func ShapeName(m *geom.TriMesh) string {
	h := fnv.New64a()
	fmt.Fprint(h, len(m.Triangles), len(m.Vertices))
	var b []byte
	for _, v := range m.Vertices {
		b = b[:0]
		for _, x := range []float64{v.X, v.Y, v.Z} {
			u := math.Float64bits(x)
			b = append(b, byte(u>>56), byte(u>>48), byte(u>>40), byte(u>>32), byte(u>>24), byte(u>>16), byte(u>>8), byte(u))
		}
		_, _ = h.Write(b)
	}
	return fmt.Sprintf("%016x", h.Sum64())
}

// ShapeJSON is the mesh of a head, in its file's unit, for the page's scripts; one of
// very many facets is thinned. It fails when ctx ends.
func ShapeJSON(ctx context.Context, m *geom.TriMesh) ([]byte, error) {
	s, err := surface{mesh: m, class: make([]uint8, len(m.Triangles))}.thinned(ctx, mostShape)
	if err != nil {
		return nil, err
	}
	var p packer
	mesh := p.mesh(s.mesh)
	return json.Marshal(struct {
		packedMesh
		Blob string `json:"blob"`
	}{mesh, base64.StdEncoding.EncodeToString(p.blob.Bytes())})
}
