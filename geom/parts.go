package geom

// Parts says what a solid is made of, for what can be worked out part by part.
// A solid that has no parts has the zero Parts.
type Parts struct {
	Any []Solid // a point is inside when it is in any of these

	// Or else when it is in all of All and in none of None.
	All, None []Solid

	Mesh *TriMesh // or within the image of this mesh under To
	To   Transform
}

// PartsOf returns the parts of s.
func PartsOf(s Solid) Parts {
	switch s := s.(type) {
	case *union:
		return Parts{Any: s.children}
	case *intersection:
		var p Parts
		for _, k := range s.children {
			if c, ok := k.(*complement); ok {
				p.None = append(p.None, c.s)
			} else {
				p.All = append(p.All, k)
			}
		}
		return p
	case *MeshSolid:
		return Parts{Mesh: s.mesh, To: Identity()}
	case *placed:
		if m, ok := s.s.(*MeshSolid); ok {
			return Parts{Mesh: m.mesh, To: s.to}
		}
	}
	return Parts{}
}
