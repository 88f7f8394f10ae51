package main

import (
	"fmt"
	"io"
	"strings"
)

// writeZsh writes a script that does from $fpath as well as from source.
func writeZsh(w io.Writer, tree []treeCommand) {
	fmt.Fprint(w, "#compdef halfpour\n# zsh completion for halfpour\n\n_halfpour() {\n    local -a commands\n    commands=(\n")
	for _, c := range tree[1:] {
		fmt.Fprintf(w, "        %s\n", zshQuoted(strings.ReplaceAll(c.name, ":", `\:`)+":"+c.usage))
	}
	fmt.Fprint(w, "    )\n    if (( CURRENT == 2 )); then\n        if [[ $PREFIX == -* ]]; then\n            _arguments")
	for _, o := range tree[0].options {
		zshOption(w, o)
	}
	fmt.Fprint(w, "\n        else\n            _describe -t commands command commands\n        fi\n        return\n    fi\n    local command=$words[2]\n"+
		"    shift words\n    (( CURRENT-- ))\n    case $command in\n")
	for _, c := range tree[1:] {
		fmt.Fprintf(w, "    %s)\n        _arguments", c.name)
		for _, o := range c.options {
			zshOption(w, o)
		}
		if c.takes != takesNothing {
			fmt.Fprintf(w, " \\\n            %s", zshQuoted("*:"+strings.ToLower(zshPlain(c.arguments))+":"+zshAction(c.takes, c.words)))
		}
		fmt.Fprint(w, "\n        ;;\n")
	}
	fmt.Fprint(w, `    esac
}

if [[ $funcstack[1] == _halfpour ]]; then
    _halfpour "$@"
else
    compdef _halfpour halfpour
fi
`)
}

// zshOption writes an option as _arguments takes it: its names exclude each
// other.
func zshOption(w io.Writer, o treeOption) {
	dashes := o.dashes()
	for _, d := range dashes {
		text := ""
		if len(dashes) > 1 {
			text = "(" + strings.Join(dashes, " ") + ")"
		}
		text += d + "[" + zshPlain(o.usage) + "]"
		if o.value != "" {
			text += ":" + strings.ToLower(o.value) + ":" + zshAction(o.takes, o.words)
		}
		fmt.Fprintf(w, " \\\n            %s", zshQuoted(text))
	}
}

func zshAction(kind argumentKind, words []string) string {
	switch kind {
	case takesNothing:
		return " "
	case takesWords:
		return "(" + strings.Join(words, " ") + ")"
	case takesFolder:
		return "_files -/"
	}
	if endings := kind.endings(); len(endings) > 1 {
		return "_files -g \"*.(" + strings.Join(endings, "|") + ")\""
	}
	return "_files -g \"*." + kind.endings()[0] + "\""
}

// zshPlain takes out what _arguments would read as its own signs.
func zshPlain(s string) string {
	return strings.NewReplacer("[", "(", "]", ")", ":", ",").Replace(s)
}

func zshQuoted(s string) string { return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'" }
