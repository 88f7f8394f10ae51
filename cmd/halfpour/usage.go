package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"
)

// onUsageError puts the parser's complaint in our words.
func onUsageError(c *cli.Context, err error, _ bool) error {
	const unknown, missing = "flag provided but not defined: -", "flag needs an argument: -"
	text := err.Error()
	see := "see: " + strings.TrimSpace("halfpour "+nameOf(c.Command)) + " --help"
	if name, ok := strings.CutPrefix(text, unknown); ok {
		name = strings.TrimLeft(name, "-")
		if near := nearest(name, optionNames(c)); near != "" {
			see = "did you mean --" + near + "?"
		}
		return usageError(fmt.Sprintf("unknown option --%s", name), see)
	}
	if name, ok := strings.CutPrefix(text, missing); ok {
		return usageError(fmt.Sprintf("option --%s needs a value", strings.TrimLeft(name, "-")), see)
	}
	return usageError(text, see)
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
	for _, c := range app.Commands {
		names = append(names, c.Name)
	}
	hint := "see: halfpour --help"
	switch near := nearest(name, names); {
	case near != "":
		hint = "did you mean: halfpour " + near + "?"
	case strings.HasSuffix(name, ".toml"):
		hint = "did you mean: halfpour build " + name + "?"
	}
	return usageError(fmt.Sprintf("unknown command %q", name), hint)
}

// nearest returns the candidate that takes the fewest changes of one letter to
// become word, "" when all take more than a third of the longer one's letters.
func nearest(word string, candidates []string) string {
	best, least := "", len(word)
	for _, c := range candidates {
		if d := changes(word, c); d < least && 3*d <= max(len(word), len(c)) {
			best, least = c, d
		}
	}
	return best
}

// changes counts insertions, deletions, substitutions and swaps of neighbours
// (optimal string alignment; Damerau, Communications of the ACM 7, 1964).
func changes(a, b string) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j-1]+cost, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
