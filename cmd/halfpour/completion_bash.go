package main

import (
	"fmt"
	"io"
	"strings"
)

// writeBash writes a script for bash 3.2 and newer: the one that old Macs have.
func writeBash(w io.Writer, tree []treeCommand) {
	fmt.Fprint(w, `# bash completion for halfpour

_halfpour_words() {
    COMPREPLY=($(compgen -W "$1" -- "$2"))
}

# _halfpour_files CURRENT ENDING...: folders, and files of these endings
_halfpour_files() {
    local current=$1 ending name
    shift
    compopt -o filenames 2>/dev/null
    while IFS= read -r name; do COMPREPLY+=("$name"); done < <(compgen -d -- "$current")
    for ending in "$@"; do
        while IFS= read -r name; do COMPREPLY+=("$name"); done < <(compgen -f -X "!*.$ending" -- "$current")
    done
}

_halfpour() {
    local current=${COMP_WORDS[COMP_CWORD]} before= command=
    COMPREPLY=()
    [ "$COMP_CWORD" -gt 0 ] && before=${COMP_WORDS[COMP_CWORD-1]}
    [ "$COMP_CWORD" -gt 1 ] && command=${COMP_WORDS[1]}
    case "$command" in
`)
	var names []string
	for _, c := range tree[1:] {
		names = append(names, c.name)
		fmt.Fprintf(w, "    %s)\n", c.name)
		bashValues(w, c)
		var dashes []string
		for _, o := range c.options {
			dashes = append(dashes, o.dashes()...)
		}
		fmt.Fprintf(w, "        case \"$current\" in -*) _halfpour_words %q \"$current\"; return ;; esac\n", strings.Join(dashes, " "))
		if action := bashAction(c.takes, c.words); action != "" {
			fmt.Fprintf(w, "        %s\n", action)
		}
		fmt.Fprint(w, "        ;;\n")
	}
	var dashes []string
	for _, o := range tree[0].options {
		dashes = append(dashes, o.dashes()...)
	}
	fmt.Fprintf(w, "    '') _halfpour_words %q \"$current\" ;;\n    esac\n}\n\ncomplete -F _halfpour halfpour\n",
		strings.Join(append(names, dashes...), " "))
}

// bashValues writes what follows the options of a command that take a value.
func bashValues(w io.Writer, c treeCommand) {
	var lines []string
	for _, o := range c.options {
		if o.value == "" {
			continue
		}
		action := bashAction(o.takes, o.words)
		if action != "" {
			action += "; "
		}
		lines = append(lines, fmt.Sprintf("            %s) %sreturn ;;\n", strings.Join(o.dashes(), "|"), action))
	}
	if len(lines) > 0 {
		fmt.Fprintf(w, "        case \"$before\" in\n%s        esac\n", strings.Join(lines, ""))
	}
}

func bashAction(kind argumentKind, words []string) string {
	switch kind {
	case takesNothing:
		return ""
	case takesWords:
		return fmt.Sprintf("_halfpour_words %q \"$current\"", strings.Join(words, " "))
	}
	return strings.TrimSpace("_halfpour_files \"$current\" " + strings.Join(kind.endings(), " "))
}
