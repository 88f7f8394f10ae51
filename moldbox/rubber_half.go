package moldbox

import "halfpour/geom"

// Half.Rubber (mold.go) is the cured rubber half as it lies in its frame, the
// very solid that is measured and weighed. This file takes what the mold is
// made of into the closed mold, as it stands for casting: left half on +Z,
// right half on -Z, their faces on the parting plane z = 0, the mouths up on
// +Y.

// InMold is the half's placement from its print coordinates to mold
// coordinates: none for the left half, a turn by 180° about Y for the right
// one. It is its own inverse.
func (h Half) InMold() geom.Transform {
	if h.Name == "right" {
		return toRight()
	}
	return geom.Identity()
}

// RubberInMold is the half's cured rubber where it is in the closed mold, in
// mold coordinates: Rubber in another pose. Its bumps stand across the parting
// plane into the sockets of the other half.
func (h Half) RubberInMold() geom.Solid { return h.InMold().Solid(h.Rubber()) }

// Shot is all the metal of one casting up to the top edge, as it comes out of
// the mold and before anything is snipped: heads, gates, funnels, vents and
// the runner if there is one, less the wires; mold coordinates, at the size
// that the rubber has, shrinkage not yet taken.
func (m *Mold) Shot() geom.Solid {
	var parts []geom.Solid
	for _, c := range m.Cavities {
		parts = append(parts, c.Metal)
	}
	if m.Runner != nil {
		parts = append(parts, m.Runner.Metal)
	}
	return geom.Union(parts...)
}

// Wires are all hooks and keepers where they lie in the closed mold, at their
// true size; mold coordinates, nil without any.
func (m *Mold) Wires() geom.Solid {
	var wires []geom.Solid
	for _, c := range m.Cavities {
		if c.Wire != nil {
			wires = append(wires, c.Wire)
		}
	}
	if len(wires) == 0 {
		return nil
	}
	return geom.Union(wires...)
}
