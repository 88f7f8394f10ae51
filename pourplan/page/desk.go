package page

import (
	"bytes"
	"fmt"
	"io"
	"slices"
)

// deskScripts are what the desk has besides.
var deskScripts = []string{"orders.js", "form.js", "files.js", "lying.js", "pick.js", "tools.js", "desk.js", "jobs.js"}

// DeskStart is what the desk has to show where scripts are off.
type DeskStart struct {
	File  string   // of the job that is open; "" for none
	Built []string // files of it, to ask for by "file?which="
	Content
}

// WriteDesk writes the page on which a job is changed by hand, with the mold
// beside it. It asks an engine for all that it shows (docs/desk.md); without
// scripts it shows what the start has, to read. It fails when w does.
func WriteDesk(w io.Writer, start DeskStart) error {
	start.Live = true
	return writeDesk(w, start, toServer, "")
}

// WriteWebDesk writes the same page for a folder of static files: its engine is
// in a worker of the browser, which the folder has as engine.js. It fails when w
// does.
func WriteWebDesk(w io.Writer) error {
	return writeDesk(w, DeskStart{Content: Content{Live: true}}, toWorker, "; worker-src 'self'")
}

func writeDesk(w io.Writer, start DeskStart, transport, mayToo string) error {
	start.Model = nil
	v, err := newView(start.Content)
	if err != nil {
		return fmt.Errorf("desk: %w", err)
	}
	script, style := script(slices.Concat([]string{transport, "live.js"}, deskScripts)...), style()+asset("desk.css")
	v.Policy, v.Script, v.Style, v.Desk, v.Spots = policy(script, style, true)+mayToo, script, style, true, "[]"
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, "desk", deskView{v, start.File, start.Built, transport == toServer}); err != nil {
		return fmt.Errorf("desk: %w", err)
	}
	_, err = body.WriteTo(w)
	return err
}

// deskView is a view with what is shown where scripts are off.
type deskView struct {
	view
	File   string
	Built  []string
	Served bool
}

// Bare is the view for what the scripts fill: nothing is known there yet.
func (v deskView) Bare() view {
	v.Known, v.Sizes, v.ModelNote = false, nil, ""
	return v.view
}
