package main

import (
	"context"
	"fmt"
	"slices"

	"halfpour/cmd/halfpour/crew"
	"halfpour/cmd/halfpour/fileset"
	"halfpour/geom/parallel"
	"halfpour/moldbox/head"
	"halfpour/pourplan/making"
)

// mostSharedFacets is up to how many facets of all heads a build is shared, since
// both engines keep the heads.
const mostSharedFacets = 1_000_000

// sharedTime is what a shared build takes of the time of one engine: measured on a
// ball, in seconds of the processor that is busy longer.
const sharedTime = 0.6

// shared is how a build is shared.
type shared struct {
	ctx   context.Context // that the build goes under
	heads making.Heads    // that both engines read
	time  float64         // that it takes, as a share of that of one engine
	stop  func()          // must be called at the end
}

// share has a build of the job share its work with another engine, where one is to be
// had: both then read the same bytes of the heads.
func (f *jobFile) share(ctx context.Context, facets int, heads making.Heads) shared {
	alone := shared{ctx, heads, 1, func() {}}
	if facets > mostSharedFacets {
		return alone
	}
	var order crew.Order
	leader, stop := crew.Start(func() (_ crew.Order, err error) {
		order, err = f.order(ctx)
		return order, err
	})
	if leader == nil {
		return alone
	}
	return shared{parallel.WithSharer(ctx, leader), f.headsOf(order), sharedTime, stop}
}

// order has the job's files as they are now; the job itself as it was read.
func (f *jobFile) order(ctx context.Context) (crew.Order, error) {
	o := crew.Order{Job: f.path, Files: map[string][]byte{}}
	for _, path := range f.files() {
		if slices.Contains(f.library, path) {
			o.Files[path] = f.shelved[path]
			continue
		}
		data, err := fileset.ReadFile(ctx, path, mostHeadBytes)
		if err != nil {
			return o, err
		}
		o.Files[path] = data
	}
	o.Files[f.path] = f.text
	return o, nil
}

// headsOf reads heads from the files of an order.
func (f *jobFile) headsOf(o crew.Order) making.Heads {
	return func(ctx context.Context, name string) (*head.Head, error) {
		path := f.headPath(name)
		data, ok := o.Files[path]
		if !ok {
			return nil, fmt.Errorf("%s is not among the files of the job", path)
		}
		return head.Read(ctx, path, data)
	}
}
