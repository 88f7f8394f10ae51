package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan/making"
)

// deskBuild builds a job when the page asks for it, and hands out the files.
type deskBuild struct {
	t      *terminal
	job    *deskJob
	ctx    context.Context // that of the desk
	server *live.Server
	heads  func(*jobFile) making.Heads

	mu   sync.Mutex
	stop context.CancelFunc // of the build that is on; nil for none
	done sync.WaitGroup
}

// deskFile is a file that was built.
type deskFile struct {
	Name  string `json:"name"` // in the output folder
	Bytes int64  `json:"bytes"`
}

// mostFile is how large a file is handed out, in bytes.
const mostFile = 1 << 30

func (d *deskBuild) handle(s *live.Server) {
	s.Handle("build", mostOrder, func(context.Context, string, []byte) live.Reply { return d.start() })
	s.Handle("stop", mostOrder, func(context.Context, string, []byte) live.Reply { return d.cancel() })
	s.Handle("files", 0, func(ctx context.Context, _ string, _ []byte) live.Reply { return d.files(ctx) })
	s.Handle("file", 0, d.file)
	s.Handle("zip", 0, d.zip)
}

// start begins a build, if none is on.
func (d *deskBuild) start() live.Reply {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.stop != nil {
		return jsonReply(http.StatusConflict, deskAnswer{Message: "a build is running already"})
	}
	ctx, stop := context.WithCancel(d.ctx)
	d.stop = stop
	d.done.Add(1)
	go func() {
		defer d.done.Done()
		err := d.build(ctx, time.Now())
		d.mu.Lock()
		d.stop = nil
		d.mu.Unlock()
		stop()
		if err != nil {
			d.server.Tell(live.Built, reportText(faultOf(err)))
		}
	}()
	return jsonReply(http.StatusAccepted, deskAnswer{})
}

func (d *deskBuild) cancel() live.Reply {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.stop != nil {
		d.stop()
	}
	return jsonReply(http.StatusOK, deskAnswer{})
}

func (d *deskBuild) isOn() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.stop != nil
}

// read reads the job that is open.
func (d *deskBuild) read(ctx context.Context) (*jobFile, error) {
	path := d.job.current()
	if path == "" {
		return nil, errNoJob
	}
	return readJobFile(ctx, d.t, path)
}

// build does what the build command does.
func (d *deskBuild) build(ctx context.Context, since time.Time) error {
	quiet := *d.t
	quiet.quiet = true
	f, err := d.read(ctx)
	if err != nil {
		return err
	}
	heads := d.heads(f)
	if err := f.protect(""); err != nil {
		return err
	}
	seconds, facets := f.forecast(ctx, heads, effort.building)
	both := f.share(ctx, facets, heads)
	defer both.stop()
	run := making.New(f.job, both.heads)
	all := timeHere(both.time * seconds)
	if all != "" {
		all = " (all of it: " + all + ")"
	}
	tell := func(text string) { d.server.Tell(live.Built, jsonText("Building: "+text+all)) }
	if err := run.Make(both.ctx, making.Options{Progress: func(s making.Step) { tell(ofSize(s.Mold, s.Part+", "+s.Name)) }}); err != nil {
		return f.fault(err)
	}
	tell("writing")
	bar := newProgress(&quiet)
	defer bar.clear()
	wrote, err := writeAll(both.ctx, bar, f.products(run, buildOptions{}), run.List, f.outputFolder(""))
	if err != nil {
		return err
	}
	text := fmt.Sprintf("Wrote %s into %s in %.1f s.", counted(wrote.count(), "file", "files"), wrote.folder, time.Since(since).Seconds())
	d.server.Tell(live.Built, jsonText(text))
	d.t.say("%s  %s", time.Now().Format(time.TimeOnly), text)
	return nil
}

// files lists what was built of the job, whenever that was.
func (d *deskBuild) files(ctx context.Context) live.Reply {
	list := []deskFile{}
	if f, err := d.read(ctx); err == nil {
		for _, name := range d.built(ctx) {
			list = append(list, deskFile{name, fileStateButSum(filepath.Join(f.outputFolder(""), name)).size})
		}
	}
	return jsonReply(http.StatusOK, list)
}

// built names what was built of the job.
func (d *deskBuild) built(ctx context.Context) (names []string) {
	f, err := d.read(ctx)
	if err != nil {
		return nil
	}
	for _, name := range f.names() {
		if fileStateButSum(filepath.Join(f.outputFolder(""), name)).there {
			names = append(names, name)
		}
	}
	return names
}

// file hands out a file by its name in the list.
func (d *deskBuild) file(ctx context.Context, which string, _ []byte) live.Reply {
	f, err := d.read(ctx)
	if err != nil || !slices.Contains(f.names(), which) {
		return live.Reply{Status: http.StatusNotFound, Type: "text/plain", Body: []byte("no such file was built")}
	}
	data, err := fileset.ReadFile(ctx, filepath.Join(f.outputFolder(""), filepath.FromSlash(which)), mostFile)
	if err != nil {
		return live.Reply{Status: http.StatusNotFound, Type: "text/plain", Body: []byte(fileset.Cause(err))}
	}
	return live.Reply{Type: "application/octet-stream", Attach: filepath.Base(which), Body: data}
}

// reportText is a fault as the terminal shows it, as a JSON text.
func reportText(f *fault) string {
	var text bytes.Buffer
	f.report(&terminal{err: &text})
	return jsonText(text.String())
}

// jsonText is a text as JSON, to be told on one line.
func jsonText(s string) string {
	quoted, err := json.Marshal(s)
	if err != nil { // of no text
		return `""`
	}
	return string(quoted)
}
