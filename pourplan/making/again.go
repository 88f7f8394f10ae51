package making

import (
	"context"
	"maps"
	"reflect"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// Reuse lets a run that has not begun take over from the last one what is still
// as the job asks for: what was found of heads that Heads gives it again, and
// molds whose spec is the same, with what was measured of them. So a change of
// price, kit or hour is told at once.
func (r *Run) Reuse(last *Run) {
	r.shelf.last = last.shelf.heads
	r.shelf.thinned = last.shelf.thinned
	for _, m := range r.Molds {
		for _, old := range last.Molds {
			if m.Name != old.Name {
				continue
			}
			for _, earlier := range []made{old.unfitted, old.made, old.earlier} {
				if m.earlier = earlier; earlier.Solids != nil {
					break
				}
			}
		}
	}
}

// sameAsEarlier reports whether the mold of the last run is of the same spec.
func (m *Mold) sameAsEarlier() bool {
	return m.earlier.Solids != nil && maps.Equal(m.earlier.heads, m.heads) && reflect.DeepEqual(m.earlier.spec, m.spec)
}

// Sketch returns first figures of a mold, not checked, from a sketch of it as it
// comes out of the last run's; nil where none can be made, and where the mold is
// at hand. It fails with moldbox.ErrNoSketch, or as moldbox.Build does.
func (m *Mold) Sketch(ctx context.Context) (*pourplan.Plan, error) {
	if m.earlier.Solids == nil {
		return nil, nil
	}
	if err := m.readHeads(ctx); err != nil || m.sameAsEarlier() {
		return nil, err
	}
	s, err := moldbox.NewSketch(ctx, m.spec, m.earlier.Solids)
	if err != nil {
		return nil, err
	}
	in, err := s.Measure(ctx, m.cavityHeads())
	if err != nil {
		return nil, err
	}
	if was := m.earlier.checked; was != nil {
		in.Left.Plastic, in.Right.Plastic = was.Left.Plastic, was.Right.Plastic
	}
	return pourplan.NewPlan(m.Job, in)
}
