package main

import (
	"fmt"
	"io"
	"strings"
)

// writeFish writes a line for each word that can follow.
func writeFish(w io.Writer, tree []treeCommand) {
	fmt.Fprint(w, `# fish completion for halfpour

# the files of some endings, and folders
function __halfpour_files
    for ending in $argv
        __fish_complete_suffix .$ending
    end | string match -r -- '^(?:.*/|.*\.(?:'(string join '|' $argv)'))(?:\t.*)?$'
end

complete -c halfpour -f
`)
	for _, o := range tree[0].options {
		fishOption(w, "__fish_use_subcommand", o)
	}
	for _, c := range tree[1:] {
		fmt.Fprintf(w, "complete -c halfpour -n __fish_use_subcommand -a %s -d %s\n", c.name, fishQuoted(c.usage))
	}
	for _, c := range tree[1:] {
		when := fishQuoted("__fish_seen_subcommand_from " + c.name)
		if c.name == "help" {
			// Its own words are the names of the others.
			when = fishQuoted("string match -q help (commandline -opc)[2]")
		}
		for _, o := range c.options {
			fishOption(w, when, o)
		}
		if action := fishAction(c.takes, c.words); action != "" {
			fmt.Fprintf(w, "complete -c halfpour -n %s -a %s\n", when, action)
		}
	}
}

func fishOption(w io.Writer, when string, o treeOption) {
	fmt.Fprintf(w, "complete -c halfpour -n %s", when)
	for _, n := range o.names {
		if len(n) == 1 {
			fmt.Fprintf(w, " -s %s", n)
		} else {
			fmt.Fprintf(w, " -l %s", n)
		}
	}
	if o.value != "" {
		fmt.Fprint(w, " -x")
		if action := fishAction(o.takes, o.words); action != "" {
			fmt.Fprintf(w, " -a %s", action)
		}
	}
	fmt.Fprintf(w, " -d %s\n", fishQuoted(o.usage))
}

func fishAction(kind argumentKind, words []string) string {
	switch kind {
	case takesNothing:
		return ""
	case takesWords:
		return fishQuoted(strings.Join(words, " "))
	case takesFolder:
		return fishQuoted("(__fish_complete_directories)")
	}
	return fishQuoted("(__halfpour_files " + strings.Join(kind.endings(), " ") + ")")
}

func fishQuoted(s string) string {
	return "'" + strings.NewReplacer(`\`, `\\`, `'`, `\'`).Replace(s) + "'"
}
