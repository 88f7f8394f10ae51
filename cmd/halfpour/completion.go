package main

import (
	"embed"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// completionScripts has a script for each shell. It asks completeWordsCommand.
//
//go:embed completion/*
var completionScripts embed.FS

func shellNames() []string { return []string{"bash", "zsh", "fish", "powershell"} }

func completionCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print a script that makes your shell complete halfpour's words",
		ArgsUsage: "SHELL",
		Description: `The shell is bash, zsh, fish or powershell. Save the output where your
shell looks for it and open a new shell; Tab then completes commands, options,
their values, job files and the codes of explain.`,
		UsageText: `  halfpour completion bash > ~/.local/share/bash-completion/completions/halfpour
  halfpour completion zsh > "${fpath[1]}/_halfpour"
  halfpour completion fish > ~/.config/fish/completions/halfpour.fish
  halfpour completion powershell | Out-String | Invoke-Expression   as a line of $PROFILE
  source <(halfpour completion bash)   for this session alone`,
		Flags: []cli.Flag{jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			name := strings.ToLower(c.Args().First())
			if slices.Contains(shellNames(), name) {
				return printScript(t, name)
			}
			hint := "one of " + strings.Join(shellNames(), ", ")
			if near := pourplan.Nearest(name, append(shellNames(), "pwsh")); near == "pwsh" {
				hint = "did you mean: halfpour completion powershell?"
			} else if near != "" {
				hint = "did you mean: halfpour completion " + near + "?"
			}
			return usageError(fmt.Sprintf("no completion for the shell %q", c.Args().First()), hint)
		},
	}
}

// completionReport is what "completion --json" prints.
type completionReport struct {
	Schema int    `json:"schema"` // reportSchema
	Shell  string `json:"shell"`  // bash, zsh, fish or powershell
	Script string `json:"script"` // for the shell to run
}

func printScript(t *terminal, shell string) error {
	script, err := completionScripts.ReadFile("completion/" + shell)
	if err != nil {
		return err
	}
	if t.json {
		return writeJSON(t, completionReport{reportSchema, shell, string(script)})
	}
	_, err = t.out.Write(script)
	return err
}

// completeWordsCommand is for the scripts. It takes the words before the cursor's,
// and that behind a "=", since PowerShell passes no empty word.
func completeWordsCommand(t *terminal, app *cli.App) *cli.Command {
	return &cli.Command{
		Name:         "complete-words",
		Hidden:       true,
		HideHelp:     true,
		OnUsageError: onUsageError,
		Action: func(c *cli.Context) error {
			words := c.Args().Slice()
			if len(words) == 0 {
				return nil
			}
			last := len(words) - 1
			_, err := io.WriteString(t.out, completions(commandTree(app), words[:last], strings.TrimPrefix(words[last], "=")))
			return err
		},
	}
}

// completions lists what may stand in a word's place behind those before it, a
// line each: a word, with a tab and what it does where that is known. A line that
// begins with ":" stands for folders and files of the endings behind it.
func completions(tree []treeCommand, before []string, current string) string {
	var b strings.Builder
	offer := func(word, does string) {
		if strings.HasPrefix(word, current) {
			b.WriteString(strings.TrimSpace(word+"\t"+does) + "\n")
		}
	}
	values := func(kind argumentKind, words []string) string {
		for _, w := range words {
			offer(w, "")
		}
		if kind != takesNothing && kind != takesWords {
			b.WriteString(":" + strings.Join(kind.endings(), " ") + "\n")
		}
		return b.String()
	}
	command := tree[0]
	if len(before) > 0 {
		at := slices.IndexFunc(tree, func(c treeCommand) bool { return c.name == before[0] })
		if at < 1 {
			return ""
		}
		command = tree[at]
		for _, o := range command.options {
			if o.value != "" && slices.Contains(o.dashes(), before[len(before)-1]) {
				return values(o.takes, o.words)
			}
		}
	} else {
		for _, c := range tree[1:] {
			offer(c.name, c.usage)
		}
	}
	if strings.HasPrefix(current, "-") {
		for _, o := range command.options {
			for _, d := range o.dashes() {
				offer(d, o.usage)
			}
		}
		return b.String()
	}
	return values(command.takes, command.words)
}

// jobWords are the tables and keys of the job.
func jobWords() []string { return append(pourplan.TableNames(), pourplan.KeyNames()...) }
