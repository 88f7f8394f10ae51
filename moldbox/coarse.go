package moldbox

import (
	"slices"

	"halfpour/geom"
)

// Coarse is the mold with other solids for its cavities' heads, as near to them as
// will do for a look, so that it is meshed sooner. All else stands where it stood.
// heads are in their files' coordinates, in mm, nil for one that stays.
func (m *Mold) Coarse(heads []geom.Solid) *Mold {
	if m.made.by == nil {
		return m
	}
	out, b := *m, *m.made.by
	b.cavities = slices.Clone(m.Cavities)
	for i, head := range heads {
		if c := &b.cavities[i]; head != nil {
			c.Head = b.parts[i].toPart.Then(geom.Move(c.Eye)).Solid(head)
			c.Metal = b.metal(c, c.Vent)
		}
	}
	out.Cavities = b.cavities
	b.fillTrays(&out)
	return &out
}
