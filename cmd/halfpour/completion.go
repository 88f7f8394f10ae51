package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// shell is one that a completion script can be written for.
type shell struct {
	name   string
	where  string // how the script comes into use
	script func(io.Writer, []treeCommand)
}

func shells() []shell {
	return []shell{
		{"bash", "halfpour completion bash > ~/.local/share/bash-completion/completions/halfpour", writeBash},
		{"zsh", "halfpour completion zsh > \"${fpath[1]}/_halfpour\"", writeZsh},
		{"fish", "halfpour completion fish > ~/.config/fish/completions/halfpour.fish", writeFish},
		{"powershell", "halfpour completion powershell | Out-String | Invoke-Expression   as a line of $PROFILE", writePowerShell},
	}
}

func shellNames() []string {
	var names []string
	for _, s := range shells() {
		names = append(names, s.name)
	}
	return names
}

func completionCommand(t *terminal, app *cli.App) *cli.Command {
	where := ""
	for _, s := range shells() {
		where += "  " + s.where + "\n"
	}
	return &cli.Command{
		Name:      "completion",
		Usage:     "print a script that makes your shell complete halfpour's words",
		ArgsUsage: "SHELL",
		Description: `The shell is bash, zsh, fish or powershell. Save the output where your
shell looks for it and open a new shell; Tab then completes commands, options,
their values, job files and the codes of explain.`,
		UsageText: where + "  source <(halfpour completion bash)   for this session alone",
		Flags:     []cli.Flag{jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			name := strings.ToLower(c.Args().First())
			for _, s := range shells() {
				if s.name == name {
					return printScript(t, s, commandTree(app))
				}
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

func printScript(t *terminal, s shell, tree []treeCommand) error {
	var b strings.Builder
	s.script(&b, tree)
	if t.json {
		return writeJSON(t, completionReport{reportSchema, s.name, b.String()})
	}
	_, err := io.WriteString(t.out, b.String())
	return err
}

// jobWords are the tables and keys of the job.
func jobWords() []string { return append(pourplan.TableNames(), pourplan.KeyNames()...) }
