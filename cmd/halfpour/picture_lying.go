package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"slices"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

func pictureFlag() cli.Flag {
	return &cli.StringFlag{Name: "picture", Usage: "draw how head, hook, plane and gate lie into `FILE.png`, also when the checks say stop"}
}

// takesPicture refuses a path that is no picture, or a file of the job.
func (f *jobFile) takesPicture(path string) error {
	switch {
	case path == "":
	case filepath.Ext(path) != ".png":
		return usageError(fmt.Sprintf("--picture must name a .png, got %q", path))
	case fileset.Overwrites(f.files(), []string{path}) != "":
		return usageError(path + " is a file of the job and would be overwritten")
	}
	return nil
}

// drawLying writes the picture of how the head of a run lies, if a path is given
// and there is a head to draw.
func (f *jobFile) drawLying(ctx context.Context, t *terminal, run *making.Run, path string) error {
	if path == "" || ctx.Err() != nil {
		return ctx.Err()
	}
	set, err := fileset.New(ctx, filepath.Dir(path))
	if err != nil {
		return err
	}
	defer set.Discard()
	err = set.Create(ctx, filepath.Base(path), func(w io.Writer) error { return run.WriteLyingPicture(ctx, w) })
	if errors.Is(err, making.ErrNoHead) {
		return nil // why not, the run's own error says
	}
	if err == nil {
		err = set.Commit()
	}
	if err == nil {
		f.drawn = path
		t.say("picture: %s shows how head, hook, parting plane and gate lie now", path)
	}
	return err
}

// seeHint says where to see how the head lies, for whoever is stopped.
func (f *jobFile) seeHint() string {
	if f.drawn != "" {
		return "to see how it lies now: " + f.drawn
	}
	return "to see how it lies now: halfpour check " + f.path + " --picture head.png"
}

// aboutTheHead reports whether errors about a job have to do with how its head
// and wires lie.
func aboutTheHead(err error) bool {
	var list pourplan.JobErrors
	errors.As(err, &list)
	return slices.ContainsFunc(list, func(e *pourplan.JobError) bool {
		return headKey.MatchString(e.Key)
	})
}

var headKey = regexp.MustCompile(`(^|\.)(head|hook|keeper|weight)\b`)
