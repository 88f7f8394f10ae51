package page

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"math"

	"halfpour/geom"
)

// packedModel is a Model as the page's scripts read it: what is in the blob
// and where. Lengths are mm.
type packedModel struct {
	Trays   [2]packedTray  `json:"trays"`
	Metal   []packedBody   `json:"metal"`
	Wires   []packedBody   `json:"wires"`
	Pockets []packedPocket `json:"pockets"`
	Top     float64        `json:"top"`    // y of the mold's upper edge
	Bottom  float64        `json:"bottom"` // y of the lowest metal
	Runner  bool           `json:"runner"` // one funnel fills all cavities
}

type packedTray struct {
	packedMesh
	Half   string     `json:"half"`
	Fill   float64    `json:"fill"` // height of the rubber
	Inside [2]geom3   `json:"inside"`
	Runs   [3]runSpan `json:"runs"` // outer, inner, level: first index and how many
}

type packedBody struct {
	packedMesh
	At []geom3 `json:"at"`
}

type packedPocket struct {
	Low    geom3   `json:"low"`
	High   geom3   `json:"high"`
	Spill  float64 `json:"spill"` // y of the metal that closed it off
	Volume float64 `json:"volume"`
	Cavity string  `json:"cavity"`
}

// packedMesh says where a mesh is in the blob: three 16-bit numbers a vertex,
// of the steps between low and high, then three indices a triangle.
type packedMesh struct {
	Low      geom3 `json:"low"`
	High     geom3 `json:"high"`
	Vertices int   `json:"vertices"`
	Indices  int   `json:"indices"`
	Wide     bool  `json:"wide"` // indices have 32 bits, not 16
	Offset   int   `json:"offset"`
}

type geom3 [3]float64

type runSpan [2]int

// micrometres rounds what is written as text.
func micrometres(v geom.Vec) geom3 {
	round := func(x float64) float64 { return math.Round(x*1e3)/1e3 + 0 }
	return geom3{round(v.X), round(v.Y), round(v.Z)}
}

// pack writes the model as a JSON document and a blob in base64.
func (m *Model) pack() (head []byte, blob string, err error) {
	var p packer
	doc := packedModel{Top: m.mold.Left.Inside.Max.Y, Metal: []packedBody{}, Wires: []packedBody{}, Pockets: []packedPocket{}, Runner: m.mold.Runner != nil}
	for i, t := range m.trays {
		doc.Trays[i] = p.tray(t)
	}
	metal := geom.EmptyBox()
	for _, b := range m.metal {
		doc.Metal = append(doc.Metal, p.body(b))
		for _, by := range b.at {
			metal = metal.Union(geom.Move(by).Box(b.mesh.BoundingBox()))
		}
	}
	if !metal.IsEmpty() {
		doc.Bottom = metal.Min.Y
	}
	for _, b := range m.wires {
		doc.Wires = append(doc.Wires, p.body(b))
	}
	for _, k := range m.pockets {
		doc.Pockets = append(doc.Pockets, packedPocket{micrometres(k.Box.Min), micrometres(k.Box.Max), k.Spill, k.Volume, k.cavity})
	}
	head, err = json.Marshal(doc)
	return head, base64.StdEncoding.EncodeToString(p.blob.Bytes()), err
}

// packer gathers meshes.
type packer struct{ blob bytes.Buffer }

func (p *packer) tray(t tray) packedTray {
	mesh, runs := t.sorted()
	inside := t.half.Inside
	return packedTray{packedMesh: p.mesh(mesh), Half: t.half.Name, Fill: t.half.FillHeight,
		Inside: [2]geom3{micrometres(inside.Min), micrometres(inside.Max)}, Runs: runs}
}

func (p *packer) body(b body) packedBody {
	mesh, _ := b.sorted()
	out := packedBody{packedMesh: p.mesh(mesh)}
	for _, by := range b.at {
		out.At = append(out.At, micrometres(by))
	}
	return out
}

// sorted returns the mesh with its classes one after the other and none but
// the vertices that it uses, and where each class is among the indices.
func (s surface) sorted() (*geom.TriMesh, [3]runSpan) {
	out := &geom.TriMesh{}
	var runs [3]runSpan
	number := make([]int32, len(s.mesh.Vertices)) // 0: not used so far
	for class := range runs {
		runs[class][0] = 3 * len(out.Triangles)
		for t, v := range s.mesh.Triangles {
			if int(s.class[t]) != class {
				continue
			}
			for k, i := range v {
				if number[i] == 0 {
					out.Vertices = append(out.Vertices, s.mesh.Vertices[i])
					number[i] = int32(len(out.Vertices))
				}
				v[k] = number[i] - 1
			}
			out.Triangles = append(out.Triangles, v)
		}
		runs[class][1] = 3*len(out.Triangles) - runs[class][0]
	}
	return out, runs
}

// mesh adds a mesh to the blob.
func (p *packer) mesh(m *geom.TriMesh) packedMesh {
	box := m.BoundingBox()
	low, high := micrometres(box.Min), micrometres(box.Max)
	out := packedMesh{Low: low, High: high, Vertices: len(m.Vertices), Indices: 3 * len(m.Triangles), Wide: len(m.Vertices) > math.MaxUint16, Offset: p.blob.Len()}
	step := func(x, low, high float64) uint16 {
		if !(high > low) {
			return 0
		}
		return uint16(math.Round(math.MaxUint16 * math.Min(math.Max((x-low)/(high-low), 0), 1)))
	}
	var b []byte
	for _, v := range m.Vertices {
		b = binary.LittleEndian.AppendUint16(b, step(v.X, low[0], high[0]))
		b = binary.LittleEndian.AppendUint16(b, step(v.Y, low[1], high[1]))
		b = binary.LittleEndian.AppendUint16(b, step(v.Z, low[2], high[2]))
	}
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	for _, t := range m.Triangles {
		for _, i := range t {
			if out.Wide {
				b = binary.LittleEndian.AppendUint32(b, uint32(i))
			} else {
				b = binary.LittleEndian.AppendUint16(b, uint16(i))
			}
		}
	}
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	p.blob.Write(b)
	return out
}
