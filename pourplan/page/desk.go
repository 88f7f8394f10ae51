package page

import (
	"bytes"
	"fmt"
	"io"
)

// WriteDesk writes the page on which a job is changed by hand, with the mold
// beside it. It asks an engine for all that it shows (docs/desk.md). It fails
// when w does.
func WriteDesk(w io.Writer) error {
	script, style := script(true, "desk.js"), style()+asset("desk.css")
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, "desk", view{Policy: policy(script, style, true), Script: script, Style: style, Live: true, Spots: "[]"}); err != nil {
		return fmt.Errorf("desk: %w", err)
	}
	_, err := body.WriteTo(w)
	return err
}
