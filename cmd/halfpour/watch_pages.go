package main

import (
	"bytes"
	"net/url"
	"slices"
	"sync"

	"halfpour/pourplan"
	"halfpour/pourplan/making"
	"halfpour/pourplan/page"
)

// watchedPages are the pages of a watched build, one a size, as of the last
// good run. It is safe for concurrent use.
type watchedPages struct {
	title string // until there are figures

	mu    sync.Mutex
	sizes []watchedPage // in the job's order; at least one, when known
}

type watchedPage struct {
	name, folder string // of the size, "" when the job is of one mold
	content      page.Content
	first        *pourplan.Plan // not checked; over that of the content until the run that is on has better
}

// takeFigures shows the sizes' figures, each with the model that it has had.
func (p *watchedPages) takeFigures(run *making.Run) {
	p.mu.Lock()
	defer p.mu.Unlock()
	var list []watchedPage
	for _, m := range run.Molds {
		c := page.Content{Plan: m.Plan}
		for _, old := range p.sizes {
			if old.folder == m.Folder {
				c.Model = old.content.Model
			}
		}
		list = append(list, watchedPage{name: m.Name, folder: m.Folder, content: c})
	}
	p.sizes = list
}

// takeFirst shows first figures, by the sizes' folders, over the last good
// run's; where there are none, that run's again. It reports whether anything is
// shown otherwise than before.
func (p *watchedPages) takeFirst(plans map[string]*pourplan.Plan) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	changed := false
	for i := range p.sizes {
		s := &p.sizes[i]
		changed = changed || s.first != plans[s.folder]
		s.first = plans[s.folder]
	}
	return changed
}

// takeModels shows all of what the sizes have come to.
func (p *watchedPages) takeModels(products []*product) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i, made := range products {
		p.sizes[i].content = page.Content{Plan: made.Plan, Drawings: made.Drawings, Model: made.model}
	}
}

// whole is all of a page, for a browser that comes new or wants the model.
func (p *watchedPages) whole(seen int, folder string) ([]byte, error) {
	return p.write(seen, folder, true)
}

// figures is a page without the model.
func (p *watchedPages) figures(seen int, folder string) ([]byte, error) {
	return p.write(seen, folder, false)
}

// write makes the page of the size with a folder; of the first, if none has it.
func (p *watchedPages) write(seen int, folder string, model bool) ([]byte, error) {
	c := p.contentOf(folder)
	c.Live, c.Seen, c.Title = true, seen, p.title
	if !model {
		c.Model = nil
	}
	var out bytes.Buffer
	err := page.Write(&out, c)
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
	if first := p.sizes[at].first; first != nil {
		c.Plan, c.Drawings, c.Unchecked = first, nil, true
	}
	for i, s := range p.sizes {
		if s.name != "" {
			c.Sizes = append(c.Sizes, page.Size{Name: s.name, Address: "?which=" + url.QueryEscape(s.folder), Shown: i == at})
		}
	}
	return c
}
