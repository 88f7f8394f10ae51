package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"
)

func manCommand(t *terminal, app *cli.App) *cli.Command {
	return &cli.Command{
		Name:  "man",
		Usage: "print the manual page",
		Description: `Prints it in man's own format. Save it where man looks for section 1 pages, such
as ~/.local/share/man/man1/halfpour.1.`,
		UsageText: `  halfpour man | man -l -                read it now
  halfpour man > ~/.local/share/man/man1/halfpour.1`,
		Flags: []cli.Flag{jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 0); err != nil {
				return err
			}
			var b strings.Builder
			writeMan(&b, commandTree(app), versionText(), builtFrom().day())
			if t.json {
				return writeJSON(t, manReport{reportSchema, b.String()})
			}
			_, err := io.WriteString(t.out, b.String())
			return err
		},
	}
}

// manReport is what "man --json" prints.
type manReport struct {
	Schema int    `json:"schema"` // reportSchema
	Page   string `json:"page"`   // in roff, with the man macros
}

// writeMan writes the page with the macros of man(7).
func writeMan(w io.Writer, tree []treeCommand, version, day string) {
	program := tree[0]
	fmt.Fprintf(w, ".TH HALFPOUR 1 %q %q \"User commands\"\n", day, version)
	fmt.Fprintf(w, ".SH NAME\nhalfpour \\- %s\n", roff(program.usage))
	fmt.Fprint(w, ".SH SYNOPSIS\n.B halfpour\n.I COMMAND\n.RI [ OPTIONS ]\n.RI [ ARGUMENTS ]\n")
	fmt.Fprint(w, ".SH DESCRIPTION\n")
	manParagraphs(w, manDescription)
	fmt.Fprint(w, ".SH OPTIONS\n")
	for _, o := range program.options {
		manOption(w, o)
	}
	fmt.Fprint(w, ".SH COMMANDS\n")
	for _, c := range tree[1:] {
		manCommandPart(w, c)
	}
	fmt.Fprint(w, ".SH EXIT STATUS\n")
	for _, line := range exitTexts() {
		fmt.Fprintf(w, ".TP\n.B %d\n%s\n", line.code, roff(line.text))
	}
	fmt.Fprint(w, ".SH ENVIRONMENT\n.TP\n.B NO_COLOR\n"+roff("if set and not empty, turns colour off")+"\n")
	fmt.Fprint(w, ".SH FILES\n")
	for _, f := range manFiles {
		fmt.Fprintf(w, ".TP\n.I %s\n%s\n", roff(f[0]), roff(f[1]))
	}
	fmt.Fprintf(w, ".SH CAUTIONS\n%s\n", roff(manCautions))
}

const manDescription = `From one job file and a head drawn in CAD halfpour makes the two printed trays
in which the halves of a rubber mold are poured, and a sheet for the bench: how
much of part A and part B to weigh, how high to fill, how long to wait, how much
metal to melt and how hot, what the heads weigh and cost.

Results go to standard output, errors and progress to standard error. With
--json a command prints one JSON document, and its errors are one JSON document
on standard error; halfpour schema prints the schemas. A job named - comes
from standard input. To see what a finding or an error means, run
halfpour explain.`

const manCautions = `Lead alloys are hotter than most rubbers like. Never pour metal into a printed
frame. Nothing damp near melt or mold. Fresh air, breathing protection, face
shield, gloves, closed shoes. Lead is poisonous and stays in the body: keep food,
drink and children away, wash hands, wipe dust up wet. Your data sheets and
local rules take precedence over anything the program prints.`

// manFiles are the files that commands read and write.
var manFiles = [][2]string{
	{"job.toml", "the job; the file from halfpour new and halfpour explain explain every key"},
	{"JOB-out/", "the files of a build, next to the job"},
	{"JOB-castings.csv", "the account of castings, next to the job"},
}

// manCommandPart writes one command.
func manCommandPart(w io.Writer, c treeCommand) {
	fmt.Fprintf(w, ".SS %q\n", strings.TrimSpace("halfpour "+c.name+" "+c.arguments))
	fmt.Fprintf(w, "%s\n", roff(sentence(c.usage)))
	if c.description != "" {
		fmt.Fprint(w, ".PP\n")
		manParagraphs(w, c.description)
	}
	for _, o := range c.options {
		manOption(w, o)
	}
	if c.examples != "" {
		fmt.Fprintf(w, ".PP\nExamples:\n.PP\n.nf\n%s\n.fi\n", roffLines(c.examples))
	}
}

// manParagraphs writes paragraphs with an empty line between them.
func manParagraphs(w io.Writer, text string) {
	for i, p := range strings.Split(text, "\n\n") {
		if i > 0 {
			fmt.Fprint(w, ".PP\n")
		}
		fmt.Fprintf(w, "%s\n", roff(p))
	}
}

func manOption(w io.Writer, o treeOption) {
	fmt.Fprint(w, ".TP\n")
	var names []string
	for _, d := range o.dashes() {
		names = append(names, `\fB`+roff(d)+`\fR`)
	}
	fmt.Fprint(w, strings.Join(names, ", "))
	if o.value != "" {
		fmt.Fprintf(w, ` \fI%s\fR`, roff(o.value))
	}
	text := o.usage
	if o.shown != "" {
		text += " (default: " + o.shown + ")"
	}
	fmt.Fprintf(w, "\n%s\n", roff(text))
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] + "." }

// roff sets a paragraph in short lines that roff reads as text.
func roff(s string) string {
	lines := wrapped(s, 60) // escapes make them longer
	for i, line := range lines {
		lines[i] = roffLine(line)
	}
	return strings.Join(lines, "\n")
}

// roffLine makes a line safe for roff: hyphens stay hyphens that can be copied,
// and it does not begin with a sign of command.
func roffLine(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, `"`, `\(dq`).Replace(s)
	if strings.HasPrefix(s, ".") {
		s = `\&` + s
	}
	return s
}

// roffLines is text whose lines and spaces stay as they are.
func roffLines(s string) string {
	lines := strings.Split(s, "\n")
	for i, line := range lines {
		text := strings.TrimLeft(line, " ")
		lines[i] = strings.Repeat(" ", len(line)-len(text)) + roffLine(text)
		if lines[i] == "" {
			lines[i] = ".sp"
		}
	}
	return strings.Join(lines, "\n")
}
