// Package page writes a mold as one HTML file: every figure of the plan as
// text and tables, and a model of the trays, the rubber and the metal to turn,
// open, cut and fill. The file needs no network and nothing beside it; without
// JavaScript or WebGL 2 the text, the tables and the drawings remain.
//
// Lengths of a Model are mm in the coordinates of package moldbox. The page's
// own scripts and styles are in the folder assets.
//
// page.go fills the template: view*.go with texts, figures.go with numbers by
// their place in plan.json, drawing.go with drawings, assets.go with scripts.
// model.go makes the Model, coarser by thin.go but for vents (vents.go), with what
// pockets.go and undercut.go find; pack.go packs it. shot.go packs a computed shot. lying.go has how heads lie
// without a mold; desk.go writes the page on which a job is changed by hand.
package page

import (
	"bytes"
	"fmt"
	"io"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// Content is what a page shows.
type Content struct {
	Plan     *pourplan.Plan     // nil: nothing is known yet
	Title    string             // until there is a plan
	Drawings []pourplan.Drawing // may be left out
	Cuts     []moldbox.HeatCut  // of a computed shot; may be left out
	Model    *Model             // nil: the page has figures alone, and says so
	Live     bool               // served by a build that watches: the page asks its server for changes
	Sizes    []Size             // of a job with sizes: all, to go from one to another
	Seen     int                // of a live page: the number of the last change that it shows

	Unchecked bool   // the plan is of a mold that has not been checked yet
	ModelNote string // of a live page whose model is not of this plan: of which it is, or why there is none; the plan's findings are then not shown on it
}

// Size leads to the page of one size of a job.
type Size struct {
	Name    string
	Address string // relative to this page
	Shown   bool   // it is this page
}

// Write writes the page. The same content gives the same bytes. It fails when
// w does.
func Write(w io.Writer, c Content) error { return fill(w, "page", c) }

// WriteChanges writes the parts of a live page that change: what its scripts take
// over in place. It fails when w does.
func WriteChanges(w io.Writer, c Content) error { return fill(w, "changes", c) }

func fill(w io.Writer, name string, c Content) error {
	v, err := newView(c)
	if err != nil {
		return fmt.Errorf("page: %w", err)
	}
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, name, v); err != nil {
		return fmt.Errorf("page: %w", err)
	}
	_, err = body.WriteTo(w)
	return err
}
