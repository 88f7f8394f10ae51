package moldbox

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
)

// Tile is a small part of a mold to print before the whole, as it stands on the
// printer's plate: its back on z = 0.
type Tile struct {
	Name string // "left hook bed"
	Mesh *geom.TriMesh
}

// Sizes of tiles, mm.
const (
	tileBase   = 1.5  // under what is to be tried
	tileReach  = 10.0 // round a hook's eye, at least
	tileMargin = 2.0  // round its ring
	tileLetter = 8.0  // of the lettering, at most
)

// TestTiles are what to try before printing the frames: the rubber round an eye as
// plastic, both halves of it, for the hook to lie in; a key of each frame, to close
// on each other; and a letter of the left frame. It fails with a ProofError or as
// geom.Mesh does.
func (m *Mold) TestTiles(ctx context.Context, tolerance float64) ([]Tile, error) {
	var parts []tilePart
	for i, c := range m.Cavities {
		if hook := m.Spec.Cavities[i].Hook; hook != nil {
			reach := max(tileReach, hook.ringRadius()+hook.Wire+tileMargin)
			parts = append(parts, bedTile(m.Left, c, reach), bedTile(m.Right, c, reach))
			break
		}
	}
	if len(m.Keys) > 0 {
		parts = append(parts, m.keyTile(m.Left), m.keyTile(m.Right))
	}
	if b := m.Left.Marking.BoundingBox(); !b.IsEmpty() {
		parts = append(parts, letterTile(m.Left, b))
	}
	tiles := make([]Tile, len(parts))
	group, ctx := errgroup.WithContext(ctx)
	for i, p := range parts {
		group.Go(func() (err error) {
			tiles[i], err = p.make(ctx, tolerance)
			return err
		})
	}
	return tiles, group.Wait()
}

// tilePart is a tile as a solid in the half's print coordinates.
type tilePart struct {
	name  string
	solid geom.Solid
	over  bool // it lies on its face there, and is turned over to be printed
}

// bedTile is the rubber round a cavity's eye, up to a little over the head.
func bedTile(h Half, c Placed, reach float64) tilePart {
	eye := h.ToPrint(c.Eye)
	head := c.Head.BoundingBox()
	top := max(head.Max.Z, -head.Min.Z) + tileBase
	around := geom.Vec{X: reach, Y: reach}
	box := geom.Box{Min: eye.Sub(around), Max: eye.Add(around)}
	box.Min.Z, box.Max.Z = h.Outside.Min.Z, min(top, h.FillHeight)
	return tilePart{h.Name + " hook bed", geom.Intersect(h.Rubber(), geom.Block(box)), true}
}

// keyTile is the first key of a frame, bump or socket, in a round piece of its floor: so
// small that no lettering beside it keeps two of them apart.
func (m *Mold) keyTile(h Half) tilePart {
	k := m.Keys[0]
	at := h.ToPrint(k.At)
	foot, top := at, at
	foot.Z, top.Z = max(h.Outside.Min.Z, -k.Depth-tileBase), k.Depth+1
	radius := k.Diameter/2 + 0.9*markGap
	return tilePart{h.Name + " key", geom.Intersect(h.Frame, geom.Frustum(foot, top, radius, radius)), false}
}

// letterTile is the beginning of a frame's lettering, which reads from its far end.
func letterTile(h Half, marking geom.Box) tilePart {
	high := min(tileLetter, marking.Size().Y)
	box := geom.Box{
		Min: geom.Vec{X: max(marking.Min.X, marking.Max.X-1.2*high) - 1, Y: marking.Max.Y - high - 1, Z: max(h.Outside.Min.Z, -tileBase)},
		Max: geom.Vec{X: marking.Max.X + 1, Y: marking.Max.Y + 1, Z: marking.Max.Z + 1},
	}
	return tilePart{h.Name + " letter", geom.Intersect(h.Frame, geom.Block(box)), false}
}

// make meshes a tile and proves that it is sound.
func (p tilePart) make(ctx context.Context, tolerance float64) (Tile, error) {
	mesh, err := geom.Mesh(ctx, p.solid, geom.MeshOptions{Tolerance: tolerance})
	if err != nil {
		return Tile{}, fmt.Errorf("%s: %w", p.name, err)
	}
	low, far := mesh.BoundingBox().Min, mesh.BoundingBox().Max
	mesh = geom.Rounded32(mesh.Transform(func(v geom.Vec) geom.Vec {
		if p.over {
			return geom.Vec{X: v.X - low.X, Y: far.Y - v.Y, Z: far.Z - v.Z}
		}
		return v.Sub(low)
	}, false))
	if err := proveTile(ctx, p, mesh); err != nil {
		return Tile{}, err
	}
	return Tile{p.name, mesh}, nil
}

// tileShare is how far a tile's mesh may be from its solid in volume: a tile is
// small, so that its surface counts for more than a frame's.
const tileShare = 5e-3

func proveTile(ctx context.Context, p tilePart, mesh *geom.TriMesh) error {
	volume, err := geom.Integrate(ctx, p.solid, geom.IntegrateOptions{RelTol: tileShare / 5})
	if err != nil {
		return err
	}
	if off := mesh.Volume()/volume.Best - 1; !(off > -tileShare && off < tileShare) {
		return proofError("the mesh of the %s holds %.2f mm³, its solid %.2f mm³", p.name, mesh.Volume(), volume.Best)
	}
	crossings, err := geom.SelfCrossings(ctx, mesh, 1)
	if err == nil && (len(crossings) > 0 || len(geom.Audit(mesh)) > 0) {
		return proofError("the mesh of the %s is not sound", p.name)
	}
	return err
}
