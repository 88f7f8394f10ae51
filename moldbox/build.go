package moldbox

import (
	"context"
	"slices"
	"sync"

	"halfpour/geom"
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
	b := &builder{spec: spec, parts: parts, row: row, findings: checkPrintable(spec)}

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
	looking.Go(func() {
		if shapes, shapesErr = b.checkShapes(ctx); shapesErr == nil {
			shapesErr = b.airOf(ctx, air)
		}
	})
	marksLeft, marksRight, err := b.placeKeysAndMarks(ctx)
	if looking.Wait(); err != nil {
		return nil, err
	}
	if shapesErr != nil {
		return nil, shapesErr
	}

	// The checks of what stands beside each other, in their order.
	h := row.fillHeights(parts, spec)
	thinnest := b.thinnest(ctx, h)
	b.findings = slices.Concat(b.findings, checkOutside(ctx, parts, b.cavities), checkNeighbours(ctx, parts, b.cavities, spec), shapes)
	b.findings = append(b.findings, b.checkThinnest(thinnest)...) // unless those before say it
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	sortFindings(b.findings)

	// The trays, and the rubber that they hold.
	left, right := newTray(spec, row.inside, h.left), newTray(spec, row.inside, h.right)
	block := geom.Union(left.block(), toRight().Solid(right.block()))
	return &Mold{
		Spec:     spec,
		Cavities: b.cavities,
		Rows:     b.row.rows,
		Runner:   b.runner,
		Keys:     b.keys,
		Left:     b.half("left", left, marksLeft),
		Right:    b.half("right", right, marksRight),
		Block:    block,
		Void:     geom.Intersect(block, b.void(marksLeft, marksRight)),
		Thinnest: thinnest,
		Findings: b.findings,
		made:     made{parts, places.known},
	}, nil
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
}

// hollows are all that is not rubber, keys and marking aside.
func (b *builder) hollows() []geom.Solid {
	var s []geom.Solid
	for i := range b.cavities {
		s = append(s, b.cavities[i].Head)
		s = append(s, b.cavities[i].channels()...)
	}
	return append(s, b.runner.channels()...)
}
