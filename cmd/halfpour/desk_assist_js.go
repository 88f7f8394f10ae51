package main

import (
	"context"
	"path/filepath"

	"golang.org/x/sync/errgroup"

	"halfpour/cmd/halfpour/crew"
	"halfpour/geom/parallel"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// assist does the helper's share of a build.
func assist(ctx context.Context, helper *crew.Engine, o crew.Order) (err error) {
	ctx = parallel.WithSharer(ctx, helper)
	f := &jobFile{path: o.Job, inputs: &inputs{}}
	library := func(name string) (string, []byte, error) {
		for path, data := range o.Files {
			if filepath.Base(path) == name {
				return path, data, nil
			}
		}
		return name, nil, nil
	}
	if f.job, err = pourplan.ReadJobWith(f.path, o.Files[f.path], library); err != nil {
		return err
	}
	run := making.New(f.job, f.headsOf(o))
	if err := run.Make(ctx, making.Options{Anyway: true}); err != nil {
		return err
	}
	for _, p := range f.products(run, buildOptions{}) {
		if err := p.drawAll(ctx); err != nil {
			return err
		}
	}
	return nil
}

// drawAll draws the pictures that are left to be drawn.
func (p *product) drawAll(ctx context.Context) error {
	group, within := errgroup.WithContext(ctx)
	for _, f := range outputs {
		if f.isPicture() {
			group.Go(func() error {
				_, err := p.picture(within, f)
				return err
			})
		}
	}
	return group.Wait()
}
