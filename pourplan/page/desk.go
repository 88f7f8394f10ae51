package page

import (
	"bytes"
	"fmt"
	"io"
)

// WriteDesk writes the page on which a job is changed by hand. It asks an engine
// for all that it shows (docs/desk.md). It fails when w does.
func WriteDesk(w io.Writer) error {
	script, style := "(() => {\n\"use strict\";\n"+asset("desk.js")+"})();\n", style()+asset("desk.css")
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, "desk", struct{ Policy, Script, Style string }{
		policy(script, style, true) + "; frame-src 'self'", script, style,
	}); err != nil {
		return fmt.Errorf("desk: %w", err)
	}
	_, err := body.WriteTo(w)
	return err
}
