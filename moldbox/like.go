package moldbox

import (
	"context"
	"errors"
	"slices"
)

// Like sketches a mold like m but for a change of its spec, such as a wider gate: to
// see by Freeze or Rhythm what the change would do. It is unchecked. Where m is
// too unlike for a sketch it is built, which takes longer. It fails as Build does.
func (m *Mold) Like(ctx context.Context, change func(*Spec)) (*Mold, error) {
	spec := m.Spec
	spec.Cavities = slices.Clone(spec.Cavities)
	change(&spec)
	s, err := NewSketch(ctx, spec, m)
	if errors.Is(err, ErrNoSketch) {
		return Build(ctx, spec)
	}
	if err != nil {
		return nil, err
	}
	return s.Mold, nil
}
