package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// newApp returns the command tree. Nothing in it exits or prints an error:
// that is for run.
func newApp(t *terminal) *cli.App {
	app := &cli.App{
		Name:            "halfpour",
		Usage:           "from a bait head and a hook to a rubber mold: frames to print, and what to weigh, pour and melt",
		HideHelpCommand: true,
		HideVersion:     true,
		Writer:          t.out,
		ErrWriter:       t.err,
		ExitErrHandler:  func(*cli.Context, error) {},
		OnUsageError:    onUsageError,
		Flags: []cli.Flag{
			cli.HelpFlag, // not added by itself to a program with its own help command
			&cli.BoolFlag{Name: "version", Usage: "print the version and exit", DisableDefaultText: true},
		},
		Commands: []*cli.Command{demoCommand(t), newCommand(t), deskCommand(t), checkCommand(t), buildCommand(t), pieceCommand(t), mixCommand(t), logCommand(t), shelfCommand(t), compareCommand(t), explainCommand(t)},
	}
	app.Commands = append(app.Commands, completionCommand(t), manCommand(t, app), schemaCommand(t), helpCommand(t, app))
	app.Action = func(c *cli.Context) error {
		switch {
		case c.Bool("version"):
			_, err := fmt.Fprintln(t.out, versionText()+builtFrom().String())
			return err
		case c.Args().Present():
			return unknownCommand(app, c.Args().First())
		default:
			return cli.ShowAppHelp(c)
		}
	}
	tree := commandTree(app)
	app.CustomAppHelpTemplate = asTemplate(appHelp(tree))
	for i, cmd := range app.Commands {
		cmd.CustomHelpTemplate = asTemplate(commandHelp(tree[i+1]))
		cmd.HideHelpCommand = true
		cmd.OnUsageError = onUsageError
	}
	app.Commands = append(app.Commands, completeWordsCommand(t, app))
	return app
}

// asTemplate is text that a template prints as it is.
func asTemplate(text string) string { return "{{" + strconv.Quote(text) + "}}" }

// Options that several commands share.

func jsonFlag() cli.Flag {
	return &cli.BoolFlag{Name: "json", Usage: "print one JSON document instead of text", DisableDefaultText: true}
}

func quietFlag() cli.Flag {
	return &cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print errors only", DisableDefaultText: true}
}

// begin reads the shared options and checks the number of arguments.
func begin(t *terminal, c *cli.Context, least, most int) error {
	t.json, t.quiet = c.Bool("json"), c.Bool("quiet")
	if err := checkWords(c); err != nil {
		return err
	}
	n := c.NArg()
	if n >= least && n <= most {
		return nil
	}
	what := fmt.Sprintf("%s takes %s, got %d arguments", c.Command.Name, c.Command.ArgsUsage, n)
	hints := []string{"see: halfpour " + c.Command.Name + " --help"}
	switch {
	case n == 0:
		what = fmt.Sprintf("%s needs %s", c.Command.Name, c.Command.ArgsUsage)
		if job := onlyJobHere(); job != "" && c.Command.ArgsUsage == jobArgument {
			hints = []string{fmt.Sprintf("did you mean: halfpour %s %s?", c.Command.Name, job)}
		}
	case n < least:
		what = fmt.Sprintf("%s needs %s, got only %q", c.Command.Name, c.Command.ArgsUsage, c.Args().First())
	case c.NumFlags() > 0:
		hints = append([]string{"put quotes around a value with spaces"}, hints...)
	}
	return usageError(what, hints...)
}

// jobArgument is how commands name a job file in their help.
const jobArgument = "JOB.toml"

// onlyJobHere is the one job file in the folder that a command is given in; ""
// when there is none or more.
func onlyJobHere() string {
	jobs, err := filepath.Glob("*.toml")
	if err != nil || len(jobs) != 1 {
		return ""
	}
	return jobs[0]
}

// checkWords checks the options whose values are one of some words.
func checkWords(c *cli.Context) error {
	for _, name := range c.FlagNames() {
		words := valuesOf()[name].words
		got := c.String(name)
		if len(words) == 0 || slices.Contains(words, got) {
			continue
		}
		last := len(words) - 1
		what := fmt.Sprintf("--%s must be %s or %s, got %q", name, strings.Join(words[:last], ", "), words[last], got)
		if near := pourplan.Nearest(got, words); near != "" {
			return usageError(what, fmt.Sprintf("did you mean --%s %s?", name, near))
		}
		return usageError(what)
	}
	return nil
}

func helpCommand(t *terminal, app *cli.App) *cli.Command {
	return &cli.Command{
		Name:      "help",
		Usage:     "show how a command is used",
		ArgsUsage: "[COMMAND]",
		UsageText: `  halfpour help                        all commands
  halfpour help build                  the same as halfpour build --help
  halfpour help --json                 all commands and options, for a program to read`,
		Flags: []cli.Flag{jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 1); err != nil {
				return err
			}
			name := c.Args().First()
			if t.json {
				return printHelpJSON(t, app, name)
			}
			if name == "" {
				return cli.ShowAppHelp(c)
			}
			if app.Command(name) == nil {
				return unknownCommand(app, name)
			}
			return cli.ShowCommandHelp(c, name)
		},
	}
}
