package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/cmd/halfpour/live"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
	"halfpour/pourplan/desk"
)

// mostDropped is how large a head is that a page may bring, in bytes.
const mostDropped = 256 << 20

// handleHeads takes a head that is dropped onto the page: its file goes into the
// job's folder, over nothing, and how it lies into the job.
func (j *deskJob) handleHeads(s *live.Server) {
	s.Handle("head", mostDropped, func(ctx context.Context, which string, body []byte) live.Reply {
		var proposed []pourplan.ProposedKey
		reply, answer := j.lockedAnswer(ctx, func(src string) error {
			name, err := headName(which)
			if err != nil {
				return err
			}
			if _, err := sameFile(ctx, filepath.Join(filepath.Dir(j.path), name), body); err != nil {
				return err
			}
			h, err := head.Read(ctx, name, body)
			if err != nil {
				return err
			}
			text, list, err := desk.TakeHead(ctx, src, name, h, j.hooks(ctx))
			if err != nil {
				return err
			}
			proposed = list
			return j.writeWith(ctx, text, name, body)
		})
		answer.Proposed = proposed
		return jsonReply(reply, answer)
	})
}

// headName is the name of a file as the browser has it, if it may stand in the
// job's folder.
func headName(name string) (string, error) {
	if err := pourplan.CheckName(name); err != nil {
		return "", err
	}
	if !slices.Contains([]string{".stl", ".obj", ".3mf"}, strings.ToLower(filepath.Ext(name))) {
		return "", errors.New("a head must be an STL, OBJ or 3MF file")
	}
	return name, nil
}

// writeWith writes the job's text and a file beside it, both or none. A file that
// is there already must be the same.
func (j *deskJob) writeWith(ctx context.Context, text, name string, data []byte) error {
	dir := filepath.Dir(j.path)
	set, err := fileset.New(ctx, dir)
	if err != nil {
		return err
	}
	defer set.Discard()
	same, err := sameFile(ctx, filepath.Join(dir, name), data)
	if err != nil {
		return err
	}
	if !same {
		if err := set.Create(ctx, name, func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
			return err
		}
	}
	if err := set.Create(ctx, filepath.Base(j.path), func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
		return err
	}
	return set.Commit()
}

// sameFile reports whether a file is there with the data. It fails where one is
// there with other data.
func sameFile(ctx context.Context, path string, data []byte) (bool, error) {
	if !fileStateButSum(path).there {
		return false, nil
	}
	old, err := fileset.ReadFile(ctx, path, mostDropped)
	if err != nil || string(old) != string(data) {
		return false, fmt.Errorf("another %s is in the job's folder already and is left alone; rename yours", filepath.Base(path))
	}
	return true, nil
}

// statusOf is the status of an answer to a change that came to an error.
func statusOf(err error) int {
	switch {
	case err == nil:
		return http.StatusOK
	case errors.Is(err, errSeenOld), errors.Is(err, errNoJob), errors.Is(err, errBuilding):
		return http.StatusConflict
	}
	return http.StatusUnprocessableEntity
}
