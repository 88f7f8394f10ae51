package main

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// helpWidth is what helps are set to: they are read on any terminal.
const helpWidth = 80

// appHelp is the first screen.
func appHelp(tree []treeCommand) string {
	var b strings.Builder
	program := tree[0]
	helpParagraph(&b, "halfpour: "+program.usage)
	b.WriteString("\nUsage:\n  halfpour COMMAND [OPTIONS] [ARGUMENTS]\n\nCommands:\n")
	var rows [][2]string
	for _, c := range tree[1:] {
		rows = append(rows, [2]string{c.name, c.usage})
	}
	helpRows(&b, rows)
	b.WriteString("\nOptions:\n")
	helpRows(&b, optionRows(program.options))
	b.WriteString(`
An evening, from an empty folder:
  halfpour new first-mold               a starter job with a demo head: edit it
  halfpour check first-mold/job.toml    weights, rubber and warnings at once
  halfpour build first-mold/job.toml    frames to print, pour sheet, pictures
  halfpour mix first-mold/job.toml 60g --half left
                                        at the scale: how much B for that A
  halfpour log first-mold/job.toml --shots 10 --good 8
                                        after casting: life left, yield, cost
  halfpour compare first-mold/job.toml  after an edit: what it changes
  halfpour explain air-trapped          what a warning means, and what helps

Exit codes:
  0 fine · 1 failed · 3 wrong use · 4 job file · 5 head mesh
  6 the checks say stop · 130 interrupted
Errors go to stderr. NO_COLOR turns colour off.
`)
	return b.String()
}

// commandHelp is what --help says of a command.
func commandHelp(c treeCommand) string {
	var b strings.Builder
	helpParagraph(&b, "halfpour "+c.name+": "+c.usage)
	fmt.Fprintf(&b, "\nUsage:\n  %s\n", strings.TrimSpace("halfpour "+c.name+" [OPTIONS] "+c.arguments))
	if c.description != "" {
		fmt.Fprintf(&b, "\n%s\n", c.description)
	}
	b.WriteString("\nOptions:\n")
	helpRows(&b, optionRows(c.options))
	fmt.Fprintf(&b, "\nExamples:\n%s\n", c.examples)
	return b.String()
}

func helpParagraph(b *strings.Builder, text string) {
	for _, line := range wrapped(text, helpWidth) {
		b.WriteString(line + "\n")
	}
}

// optionRows are options with what they do and what they are by default.
func optionRows(options []treeOption) [][2]string {
	var rows [][2]string
	for _, o := range options {
		text := o.usage
		if o.shown != "" {
			text += " (default: " + o.shown + ")"
		}
		rows = append(rows, [2]string{strings.TrimSpace(strings.Join(o.dashes(), ", ") + " " + o.value), text})
	}
	return rows
}

// helpRows writes names with texts beside them, in columns.
func helpRows(b *strings.Builder, rows [][2]string) {
	names := 0
	for _, r := range rows {
		names = max(names, utf8.RuneCountInString(r[0]))
	}
	for _, r := range rows {
		name := r[0]
		for _, line := range wrapped(r[1], helpWidth-names-4) {
			fmt.Fprintf(b, "  %-*s  %s\n", names, name, line)
			name = ""
		}
	}
}
