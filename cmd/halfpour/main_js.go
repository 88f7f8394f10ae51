package main

import (
	"context"
	"io"
	"path/filepath"
	"strings"

	"halfpour/cmd/halfpour/crew"
	"halfpour/geom/parallel"
)

// main answers the page of the desk in the same browser, from a worker whose
// script has the files (docs/web.md). Where it is so asked, it helps another engine
// with a build and ends.
func main() {
	saveMemory()
	t := &terminal{in: strings.NewReader(""), out: io.Discard, err: io.Discard, quiet: true}
	ctx := parallel.WithPause(context.Background(), newPauser().pause)
	if helper, order := crew.Asked(); helper != nil {
		if err := assist(ctx, helper, order); err != nil {
			panic(err)
		}
		return
	}
	folder, path, err := deskOf("/jobs")
	if jobs, _, _ := folder.jobs(); err == nil && len(jobs) == 0 { // a visitor sees what it is about
		dir := filepath.Join(folder.dir, "ball")
		path, err = filepath.Join(dir, starterJob), writeStarter(ctx, dir, false)
	}
	if err == nil {
		err = runDesk(ctx, t, folder, path, deskStart{})
	}
	if err != nil {
		panic(err)
	}
}
