package main

import (
	"strings"
	"testing"

	"halfpour/pourplan"
	"halfpour/pourplan/making"
	"halfpour/pourplan/page"
)

// Whatever becomes of a save, the page says of which its model is, unless it is
// that of the figures.
func TestPageSaysWhoseTheModelIs(t *testing.T) {
	run := &making.Run{Molds: []*making.Mold{{}}}
	products := []*product{{Mold: run.Molds[0], model: &page.Model{}}}
	var p watchedPages
	figures := func(now string) func() string {
		return func() string { p.takeFigures(run, now); return "" }
	}
	for _, c := range []struct {
		name   string
		happen func() string
		note   string // on the page
		shown  string // as it is told of a failure
	}{
		{"the first job cannot be read", func() string { p.begin(); return p.fail(false) }, "", "no figures and no model yet"},
		{"figures come", func() string { p.begin(); return figures("9:00")() }, "The model comes", ""},
		{"the checks say stop", func() string { return p.fail(false) }, "There is no model: no trays were made", "there is no model"},
		{"it is mended", func() string { p.begin(); return figures("9:01")() }, "The model comes", ""},
		{"and built", func() string { p.takeModels(products, "9:02"); return "" }, "", ""},
		{"another save", func() string { p.begin(); return figures("9:03")() }, "This model is from an earlier save, built at 9:02. A new one is on its way.", ""},
		{"the checks say stop again", func() string { return p.fail(false) }, "This model is from the last good save, built at 9:02. No trays were made from the figures of 9:03.",
			"figures are from the save at 9:03, the model is from the last good save, built at 9:02"},
		{"then the job cannot be read", func() string { p.begin(); return p.fail(false) }, "No trays were made from the figures of 9:03.", "figures are from the save at 9:03, the model is"},
		{"it is good again", func() string { p.begin(); figures("9:05")(); p.takeModels(products, "9:06"); return "" }, "", ""},
		{"first figures", func() string { p.begin(); p.takeFirst(map[string]*pourplan.Plan{"": {}}); return "" }, "A new one is on its way", ""},
		{"they come to nothing", func() string { return p.fail(false) }, "", "figures and model are from the save at 9:06"},
	} {
		shown := c.happen()
		note := p.contentOf("").ModelNote
		if (note == "") != (c.note == "") || !strings.Contains(note, c.note) || (shown == "") != (c.shown == "") || !strings.Contains(shown, c.shown) {
			t.Errorf("%s: the page says %q, the status %q; want %q, %q", c.name, note, shown, c.note, c.shown)
		}
	}
}

// On the desk nothing of the last good mold stands beside a job that is refused;
// what comes after it is shown again.
func TestNothingBesideARefusedJob(t *testing.T) {
	run := &making.Run{Molds: []*making.Mold{{Plan: &pourplan.Plan{}}}}
	made := &product{Mold: run.Molds[0], model: &page.Model{}}
	var p watchedPages
	p.begin()
	p.takeFigures(run, "9:00")
	p.takeModels([]*product{made}, "9:01")
	p.begin()
	if shown := p.fail(true); !strings.Contains(shown, "refused") {
		t.Errorf("the status says %q", shown)
	}
	if c := p.contentOf(""); c.Plan != nil || c.Model != nil || !strings.Contains(c.ModelNote, "refused") {
		t.Errorf("beside it: plan %v, model %v, %q", c.Plan, c.Model, c.ModelNote)
	}
	p.begin()
	p.takeFirst(map[string]*pourplan.Plan{"": {}})
	if c := p.contentOf(""); c.Plan == nil || !c.Unchecked {
		t.Error("first figures of a mended job are not shown")
	}
	p.takeFigures(run, "9:02")
	if c := p.contentOf(""); c.Plan == nil || c.Model == nil || strings.Contains(c.ModelNote, "refused") {
		t.Errorf("a mended job: plan %v, model %v, %q", c.Plan, c.Model, c.ModelNote)
	}
}
