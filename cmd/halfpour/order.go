package main

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// optionsFirst moves the options of a command in front of its arguments, so
// that "build job.toml --out x" and "build --out x job.toml" are the same: the
// parser stops at the first argument. What stands after "--" is left alone.
func optionsFirst(app *cli.App, args []string) []string {
	if len(args) < 2 {
		return args
	}
	cmd := app.Command(args[1])
	if cmd == nil {
		return args
	}
	takesValue := map[string]bool{}
	for _, f := range cmd.Flags {
		_, isBool := f.(*cli.BoolFlag)
		for _, name := range f.Names() {
			takesValue[name] = !isBool
		}
	}
	var options, rest []string
	words := args[2:]
	for i := 0; i < len(words); i++ {
		w := words[i]
		if w == "--" {
			rest = append(rest, words[i+1:]...)
			break
		}
		if len(w) < 2 || w[0] != '-' {
			rest = append(rest, w)
			continue
		}
		if w == "-h" || w == "--help" {
			return []string{args[0], args[1], w} // the parser takes an argument for a topic
		}
		options = append(options, w)
		if !takesValue[strings.TrimLeft(w, "-")] {
			continue
		}
		if i+1 == len(words) {
			return append([]string{args[0], args[1]}, options...) // or "--" would be its value
		}
		i++
		options = append(options, words[i])
	}
	out := append([]string{args[0], args[1]}, options...)
	return append(append(out, "--"), rest...)
}
