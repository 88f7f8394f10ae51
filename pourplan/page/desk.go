package page

import (
	"bytes"
	"fmt"
	"io"
	"slices"
)

// deskScripts are what the desk has besides.
var deskScripts = []string{"orders.js", "form.js", "files.js", "lying.js", "pick.js", "tools.js", "desk.js", "jobs.js"}

// WriteDesk writes the page on which a job is changed by hand, with the mold
// beside it. It asks an engine for all that it shows (docs/desk.md). It fails
// when w does.
func WriteDesk(w io.Writer) error { return writeDesk(w, toServer, "") }

// WriteWebDesk writes the same page for a folder of static files: its engine is
// in a worker of the browser, which the folder has as engine.js. It fails when w
// does.
func WriteWebDesk(w io.Writer) error { return writeDesk(w, toWorker, "; worker-src 'self'") }

func writeDesk(w io.Writer, transport, mayToo string) error {
	script, style := script(slices.Concat([]string{transport, "live.js"}, deskScripts)...), style()+asset("desk.css")
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, "desk", view{Policy: policy(script, style, true) + mayToo, Script: script, Style: style, Live: true, Desk: true, Spots: "[]"}); err != nil {
		return fmt.Errorf("desk: %w", err)
	}
	_, err := body.WriteTo(w)
	return err
}
