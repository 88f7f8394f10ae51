package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"sync"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan"
	"halfpour/pourplan/desk"
)

// deskJob is the job file that a page changes: one of a folder's at a time. It is
// safe for concurrent use.
type deskJob struct {
	folder   deskFolder
	opened   func(path string) // told of a job that is opened
	building func() bool       // a build of it is on
	wrote    func()            // told of a change that is written; nil for nobody

	mu      sync.Mutex
	path    string // "" while no job is open
	history desk.History
}

// deskOrder is what a page sends with a change.
type deskOrder struct {
	Seen  string `json:"seen"`  // the text that the page shows, by its name
	Path  string `json:"path"`  // of the key
	Text  string `json:"text"`  // as typed
	Table string `json:"table"` // to add, or the path of one to remove
	Name  string `json:"name"`  // of a job, to open, start or copy
	As    string `json:"as"`    // the copy's name
}

// deskAnswer is what a page gets when it looks, and after a change.
type deskAnswer struct {
	Form    *desk.Form `json:"form,omitempty"`
	Message string     `json:"message,omitempty"` // why nothing was changed

	Proposed []pourplan.ProposedKey `json:"proposed,omitempty"` // of a head that was taken
}

// mostOrder is what a change may take, in bytes.
const mostOrder = 1 << 16

var (
	errSeenOld  = errors.New("the job file has changed meanwhile; look at what it says now, then change it again")
	errNoJob    = errors.New("no job is open: open one, or start one")
	errBuilding = errors.New("a build is running: wait for it, or stop it")
)

// handle serves what a page asks of the job's text.
func (j *deskJob) handle(s *live.Server) {
	s.Handle("form", 0, func(ctx context.Context, _ string, _ []byte) live.Reply {
		if j.current() == "" {
			return jsonReply(http.StatusOK, deskAnswer{Message: errNoJob.Error()})
		}
		return j.locked(ctx, func(string) error { return nil })
	})
	change := func(name string, to func(ctx context.Context, src string, o deskOrder) (string, error)) {
		s.Handle(name, mostOrder, func(ctx context.Context, _ string, body []byte) live.Reply {
			return j.locked(ctx, func(src string) error {
				var o deskOrder
				if err := json.Unmarshal(body, &o); err != nil {
					return err
				}
				if o.Seen != desk.NameOf(j.name(), src) {
					return errSeenOld
				}
				text, err := to(ctx, src, o)
				if err != nil || text == src {
					return err
				}
				return j.write(ctx, text)
			})
		})
	}
	step := func(by int) func(context.Context, string, deskOrder) (string, error) {
		return func(context.Context, string, deskOrder) (string, error) { return j.history.Go(by) }
	}
	s.Handle("try", mostOrder, func(ctx context.Context, _ string, body []byte) live.Reply {
		return j.locked(ctx, func(src string) error {
			var o deskOrder
			if err := json.Unmarshal(body, &o); err != nil {
				return err
			}
			_, err := desk.Set(j.path, src, o.Path, o.Text, j.hooks(ctx))
			return err
		})
	})
	change("set", func(ctx context.Context, src string, o deskOrder) (string, error) {
		return desk.Set(j.path, src, o.Path, o.Text, j.hooks(ctx))
	})
	change("add", func(_ context.Context, src string, o deskOrder) (string, error) { return desk.Add(src, o.Table) })
	change("remove", func(_ context.Context, src string, o deskOrder) (string, error) { return desk.Remove(src, o.Table) })
	change("undo", step(-1))
	change("redo", step(1))
	j.handleHeads(s)
	j.handleJobs(s)
}

// open opens another job. j is locked.
func (j *deskJob) open(path string) {
	if j.path != path {
		j.path, j.history = path, desk.History{}
		j.opened(path)
	}
}

// current is where the job that is open is; "" for none.
func (j *deskJob) current() string {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.path
}

// name is the job's in the list. j is locked.
func (j *deskJob) name() string { return j.folder.nameOf(j.path) }

// hooks is the library beside the job. j is locked.
func (j *deskJob) hooks(ctx context.Context) pourplan.Library {
	return (&jobFile{path: j.path, inputs: &inputs{}}).shelf(ctx)
}

// locked does something with the job's text and answers with the form of what
// the file then says, and with why nothing was changed.
func (j *deskJob) locked(ctx context.Context, do func(src string) error) live.Reply {
	return jsonReply(j.lockedAnswer(ctx, do))
}

func (j *deskJob) lockedAnswer(ctx context.Context, do func(src string) error) (int, deskAnswer) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.path == "" {
		return statusOf(errNoJob), deskAnswer{Message: errNoJob.Error()}
	}
	src, err := j.read(ctx)
	if err != nil {
		return http.StatusInternalServerError, deskAnswer{Message: fileset.Cause(err)}
	}
	return j.answer(ctx, do(src))
}

// answer has the form of what the file says now, and what was not done. j is
// locked.
func (j *deskJob) answer(ctx context.Context, done error) (int, deskAnswer) {
	now, err := j.read(ctx)
	if err != nil {
		return http.StatusInternalServerError, deskAnswer{Message: fileset.Cause(err)}
	}
	answer := deskAnswer{Form: desk.NewForm(j.name(), now, j.hooks(ctx))}
	answer.Form.Undo, answer.Form.Redo = j.history.Steps()
	if done != nil {
		answer.Message = done.Error()
	}
	return statusOf(done), answer
}

// read reads the text and notes it: an editor may have written it.
func (j *deskJob) read(ctx context.Context) (string, error) {
	data, err := fileset.ReadFile(ctx, j.path, pourplan.MaxJobBytes)
	if err == nil {
		j.history.Note(string(data))
	}
	return string(data), err
}

// write puts a text into the file, whole or not at all.
func (j *deskJob) write(ctx context.Context, text string) error {
	set, err := fileset.New(ctx, filepath.Dir(j.path))
	if err != nil {
		return err
	}
	defer set.Discard()
	if err := set.Create(ctx, filepath.Base(j.path), func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
		return err
	}
	if err := set.Commit(); err != nil {
		return err
	}
	if j.wrote != nil {
		j.wrote()
	}
	return nil
}

func jsonReply(status int, v any) live.Reply {
	data, err := json.Marshal(v)
	if err != nil {
		return live.Reply{Status: http.StatusInternalServerError, Type: "text/plain", Body: []byte(fmt.Sprint(err))}
	}
	return live.Reply{Status: status, Type: "application/json", Body: data}
}
