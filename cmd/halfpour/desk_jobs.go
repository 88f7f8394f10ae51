package main

import (
	"context"
	"encoding/json"
	"net/http"
	"path/filepath"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/cmd/halfpour/live"
	"halfpour/moldbox/head"
	"halfpour/moldbox/placing"
	"halfpour/pourplan"
	"halfpour/pourplan/desk"
)

// deskList is what a page gets when it asks for the jobs.
type deskList struct {
	Folder  string       `json:"folder"` // where they are
	Jobs    []deskListed `json:"jobs"`
	All     bool         `json:"all"` // no name was left out
	Message string       `json:"message,omitempty"`
}

type deskListed struct {
	Name  string `json:"name"`  // below the folder, with slashes
	Title string `json:"title"` // "" for none
	Open  bool   `json:"open"`
}

// handleJobs serves what a page asks of the folder's jobs.
func (j *deskJob) handleJobs(s *live.Server) {
	s.Handle("jobs", 0, func(ctx context.Context, _ string, _ []byte) live.Reply { return jsonReply(http.StatusOK, j.list(ctx)) })
	order := func(name string, do func(ctx context.Context, o deskOrder) (string, error)) {
		s.Handle(name, mostOrder, func(ctx context.Context, _ string, body []byte) live.Reply {
			return jsonReply(j.reopened(ctx, func() (string, []pourplan.ProposedKey, error) {
				var o deskOrder
				if err := json.Unmarshal(body, &o); err != nil {
					return "", nil, err
				}
				path, err := do(ctx, o)
				return path, nil, err
			}))
		})
	}
	order("open", func(_ context.Context, o deskOrder) (string, error) { return j.folder.path(o.Name) })
	order("copy", func(ctx context.Context, o deskOrder) (string, error) { return j.folder.copy(ctx, o.Name, o.As) })
	order("start", func(ctx context.Context, o deskOrder) (string, error) {
		files, err := starterFiles()
		if err != nil {
			return "", err
		}
		text, err := desk.Rename(string(files[0].data), shortTitle(o.Name))
		if err != nil {
			return "", err
		}
		files[0].data = []byte(text)
		return j.folder.start(ctx, o.Name, files)
	})
	s.Handle("start-with", mostDropped, func(ctx context.Context, which string, body []byte) live.Reply {
		return jsonReply(j.reopened(ctx, func() (string, []pourplan.ProposedKey, error) { return j.startWith(ctx, which, body) }))
	})
}

// list lists the jobs.
func (j *deskJob) list(ctx context.Context) deskList {
	j.mu.Lock()
	defer j.mu.Unlock()
	names, all, err := j.folder.jobs()
	out := deskList{Folder: j.folder.dir, Jobs: []deskListed{}, All: all}
	if full, err := filepath.Abs(out.Folder); err == nil {
		out.Folder = full
	}
	if err != nil {
		out.Message = fileset.Cause(err)
	}
	for _, name := range names {
		path := filepath.Join(j.folder.dir, filepath.FromSlash(name))
		src, err := fileset.ReadFile(ctx, path, pourplan.MaxJobBytes)
		if err != nil {
			src = nil // its title is not known
		}
		out.Jobs = append(out.Jobs, deskListed{name, desk.Title(string(src)), j.path == path})
	}
	return out
}

// startWith starts a job for the bytes of a head's file, or with those of a ZIP
// file that has a job, in a new folder. which is the folder's name and the file's
// with a slash between.
func (j *deskJob) startWith(ctx context.Context, which string, body []byte) (string, []pourplan.ProposedKey, error) {
	name, file, _ := strings.Cut(which, "/")
	if strings.EqualFold(filepath.Ext(file), ".zip") {
		files, err := unpack(body)
		if err != nil {
			return "", nil, err
		}
		path, err := j.folder.start(ctx, name, files)
		return path, nil, err
	}
	file, err := headName(file)
	if err != nil {
		return "", nil, err
	}
	h, err := head.Read(ctx, file, body)
	if err != nil {
		return "", nil, err
	}
	n := pourplan.NewJob{Title: shortTitle(name), File: file, Cavities: 1}
	text, err := jobForHead(ctx, &n, h, placing.Hints{})
	if err != nil {
		return "", nil, err
	}
	path, err := j.folder.start(ctx, name, []starterFile{{starterJob, text}, {file, body}})
	return path, n.Keys(), err
}

// reopened does something that opens a job, and answers with its form. While a
// build is on, nothing is done.
func (j *deskJob) reopened(ctx context.Context, do func() (string, []pourplan.ProposedKey, error)) (int, deskAnswer) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.building() {
		return statusOf(errBuilding), deskAnswer{Message: errBuilding.Error()}
	}
	path, proposed, err := do()
	if err != nil {
		return statusOf(err), deskAnswer{Message: err.Error()}
	}
	j.open(path)
	status, answer := j.answer(ctx, nil)
	answer.Proposed = proposed
	return status, answer
}
