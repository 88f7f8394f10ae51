package pourplan

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Lines returns the list as lines of text for a person. Names in it are made
// Visible.
func (b *RunList) Lines() []string {
	name := newColumn(b.Molds, func(m RunMold) string { return m.Name })
	lines := []string{fmt.Sprintf("rubber   %s, for one mold of each of %d sizes", b.Rubber.full(), len(b.Molds))}
	step := b.Rubber.StepG
	for _, m := range b.Molds {
		line := "  " + name.pad(m.Name)
		for _, h := range m.Halves {
			line += fmt.Sprintf("  %-5s A %s g  B %s g", h.Half, OnScale(h.AG, step), OnScale(h.BG, step))
		}
		if m.Needed > 1 {
			line += fmt.Sprintf("  for each of %d molds", m.Needed)
		}
		lines = append(lines, line)
	}
	lines = append(lines, fmt.Sprintf("  total A %s, B %s, together %s", FormatMass(b.Rubber.AG), FormatMass(b.Rubber.BG), FormatMass(b.Rubber.TotalG)))
	lines = append(lines, b.Rubber.kitLines()...)
	lines = append(lines, fmt.Sprintf("metal    %s: %s to melt, dross and heel included; %s of it comes back", b.Metal.Name,
		FormatMass(b.Metal.MeltG), FormatMass(b.Metal.ReturnsG)))
	for _, m := range b.Molds {
		lines = append(lines, fmt.Sprintf("  %s  %d x %s", name.pad(m.Name), m.Shots, FormatMass(m.ShotG)))
	}
	lines = append(lines, wireLines("hooks", b.Hooks)...)
	lines = append(lines, wireLines("keepers", b.Keepers)...)
	for i, line := range lines {
		lines[i] = Visible(line)
	}
	return lines
}

// Text returns the list as a text file.
func (b *RunList) Text() string {
	title := "Buying list"
	if b.Title != "" {
		title += ": " + Visible(b.Title)
	}
	return title + "\n\n" + strings.Join(b.Lines(), "\n") + "\n"
}

func (r RunRubber) full() string {
	if strings.Contains(r.Name, r.Ratio) {
		return r.Name
	}
	return r.Name + " at " + r.Ratio
}

// kitLines list the kits to buy.
func (r RunRubber) kitLines() []string {
	if r.Kits == nil {
		return nil
	}
	var lines []string
	for _, k := range r.Kits.Kits {
		if k.Count > 0 {
			lines = append(lines, fmt.Sprintf("  buy %d x %s", k.Count, k.Name))
		}
	}
	return append(lines, fmt.Sprintf("  %s in all, %s left over", FormatMass(r.Kits.BoughtG), FormatMass(r.Kits.LeftOverG)))
}

// wireLines lists hooks or keepers; nothing when there are none.
func wireLines(what string, wires []RunWire) []string {
	if len(wires) == 0 {
		return nil
	}
	name := newColumn(wires, func(w RunWire) string { return w.Name })
	lines := []string{what}
	for _, w := range wires {
		line := fmt.Sprintf("  %s  %5d  wire %s mm", name.pad(w.Name), w.Count, FormatNumber(w.DiameterMM, 2))
		if w.CutMM > 0 {
			line += fmt.Sprintf(", cut %.1f mm each, %.2f m in all", w.CutMM, w.TotalMM/1000)
		}
		lines = append(lines, line)
	}
	return lines
}

// column is as wide as the longest of its texts.
type column int

func newColumn[T any](rows []T, text func(T) string) column {
	width := 0
	for _, r := range rows {
		width = max(width, utf8.RuneCountInString(text(r)))
	}
	return column(width)
}

func (c column) pad(s string) string {
	return s + strings.Repeat(" ", max(0, int(c)-utf8.RuneCountInString(s)))
}
