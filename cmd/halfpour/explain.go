package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// explanation is what a finding or an error means for a person at the bench.
type explanation struct {
	code  string
	means string   // at the bench
	do    string   // about it
	keys  []string // of the job that have to do with it
}

// explainGroup is explanations that belong together.
type explainGroup struct {
	title string
	about []explanation
}

// explainGroups is all there is to explain, in the order of the work. A code
// stands in one group only.
func explainGroups() []explainGroup {
	return []explainGroup{
		{"Findings: air, metal and the gate", explainCasting()},
		{"Findings: hook, eye and keepers", explainWires()},
		{"Findings: the rubber halves", explainRubber()},
		{"Findings: frames that are drawn already", explainBox()},
		{"Findings: in print", explainPrint()},
		{"Findings: the head's file", explainHead()},
		{"Findings: figures and materials", explainFigures()},
		{"Errors in a job", explainJobErrors()},
		{"Errors in a head's mesh", explainMeshErrors()},
		{"Other errors", explainOtherErrors()},
	}
}

// explainCodes are the codes of all groups, in their order.
func explainCodes() []string {
	var codes []string
	for _, g := range explainGroups() {
		for _, e := range g.about {
			codes = append(codes, e.code)
		}
	}
	return codes
}

func explainCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "what a finding, an error or a key of the job means, and what to do",
		ArgsUsage: "[CODE_OR_KEY]",
		Description: `CODE is the word after stop, warn or note in the output of check and build,
or the word in brackets after an error. KEY is a key of the job file, such as
hook.wire, or one of its tables. Without either, lists all codes and tables.`,
		UsageText: `  halfpour explain                     all codes, in groups, and the job's tables
  halfpour explain air-trapped         what it means and what helps
  halfpour explain sprue.gate_width    a key: unit, default, limits, meaning
  halfpour explain sprue               the keys of a table
  halfpour explain hook                with a drawing of where to measure
  halfpour explain air-trapped --json`,
		Flags: []cli.Flag{jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 1); err != nil {
				return err
			}
			return explain(t, c.Args().First())
		},
	}
}

// explainReport is what "explain --json" prints.
type explainReport struct {
	Schema int               `json:"schema"` // reportSchema
	Codes  []explainedEntry  `json:"codes"`  // the one that was asked for, or all; none when a key was
	Keys   []pourplan.KeyDoc `json:"keys"`   // the one or those of the table that was asked for, or all; none when a code was
}

// explainedEntry is one code of it.
type explainedEntry struct {
	Code  string   `json:"code"`           // of a finding, or the rule of an error
	Group string   `json:"group"`          // heading that it stands under
	Means string   `json:"means"`          // at the bench
	Do    string   `json:"do"`             // about it
	Keys  []string `json:"keys,omitempty"` // of the job that have to do with it
}

// explain prints one code, key or table, or all when it is "".
func explain(t *terminal, asked string) error {
	asked = strings.Trim(strings.ToLower(asked), "[]:")
	r := explainReport{Schema: reportSchema, Codes: []explainedEntry{}, Keys: []pourplan.KeyDoc{}}
	for _, g := range explainGroups() {
		for _, e := range g.about {
			if asked == "" || asked == e.code {
				r.Codes = append(r.Codes, explainedEntry{e.code, g.title, e.means, e.do, e.keys})
			}
		}
	}
	var asTable *pourplan.TableDoc
	for _, table := range pourplan.JobTables() {
		if asked != "" && asked == table.Name {
			asTable = &table
		}
		for _, k := range table.Keys {
			if asked == "" || asked == k.Name || asked == k.Table {
				r.Keys = append(r.Keys, k)
			}
		}
	}
	switch {
	case len(r.Codes)+len(r.Keys) == 0:
		return unknownCode(asked)
	case t.json:
		return writeJSON(t, r)
	case asked == "":
		sayCodes(t)
		return nil
	}
	if asTable != nil {
		t.say("%s", paint(t.outColour, bold, asTable.Header()))
		sayParts(t, [][2]string{{"meaning", asTable.Meaning}})
		if asTable.Name == "hook" {
			for line := range strings.SplitSeq(pourplan.HookDrawing, "\n") {
				t.say("%s", line)
			}
		}
	}
	for _, k := range r.Keys {
		sayKey(t, k)
	}
	for _, e := range r.Codes {
		if asTable != nil { // a word that is both: most ask for the table
			t.say("%s is also a code, of the group \"%s\":", e.Code, e.Group)
		}
		e.say(t)
	}
	return nil
}

// unknownCode suggests a code or a key.
func unknownCode(asked string) error {
	hint := "for a list of all: halfpour explain"
	keys := pourplan.KeyNames()
	names := slices.Concat(explainCodes(), keys, pourplan.TableNames())
	if near := pourplan.Nearest(asked, names); near != "" {
		hint = "did you mean: halfpour explain " + near + "?"
	} else if at := slices.IndexFunc(names, func(n string) bool { return strings.HasPrefix(n, asked) }); at >= 0 {
		hint = "did you mean: halfpour explain " + names[at] + "?"
	}
	for _, k := range keys {
		if strings.HasSuffix(k, "."+asked) {
			hint = "did you mean: halfpour explain " + k + "?"
			break
		}
	}
	return usageError(fmt.Sprintf("no finding, error or key is called %q", asked), hint)
}

// say prints an explanation.
func (e explainedEntry) say(t *terminal) {
	t.say("%s", paint(t.outColour, bold, e.Code))
	sayParts(t, [][2]string{{"meaning", e.Means}, {"to do", e.Do}, {"keys", strings.Join(e.Keys, ", ")}})
}

// sayKey prints what a key of the job is.
func sayKey(t *terminal, k pourplan.KeyDoc) {
	value := k.Kind
	if k.Unit != "" {
		value += "; a bare number is in " + k.Unit
	}
	t.say("%s", paint(t.outColour, bold, k.Name))
	sayParts(t, [][2]string{{"meaning", k.Meaning}, {"value", value}, {"default", k.Default}, {"limits", k.Limits}})
}

// sayParts prints labelled paragraphs; those without text are left out.
func sayParts(t *terminal, parts [][2]string) {
	for _, part := range parts {
		label := part[0]
		for _, line := range wrapped(part[1], t.columns()-rowIndent) {
			t.row(label, "%s", line)
			label = ""
		}
	}
}

// sayCodes lists the codes by group, as many to a line as fit, and the tables
// of the job.
func sayCodes(t *terminal) {
	list := func(title string, names []string) {
		t.say("%s", paint(t.outColour, bold, title))
		for _, line := range wrapped(strings.Join(names, " "), t.columns()-2) {
			t.say("  %s", line)
		}
	}
	for _, g := range explainGroups() {
		var codes []string
		for _, e := range g.about {
			codes = append(codes, e.code)
		}
		list(g.title, codes)
	}
	list("Tables of a job", pourplan.TableNames())
	t.say("more on one: halfpour explain CODE, or TABLE, or TABLE.KEY")
}
