package making

import (
	"context"
	"reflect"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// boredHead is a head as cavities have it: without the bores for their wires.
type boredHead struct {
	head *head.Head
	unit string
	of   moldbox.Cavity // what of a cavity the bores go by

	drawn, mesh *geom.TriMesh // in mm: as it was read, and without bores
	solid       geom.Solid    // of the mesh; nil without bores
	bores       []moldbox.Bore
}

// bored fills the bores of a cavity's head, unless that has been done.
func (s *shelf) bored(ctx context.Context, h *head.Head, t pourplan.HeadTable, v moldbox.Cavity) (*boredHead, error) {
	e := s.at(t.File)
	e.looking.Lock()
	defer e.looking.Unlock()
	b := &boredHead{head: h, unit: t.Unit,
		of: moldbox.Cavity{Pose: v.Pose, Eye: v.Eye, Hook: v.Hook, Keepers: v.Keepers, KeepBores: v.KeepBores}}
	for _, known := range slices.Concat(e.bored, e.older) {
		if known.head != h || known.unit != t.Unit {
			continue
		}
		if b.drawn = known.drawn; reflect.DeepEqual(known.of, b.of) {
			if !slices.Contains(e.bored, known) {
				e.bored = append(e.bored, known)
			}
			return known, nil
		}
	}
	if b.drawn == nil {
		b.drawn = h.Mesh
		if k := t.MMPerUnit(); k != 1 {
			b.drawn = h.Mesh.Transform(func(v geom.Vec) geom.Vec { return v.Mul(k) }, false)
		}
	}
	var err error
	if b.mesh, b.bores, err = moldbox.FillBores(ctx, b.drawn, v); err != nil {
		return nil, err
	}
	if len(b.bores) > 0 {
		if b.solid, err = h.Remade(b.mesh); err != nil {
			b.mesh, b.bores = b.drawn, nil
		}
	}
	e.bored = append(e.bored, b)
	return b, nil
}
