package main

import (
	"bytes"
	"io"
	"net/url"
	"slices"
	"sync"

	"halfpour/pourplan"
	"halfpour/pourplan/making"
	"halfpour/pourplan/page"
)

// watchedPages are the pages of a watched build, one a size. Figures are of the
// last save that came to any, models of the last that was built: each page says
// so where those are not the same. It is safe for concurrent use.
type watchedPages struct {
	title string // until there are figures

	mu      sync.Mutex
	sizes   []watchedPage // in the job's order; at least one, when known
	figures string        // when they came, as a time of day
	making  bool          // a run is on
	refused bool          // nothing is shown: the job is refused
}

type watchedPage struct {
	name, folder string // of the size, "" when the job is of one mold
	content      page.Content
	built        string         // when the model was, as a time of day; "" without one
	current      bool           // the model is that of the figures
	first        *pourplan.Plan // not checked; over that of the content until the run that is on has better
}

// begin says that a run is on.
func (p *watchedPages) begin() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.making = true
}

// takeFigures shows the sizes' figures, each with the model that it has had.
func (p *watchedPages) takeFigures(run *making.Run, now string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	var list []watchedPage
	for _, m := range run.Molds {
		s := watchedPage{name: m.Name, folder: m.Folder, content: page.Content{Plan: m.Plan}}
		for _, old := range p.sizes {
			if old.folder == m.Folder {
				s.content.Model, s.built = old.content.Model, old.built
			}
		}
		list = append(list, s)
	}
	p.sizes, p.figures, p.refused = list, now, false
}

// takeFirst shows first figures, by the sizes' folders, over the last ones.
func (p *watchedPages) takeFirst(plans map[string]*pourplan.Plan) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i := range p.sizes {
		p.sizes[i].first = plans[p.sizes[i].folder]
	}
	p.refused = false
}

// takeModels shows all of what the sizes have come to.
func (p *watchedPages) takeModels(products []*product, now string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i, made := range products {
		s := &p.sizes[i]
		s.content = page.Content{Plan: made.Plan, Drawings: slices.Concat(made.Drawings, made.Hooks), Model: made.model}
		s.built, s.current = now, true
	}
	p.figures, p.making = now, false
}

// fail goes back to the last figures that were checked, since a run has come to
// nothing, and says what is shown; with clear, nothing is.
func (p *watchedPages) fail(clear bool) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.making = false
	if p.refused = clear; clear {
		for i := range p.sizes {
			p.sizes[i].current = false
		}
		return "no figures and no mold: this job is refused"
	}
	for i := range p.sizes {
		p.sizes[i].first = nil
	}
	switch {
	case len(p.sizes) == 0:
		return "no figures and no model yet"
	case p.sizes[0].current:
		return "figures and model are from the save at " + p.figures
	case p.sizes[0].built == "":
		return "figures are from the save at " + p.figures + "; there is no model"
	}
	return "figures are from the save at " + p.figures + ", the model is from the last good save, built at " + p.sizes[0].built
}

// note says of which save a page's model is, or why there is none; "" where it
// is of the figures that are shown.
func (p *watchedPages) note(s watchedPage) string {
	switch {
	case p.refused:
		return "There is no mold: the job is refused as it is. The head is shown as it lies now."
	case s.current && s.first == nil:
		return ""
	case s.built == "" && p.making:
		return "The model comes when the trays are meshed."
	case s.built == "":
		return "There is no model: no trays were made from these figures. Change the job and save it."
	case p.making:
		return "This model is from an earlier save, built at " + s.built + ". A new one is on its way."
	}
	return "This model is from the last good save, built at " + s.built + ". No trays were made from the figures of " + p.figures + "."
}

// whole is the page of the size with a folder, for a browser that comes new; of
// the first, if none has it.
func (p *watchedPages) whole(seen int, folder string) ([]byte, error) {
	return p.write(seen, folder, page.Write, true)
}

// changed are figures and model, for a page that is there already.
func (p *watchedPages) changed(seen int, folder string) ([]byte, error) {
	return p.write(seen, folder, page.WriteChanges, true)
}

// changedFigures are figures alone.
func (p *watchedPages) changedFigures(seen int, folder string) ([]byte, error) {
	return p.write(seen, folder, page.WriteChanges, false)
}

func (p *watchedPages) write(seen int, folder string, write func(io.Writer, page.Content) error, model bool) ([]byte, error) {
	c := p.contentOf(folder)
	c.Live, c.Seen, c.Title = true, seen, p.title
	if !model {
		c.Model = nil
	}
	var out bytes.Buffer
	err := write(&out, c)
	return out.Bytes(), err
}

func (p *watchedPages) contentOf(folder string) page.Content {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.sizes) == 0 {
		return page.Content{}
	}
	at := max(0, slices.IndexFunc(p.sizes, func(s watchedPage) bool { return s.folder == folder }))
	c := p.sizes[at].content
	if p.refused {
		c = page.Content{}
	}
	c.ModelNote = p.note(p.sizes[at])
	if first := p.sizes[at].first; first != nil && !p.refused {
		c.Plan, c.Drawings, c.Unchecked = first, nil, true
	}
	for i, s := range p.sizes {
		if s.name != "" {
			c.Sizes = append(c.Sizes, page.Size{Name: s.name, Address: "?which=" + url.QueryEscape(s.folder), Shown: i == at})
		}
	}
	return c
}
