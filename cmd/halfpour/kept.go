package main

import (
	"context"
	"maps"
	"reflect"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// kept is what one run of a watched build leaves to the next: heads, for as
// long as their files stay as they were, and the mold with what was measured of
// it, for a job that asks for the very same. So a change of price, kit or hour
// is told at once.
type kept struct {
	inputs inputs // as the heads were read
	heads  map[string]*head.Head
	spec   moldbox.Spec
	mold   *moldbox.Mold     // nil when there was none
	rough  *moldbox.Measured // of it, as for check; nil when not measured
}

// sketch returns first figures of a work's mold from a sketch of it, as it comes
// out of the last one; nil where none can be made and where the mold is at hand.
func (k *kept) sketch(ctx context.Context, w *work) (*pourplan.Plan, error) {
	if k.mold == nil {
		return nil, nil
	}
	draft := *w
	if draft.weighed {
		if err := draft.useWeights(ctx); err != nil {
			return nil, err
		}
	}
	spec, err := draft.job.Spec(func(file string) (geom.Solid, error) { return w.loadHead(ctx, file) })
	if err != nil || k.knows(spec, w.heads) {
		return nil, err
	}
	s, err := moldbox.NewSketch(ctx, spec, k.mold)
	if err != nil {
		return nil, err
	}
	draft.mold, draft.findings = s.Mold, nil
	v, err := s.Measure(ctx, draft.cavityHeads())
	if err != nil {
		return nil, err
	}
	if k.rough != nil {
		v.Left.Plastic, v.Right.Plastic = k.rough.Left.Plastic, k.rough.Right.Plastic
	}
	return draft.newPlan(v)
}

// keep takes over what a run has come to.
func (k *kept) keep(w *work) {
	if k.mold != w.mold {
		k.rough = nil
	}
	k.inputs, k.heads = w.inputs, w.heads
	k.spec, k.mold = w.spec, w.mold
}

// lend gives a new run of the same job the heads that have not changed.
func (k *kept) lend(w *work) {
	for file, h := range k.heads {
		if was, known := k.inputs[h.Name]; known && len(k.inputs.changed([]string{h.Name})) == 0 {
			w.heads[file], w.inputs[h.Name] = h, was
		}
	}
	w.kept = k
}

// knows reports whether the mold of a spec, of a work with these heads, is at
// hand.
func (k *kept) knows(spec moldbox.Spec, heads map[string]*head.Head) bool {
	return k != nil && k.mold != nil && maps.Equal(k.heads, heads) && reflect.DeepEqual(k.spec, spec)
}

// roughly measures a work's mold as check does, unless that has been done.
func (k *kept) roughly(ctx context.Context, w *work) (moldbox.Measured, error) {
	if k.rough == nil {
		v, err := w.mold.Measure(ctx, checkShare, w.cavityHeads())
		if err != nil {
			return v, err
		}
		k.rough = &v
	}
	var err error
	if k.rough.Left.Plastic == 0 {
		err = w.measurePlastic(ctx, k.rough)
	}
	return *k.rough, err
}
