package main

import (
	"context"
	"io"
	"strings"

	"halfpour/geom/parallel"
)

// main answers the page of the desk in the same browser, from a worker whose
// script has the files (docs/web.md).
func main() {
	saveMemory()
	t := &terminal{in: strings.NewReader(""), out: io.Discard, err: io.Discard, quiet: true}
	ctx := parallel.WithPause(context.Background(), newPauser().pause)
	path, err := jobOfDesk(ctx, t, "/jobs")
	if err == nil {
		err = runDesk(ctx, t, path)
	}
	if err != nil {
		panic(err)
	}
}
