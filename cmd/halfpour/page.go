package main

import (
	"context"
	"io"

	"halfpour/pourplan/page"
)

// writePage writes the page that shows figures and model.
func (p *product) writePage(ctx context.Context, w io.Writer) error {
	model, err := page.NewModel(ctx, p.mold, p.frames)
	if err != nil {
		return err
	}
	return page.Write(w, page.Content{Plan: p.plan, Drawings: p.drawings, Model: model})
}
