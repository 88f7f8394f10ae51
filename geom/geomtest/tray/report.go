package main

import (
	"encoding/json"
	"fmt"
	"io"
	"time"
)

// report is what a run of the workload tells.
type report struct {
	HeadFacets int      `json:"head_facets"`
	Stages     []stage  `json:"stages"`
	Seconds    float64  `json:"seconds"`                     // from reading the head to the end of the last stage
	Busy       float64  `json:"processor_seconds,omitempty"` // of all processors together, from the program's start
	Triangles  int      `json:"triangles,omitempty"`
	Rubber     *volume  `json:"rubber_mm3,omitempty"`
	PeakBytes  uint64   `json:"peak_bytes"`
	PeakIs     string   `json:"peak_is"`
	Check      *checked `json:"check,omitempty"`

	start, last time.Time
}

type stage struct {
	Name    string  `json:"name"`
	Seconds float64 `json:"seconds"`
}

// volume is the estimate with its certified bracket, mm³.
type volume struct {
	Low   float64 `json:"low"`
	Best  float64 `json:"best"`
	High  float64 `json:"high"`
	Error float64 `json:"error"` // what the estimate is expected to be off by
}

// checked is what was found in the mesh.
type checked struct {
	Volume    float64    `json:"volume_mm3"`
	Faults    []string   `json:"faults"`
	Deviation float64    `json:"deviation_mm"`
	At        [3]float64 `json:"deviation_at_mm"`
}

// lap ends a stage.
func (r *report) lap(name string) {
	now := time.Now()
	r.Stages = append(r.Stages, stage{name, now.Sub(r.last).Seconds()})
	r.last = now
}

func (r *report) writeJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(r)
}

func (r *report) writeText(w io.Writer) error {
	p := printer{w: w}
	for _, s := range r.Stages {
		p.line("%-28s %8.3f s", s.Name, s.Seconds)
	}
	p.line("%-28s %8.3f s", "all", r.Seconds)
	if r.Busy > 0 {
		p.line("%-28s %8.3f s", "of processors, together", r.Busy)
	}
	p.line("head      %d facets", r.HeadFacets)
	if v := r.Rubber; v != nil {
		half := (v.High - v.Low) / 2
		p.line("rubber    %.3f mm³, certainly %.3f to %.3f (half of that is %.1e of it), expected error %.1e of it",
			v.Best, v.Low, v.High, half/v.Best, v.Error/v.Best)
	}
	if r.Triangles > 0 {
		p.line("tray      %d triangles", r.Triangles)
	}
	p.line("peak      %.0f MB (%s)", float64(r.PeakBytes)/1e6, r.PeakIs)
	if c := r.Check; c != nil {
		p.line("check     %.3f mm³, greatest deviation found %.4f mm at %.3f, %d faults or crossings",
			c.Volume, c.Deviation, c.At, len(c.Faults))
		for _, f := range c.Faults {
			p.line("          %s", f)
		}
	}
	return p.err
}

// printer keeps the first error of its lines.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}
