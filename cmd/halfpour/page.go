package main

import (
	"context"
	"io"
	"slices"

	"halfpour/pourplan"
	"halfpour/pourplan/page"
)

// pageModel makes the page's model, once.
func (p *product) pageModel(ctx context.Context) (*page.Model, error) {
	p.modelOnce.Do(func() { p.model, p.modelErr = page.NewModel(ctx, p.Bodies(), p.Frames) })
	return p.model, p.modelErr
}

// writePage writes the page that shows figures and model.
func (p *product) writePage(ctx context.Context, w io.Writer) error {
	model, err := p.pageModel(ctx)
	if err != nil {
		return err
	}
	drawings := slices.Concat(p.Drawings, pourplan.StepDrawings(p.Measured, p.Plan.Print), p.Hooks)
	return page.Write(w, page.Content{Plan: p.Plan, Drawings: drawings, Model: model, Cuts: p.Cuts(), Sizes: p.sizes})
}
