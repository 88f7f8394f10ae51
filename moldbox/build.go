package moldbox

import (
	"context"
	"sync"
)

// Build makes the two halves of a mold. A broken rule of the spec, a head that
// the parting plane misses, a weight that no scale gives, cavities that the
// printer cannot hold and fewer than three keys are errors (SpecError); all
// that can be judged by looking at the result is a Finding. Equal specs give
// equal molds.
func Build(ctx context.Context, spec Spec) (*Mold, error) {
	if err := spec.Validate(); err != nil {
		return nil, err
	}
	if err := spec.CheckHeads(); err != nil {
		return nil, err
	}
	spec, err := chooseTurns(ctx, spec)
	if err != nil {
		return nil, err
	}
	if spec.Layout.Alternate || spec.Layout.Least {
		return buildLeast(ctx, spec)
	}
	return buildAsGiven(ctx, spec)
}

// buildAsGiven makes the mold with every cavity turned as the spec says.
func buildAsGiven(ctx context.Context, spec Spec) (*Mold, error) {
	// The heads at their size, and where each stands.
	parts, err := newParts(ctx, spec, nil)
	if err != nil {
		return nil, err
	}
	places := newArranger(ctx, spec)
	row, err := places.fitting(parts)
	if err != nil {
		return nil, err
	}
	b := &builder{spec: spec, parts: parts, row: row}

	// What is hollow: heads, wires and sprues, the runner, vents.
	b.placeCavities()
	b.checkCavities(ctx)
	b.placeRunner(ctx)
	air, err := b.cutVents(ctx)
	if err != nil {
		return nil, err
	}

	// Keys and marks in what room is left; meanwhile, the heads by themselves.
	var shapes []Finding
	var shapesErr error
	var looking sync.WaitGroup
	looking.Go(func() { shapes, shapesErr = b.checkShapes(ctx, air) })
	keys, findings, err := placeKeys(ctx, spec, row.inside, b.hollows())
	if b.keys, b.findings = keys, append(b.findings, findings...); err == nil {
		err = b.placeMarks(ctx)
	}
	if looking.Wait(); err != nil {
		return nil, err
	}
	if shapesErr != nil {
		return nil, shapesErr
	}

	// The checks of what stands beside each other, in their order.
	b.checkNeighbours(ctx)
	b.findings = append(b.findings, shapes...)
	thinnest := b.checkThinnest(ctx)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	sortFindings(b.findings)

	m := &Mold{
		Spec:     spec,
		Cavities: b.cavities,
		Rows:     row.rows,
		Runner:   b.runner,
		Keys:     b.keys,
		Thinnest: thinnest,
		Findings: b.findings,
		made:     made{b, parts, places.known},
	}
	b.fillTrays(m)
	return m, nil
}

// builder holds a mold while it is put together.
type builder struct {
	spec     Spec
	parts    []*part
	row      layout
	cavities []Placed
	runner   *Runner
	keys     []Key
	findings []Finding

	leftMarks, rightMarks []mark
}
