package main

import (
	"fmt"
	"strings"

	"halfpour/pourplan"
)

// print shows the shelf.
func (w *shelfWork) print(t *terminal) error {
	r := &w.report
	if w.added != nil {
		r.Added = shelfLineText(*w.added)
	}
	if t.json {
		return writeJSON(t, r)
	}
	if r.Added != "" {
		t.say("%s in %s: %s", map[bool]string{false: "recorded", true: "taken back"}[w.added.TakesBack], r.Account, r.Added)
	}
	t.say("%s", paint(t.outColour, bold, "on the shelf in "+w.folder()))
	for _, h := range r.Hooks {
		size := pourplan.FormatNumber(h.WireMM, 2) + " mm wire"
		if h.File != "" {
			size = h.File
		}
		t.row("hook", "%s: %s", h.Name, size)
	}
	for _, s := range r.Rubbers {
		t.row("rubber", "%s", strings.Join(rubberTexts(s), ", "))
	}
	for _, m := range r.Metals {
		t.row("metal", "%s: %s g/cm³, fully molten at %s", m.Name, pourplan.FormatNumber(m.Density, 2), pourplan.FormatTemperature(m.LiquidusC))
	}
	for _, c := range r.Cans {
		text := fmt.Sprintf("%s, %s, opened %s", c.Name, c.Rubber, c.Opened)
		if c.BestBy != "" {
			text += ", keeps to " + c.BestBy
		}
		t.row("can", "%s: A %.1f g, B %.1f g left", text, c.AG, c.BG)
		for _, p := range c.Pours {
			t.row("", "%s of %s", counted(p.Molds, "mold", "molds"), p.Job)
		}
	}
	for _, m := range r.Molds {
		left := fmt.Sprintf("%d to %d left", m.LeftLow, m.LeftHigh)
		if m.LeftHigh == 0 {
			left = "none left"
		}
		t.row("mold", "%s, mold %d of %s: %s, %s of %d to %d", m.Name, m.Mold, m.Job, counted(m.Shots, "shot", "shots"), left, m.LifeLow, m.LifeHigh)
	}
	if len(r.Hooks)+len(r.Rubbers)+len(r.Metals)+len(r.Cans)+len(r.Molds) == 0 {
		t.row("note", "nothing is on it yet: halfpour shelf --help says how to begin")
	}
	for _, s := range r.Short {
		t.say("  %s%s", paint(t.outColour, yellow, fmt.Sprintf("%-8s", "short")), s)
	}
	for _, f := range r.Faults {
		t.say("  %s%s", paint(t.outColour, yellow, fmt.Sprintf("%-8s", "warn")), f)
	}
	if r.Labels != "" {
		t.say("wrote %s", r.Labels)
	}
	return nil
}

// rubberTexts is a rubber in few words.
func rubberTexts(s shelfRubber) []string {
	parts := []string{s.Name}
	if s.LifeHigh > 0 {
		parts = append(parts, fmt.Sprintf("a mold lasts %d to %d shots", s.LifeLow, s.LifeHigh))
	}
	if s.OpenedLifeS > 0 {
		parts = append(parts, "an opened can keeps "+pourplan.FormatDuration(s.OpenedLifeS))
	}
	return parts
}

// shelfLineText is a line of the account in few words.
func shelfLineText(s pourplan.ShelfLine) string {
	parts := []string{s.Date, s.Event}
	if s.Mold > 0 {
		parts = append(parts, fmt.Sprintf("mold %d of %s", s.Mold, s.Job))
	}
	if s.Can != "" {
		parts = append(parts, fmt.Sprintf("can %q", s.Can))
	}
	if s.AG > 0 || s.BG > 0 {
		parts = append(parts, fmt.Sprintf("A %.1f g, B %.1f g", s.AG, s.BG))
	}
	return strings.Join(parts, ", ")
}
