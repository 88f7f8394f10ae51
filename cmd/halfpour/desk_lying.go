package main

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"reflect"
	"slices"
	"sync"

	"halfpour/cmd/halfpour/live"
	"halfpour/geom"
	"halfpour/pourplan"
	"halfpour/pourplan/desk"
	"halfpour/pourplan/making"
	"halfpour/pourplan/page"
)

// deskLying is how the heads of the job lie, for the page to show and for a person
// to point at: of the last job that could be read. It is safe for concurrent use.
type deskLying struct {
	job    *deskJob
	server *live.Server

	mu    sync.Mutex
	of    *pourplan.Job // that the heads are of
	heads []pourplan.LyingHead
	found map[proposedOf]*desk.Proposed // for the heads of the job
	doc   []byte
}

// proposedOf is what a proposal is made of.
type proposedOf struct {
	mesh  *geom.TriMesh
	hints desk.Hints
}

func (d *deskLying) handle(s *live.Server) {
	s.Handle("lying", 0, func(context.Context, string, []byte) live.Reply {
		d.mu.Lock()
		defer d.mu.Unlock()
		if d.doc == nil {
			return live.Reply{Type: "application/json", Body: []byte(`{"schema":1,"heads":[]}`)}
		}
		return live.Reply{Type: "application/json", Body: d.doc}
	})
	s.Handle("shape", 0, d.shape)
	s.Handle("point", mostOrder, d.point)
}

// shape hands out the mesh of a head by its name.
func (d *deskLying) shape(ctx context.Context, which string, _ []byte) live.Reply {
	for _, h := range d.now() {
		if page.ShapeName(h.Mesh) != which {
			continue
		}
		data, err := page.ShapeJSON(ctx, h.Mesh)
		if err != nil {
			break
		}
		return live.Reply{Type: "application/json", Body: data}
	}
	return live.Reply{Status: http.StatusNotFound, Type: "text/plain", Body: []byte("no such head")}
}

// clear forgets the heads of the job before.
func (d *deskLying) clear() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.of, d.heads, d.doc = nil, nil, nil
	d.server.Tell(live.Lying, "")
}

func (d *deskLying) now() []pourplan.LyingHead {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.heads
}

// deskPointed is what a page sends when a person has pointed at something.
type deskPointed struct {
	Seen string `json:"seen"` // as of a deskOrder
	Head int    `json:"head"` // which of those that are shown
	desk.Pointed
}

// point puts what a person points at into the job.
func (d *deskLying) point(ctx context.Context, _ string, body []byte) live.Reply {
	return d.job.locked(ctx, func(src string) error {
		var o deskPointed
		if err := json.Unmarshal(body, &o); err != nil {
			return err
		}
		heads := d.now()
		if o.Seen != desk.NameOf(d.job.name(), src) || o.Head < 0 || o.Head >= len(heads) {
			return errSeenOld
		}
		h := heads[o.Head]
		text, err := desk.Point(src, h, d.axes(h.Mesh), o.Pointed)
		if err != nil || text == src {
			return err
		}
		return d.job.write(ctx, text)
	})
}

// axes are the directions that were proposed for a head.
func (d *deskLying) axes(mesh *geom.TriMesh) []geom.Vec {
	d.mu.Lock()
	defer d.mu.Unlock()
	for of, found := range d.found {
		if of.mesh == mesh {
			return found.Axes()
		}
	}
	return nil
}

// take shows how the heads of a run lie, if that is another way than before.
func (d *deskLying) take(ctx context.Context, run *making.Run) {
	heads, err := run.Molds[0].Lie(ctx)
	if errors.Is(err, making.ErrNoHead) {
		d.clear()
	}
	if err != nil {
		return // why not, the run says
	}
	d.mu.Lock()
	same := d.doc != nil && slices.EqualFunc(heads, d.heads, sameLying)
	d.mu.Unlock()
	if !same {
		d.show(ctx, heads, run.Job)
	}
}

func sameLying(a, b pourplan.LyingHead) bool {
	a.Wires, b.Wires = nil, nil // they are as the job has them
	return a.Mesh == b.Mesh && reflect.DeepEqual(a, b)
}

// show makes the page's document anew and says so.
func (d *deskLying) show(ctx context.Context, heads []pourplan.LyingHead, job *pourplan.Job) {
	ghosts := make([][]pourplan.Ghost, len(heads))
	for i, h := range heads {
		d.mu.Lock()
		found := d.found[proposedOf{h.Mesh, desk.HintsOf(job)}]
		d.mu.Unlock()
		if found != nil {
			ghosts[i] = found.Ghosts(h)
		}
	}
	doc, err := page.LyingJSON(ctx, heads, ghosts)
	if err != nil {
		return
	}
	d.mu.Lock()
	d.of, d.heads, d.doc = job, heads, doc
	d.mu.Unlock()
	d.server.Tell(live.Lying, "")
}

// propose looks how the heads may lie, where that has not been done.
func (d *deskLying) propose(ctx context.Context) {
	d.mu.Lock()
	heads, job := d.heads, d.of
	d.mu.Unlock()
	news := false
	known := map[proposedOf]*desk.Proposed{}
	for _, h := range heads {
		of := proposedOf{h.Mesh, desk.HintsOf(job)}
		d.mu.Lock()
		found := d.found[of]
		d.mu.Unlock()
		if found == nil {
			var err error
			if found, err = desk.Propose(ctx, h.Mesh, of.hints); err != nil {
				continue
			}
			news = true
		}
		known[of] = found
	}
	d.mu.Lock()
	d.found = known
	d.mu.Unlock()
	if news {
		d.show(ctx, heads, job)
	}
}
