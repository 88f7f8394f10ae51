package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// onUsageError puts the parser's complaint in our words.
func onUsageError(c *cli.Context, err error, _ bool) error {
	const unknown, missing = "flag provided but not defined: -", "flag needs an argument: -"
	text := err.Error()
	see := "see: " + strings.TrimSpace("halfpour "+nameOf(c.Command)) + " --help"
	if name, ok := strings.CutPrefix(text, unknown); ok {
		name = strings.TrimLeft(name, "-")
		if near := pourplan.Nearest(name, optionNames(c)); near != "" {
			see = "did you mean " + dashed(near) + "?"
		}
		return usageError("unknown option "+dashed(name), see)
	}
	if name, ok := strings.CutPrefix(text, missing); ok {
		return usageError(fmt.Sprintf("option %s needs a value", dashed(strings.TrimLeft(name, "-"))), see)
	}
	return usageError(text, see)
}

// dashed is an option as the help writes it: a letter has one dash.
func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

// nameOf returns a command's name, "" for the program itself.
func nameOf(c *cli.Command) string {
	if c == nil || c.Name == "halfpour" {
		return ""
	}
	return c.Name
}

func optionNames(c *cli.Context) []string {
	var names []string
	for _, f := range c.Command.Flags {
		names = append(names, f.Names()...)
	}
	return append(names, "help")
}

func unknownCommand(app *cli.App, name string) error {
	var names []string
	for _, c := range app.VisibleCommands() {
		names = append(names, c.Name)
	}
	hint := "see: halfpour --help"
	switch near := pourplan.Nearest(name, names); {
	case near != "":
		hint = "did you mean: halfpour " + near + "?"
	case strings.HasSuffix(name, ".toml"):
		hint = "did you mean: halfpour build " + name + "?"
	}
	return usageError(fmt.Sprintf("unknown command %q", name), hint)
}
