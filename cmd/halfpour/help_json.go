package main

import "github.com/urfave/cli/v2"

// helpReport is what "help --json" prints.
type helpReport struct {
	Schema   int         `json:"schema"`   // reportSchema
	Version  string      `json:"version"`  // of the program
	Commands []helpEntry `json:"commands"` // the one that was asked for, or all
}

// helpEntry is one command of it.
type helpEntry struct {
	Name        string       `json:"name"`                  // as it is typed
	Usage       string       `json:"usage"`                 // what it does, in a line
	Arguments   string       `json:"arguments,omitempty"`   // in capitals what is to be named, in brackets what may be left out
	Description string       `json:"description,omitempty"` // what else there is to know
	Examples    string       `json:"examples"`              // a line each, with a remark
	Options     []helpOption `json:"options"`               // that it takes
}

// helpOption is one option of it.
type helpOption struct {
	Names   []string `json:"names"`             // with their dashes
	Usage   string   `json:"usage"`             // what it does
	Value   string   `json:"value,omitempty"`   // what it takes; left out when it is on or off
	Default string   `json:"default,omitempty"` // of the value
	Words   []string `json:"words,omitempty"`   // that the value can be, where only some words do
}

// printHelpJSON prints one command, or all for "".
func printHelpJSON(t *terminal, app *cli.App, name string) error {
	r := helpReport{Schema: reportSchema, Version: versionText()}
	for _, c := range commandTree(app)[1:] {
		if name != "" && c.name != name {
			continue
		}
		e := helpEntry{Name: c.name, Usage: c.usage, Arguments: c.arguments, Description: c.description, Examples: c.examples}
		for _, o := range c.options {
			e.Options = append(e.Options, helpOption{o.dashes(), o.usage, o.value, o.shown, o.words})
		}
		r.Commands = append(r.Commands, e)
	}
	if len(r.Commands) == 0 {
		return unknownCommand(app, name)
	}
	return writeJSON(t, r)
}
