package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// treeCommand is a command as completion scripts and the manual page show it.
// The first of a tree is the program itself, with its general options.
type treeCommand struct {
	name, usage string
	arguments   string // as the help writes them
	description string
	examples    string
	options     []treeOption
	takes       argumentKind
	words       []string // that an argument can be, beside or instead of files
}

// treeOption is an option of it.
type treeOption struct {
	names []string // without dashes, the long one first
	usage string
	value string // placeholder; "" for one that is on or off
	shown string // default, "" for none
	takes argumentKind
	words []string // that its value can be
}

// argumentKind is what a shell offers for an argument.
type argumentKind string

const (
	takesNothing argumentKind = ""
	takesWords   argumentKind = "words"
	takesFolder  argumentKind = "folder"
	takesJob     argumentKind = "job"  // *.toml
	takesPlan    argumentKind = "plan" // *.toml and *.json
	takesJSON    argumentKind = "json"
	takesPDF     argumentKind = "pdf"
	takesMesh    argumentKind = "mesh" // *.stl, *.obj and *.3mf
)

// patterns are the endings of the files of a kind.
func (k argumentKind) endings() []string {
	switch k {
	case takesJob:
		return []string{"toml"}
	case takesPlan:
		return []string{"toml", "json"}
	case takesJSON:
		return []string{"json"}
	case takesMesh:
		return []string{"stl", "obj", "3mf"}
	case takesPDF:
		return []string{"pdf"}
	}
	return nil
}

// argumentsOf says what the arguments of each command are.
func argumentsOf(app *cli.App) map[string]treeCommand {
	var names []string
	for _, c := range app.VisibleCommands() {
		names = append(names, c.Name)
	}
	return map[string]treeCommand{
		"demo":       {takes: takesFolder},
		"new":        {takes: takesFolder},
		"check":      {takes: takesJob},
		"build":      {takes: takesJob},
		"piece":      {takes: takesJob},
		"desk":       {takes: takesJob},
		"mix":        {takes: takesJob},
		"log":        {takes: takesJob},
		"shelf":      {takes: takesFolder},
		"compare":    {takes: takesPlan},
		"explain":    {takes: takesWords, words: explainWords()},
		"completion": {takes: takesWords, words: shellNames()},
		"schema":     {takes: takesWords, words: schemaNames()},
		"help":       {takes: takesWords, words: names},
	}
}

// valuesOf says what the values of options are that take more than a number or
// free text.
func valuesOf() map[string]treeOption {
	return map[string]treeOption{
		"out":    {takes: takesFolder},
		"head":   {takes: takesMesh},
		"unit":   {takes: takesWords, words: []string{"mm", "cm", "m", "in", "ft"}},
		"paper":  {takes: takesWords, words: []string{"a4", "letter"}},
		"half":   {takes: takesWords, words: []string{"left", "right", "both"}},
		"plan":   {takes: takesJSON},
		"plot":   {takes: takesPDF},
		"labels": {takes: takesPDF},
	}
}

// commandTree lists the program and its commands, in the order of the help.
func commandTree(app *cli.App) []treeCommand {
	takes := argumentsOf(app)
	tree := []treeCommand{{name: app.Name, usage: app.Usage, options: optionsOf(app.Flags)}}
	for _, c := range app.VisibleCommands() {
		// The command that runs has been given the library's own help by now.
		own := slices.DeleteFunc(optionsOf(c.Flags), func(o treeOption) bool { return o.names[0] == "help" })
		tree = append(tree, treeCommand{
			name: c.Name, usage: c.Usage, arguments: c.ArgsUsage, description: c.Description, examples: c.UsageText,
			options: append(own, treeOption{names: []string{"help", "h"}, usage: "show how to use it"}),
			takes:   takes[c.Name].takes, words: takes[c.Name].words,
		})
	}
	return tree
}

func optionsOf(flags []cli.Flag) []treeOption {
	var list []treeOption
	for _, f := range flags {
		d, ok := f.(cli.DocGenerationFlag)
		if !ok {
			continue
		}
		o := treeOption{names: f.Names(), usage: strings.ReplaceAll(d.GetUsage(), "`", "")}
		if d.TakesValue() {
			o.value, o.shown = "VALUE", d.GetDefaultText()
			if o.shown == "none" {
				o.shown = ""
			}
			if _, rest, found := strings.Cut(d.GetUsage(), "`"); found {
				o.value, _, _ = strings.Cut(rest, "`")
			}
			known := valuesOf()[o.names[0]]
			o.takes, o.words = known.takes, known.words
		}
		list = append(list, o)
	}
	return list
}

// dashes are an option's names as they are typed.
func (o treeOption) dashes() []string {
	var list []string
	for _, n := range o.names {
		list = append(list, dashed(n))
	}
	return list
}

// explainWords are what explain takes.
func explainWords() []string {
	var words []string
	for _, w := range slices.Concat(explainCodes(), jobWords()) {
		if !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	return words
}
