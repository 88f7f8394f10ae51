package moldbox

import (
	"context"
	"slices"
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

	// What is hollow: heads, wires and sprues, the runner, vents. Meanwhile, and while
	// there is more to place, the cavities by themselves.
	b.placeCavities()
	b.checkPrintable()
	placed := len(b.findings)
	var cavities, shapes []Finding
	var shapesErr error
	var looking sync.WaitGroup
	defer looking.Wait()
	looking.Go(func() { cavities = b.checkCavities(ctx) })
	b.placeRunner(ctx)
	air, err := b.cutVents(ctx)
	if err != nil {
		return nil, err
	}

	looking.Go(func() { shapes, shapesErr = b.checkShapes(ctx, air) })

	// Keys and marks in what room is left, and the trays round all of it.
	keys, findings, err := placeKeys(ctx, spec, row.inside, b.hollows())
	if err != nil {
		return nil, err
	}
	b.keys, b.findings = keys, append(b.findings, findings...)
	if err := b.placeMarks(ctx); err != nil {
		return nil, err
	}
	m := &Mold{}
	b.fillTrays(m)

	// The checks of what stands beside each other. Findings come in the order of what
	// is looked at.
	b.checkNeighbours(ctx)
	thinnest := b.thinnest(ctx)
	if looking.Wait(); shapesErr != nil {
		return nil, shapesErr
	}
	b.findings = append(slices.Insert(b.findings, placed, cavities...), shapes...)
	b.checkThinnest(thinnest)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	sortFindings(b.findings)

	m.Spec, m.Cavities, m.Rows, m.Runner, m.Keys = spec, b.cavities, row.rows, b.runner, b.keys
	m.Thinnest, m.Findings, m.made = thinnest, b.findings, made{b, parts, places.known}
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
