package main

import (
	"embed"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// schemaFiles are the schemas as they are printed. They are written by
// TestSchemasAreCommitted out of the types and their comments.
//
//go:embed schema/*.json
var schemaFiles embed.FS

// schemaDocument is a JSON document that the program writes.
type schemaDocument struct {
	name, about string
	example     any // of the type that is written
}

// schemaDocuments are all of them, each with a schema of its name.
func schemaDocuments() []schemaDocument {
	return []schemaDocument{
		{"plan", "plan.json, and under \"plan\" in what check and build print", pourplan.Plan{}},
		{"buying-list", "buying-list.json of a job with sizes", pourplan.RunList{}},
		{"check", "what check --json prints", checkReport{}},
		{"build", "what build --json and demo --json print", buildReport{}},
		{"box", "what build --json prints for a job with [box]", boxReport{}},
		{"sizes", "what check --json and build --json print for a job with sizes", sizesReport{}},
		{"piece", "what piece --json prints", pieceReport{}},
		{"compare", "what compare --json prints", compareReport{}},
		{"mix", "what mix --json prints", mix{}},
		{"log", "what log --json prints", logReport{}},
		{"shelf", "what shelf --json and log --made --json print", shelfReport{}},
		{"new", "what new --json prints", newReport{}},
		{"explain", "what explain --json prints", explainReport{}},
		{"completion", "what completion --json prints", completionReport{}},
		{"man", "what man --json prints", manReport{}},
		{"help", "what help --json prints", helpReport{}},
		{"schemas", "what schema --json prints", schemasReport{}},
		{"error", "what a command that fails prints on standard error with --json", errorReport{}},
	}
}

func schemaNames() []string {
	var names []string
	for _, d := range schemaDocuments() {
		names = append(names, d.name)
	}
	return names
}

func schemaCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "schema",
		Usage:     "print the JSON Schema of a document that --json or a build writes",
		ArgsUsage: "[DOCUMENT]",
		Description: `JSON Schema, draft 2020-12, with a description and, under "x-unit", the unit of
every figure. Without a document, lists them all. Documents may gain fields;
one whose meaning changes gets a new number in "schema".`,
		UsageText: `  halfpour schema                      the documents
  halfpour schema plan > plan.schema.json`,
		Flags: []cli.Flag{jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 1); err != nil {
				return err
			}
			if name := c.Args().First(); name != "" {
				return printSchema(t, name)
			}
			return listSchemas(t)
		},
	}
}

// schemasReport is what "schema --json" prints.
type schemasReport struct {
	Schema    int            `json:"schema"`    // reportSchema
	Documents []schemaLabels `json:"documents"` // that "schema DOCUMENT" prints
}

// schemaLabels is one document of it.
type schemaLabels struct {
	Name  string `json:"name"`  // to be given to "schema"
	About string `json:"about"` // where the document comes from
}

func listSchemas(t *terminal) error {
	r := schemasReport{Schema: reportSchema}
	rows := [][]string{}
	for _, d := range schemaDocuments() {
		r.Documents = append(r.Documents, schemaLabels{d.name, d.about})
		rows = append(rows, []string{d.name, d.about})
	}
	if t.json {
		return writeJSON(t, r)
	}
	for _, line := range columns(rows) {
		t.say("  %s", line)
	}
	return nil
}

// printSchema prints a schema, which is JSON with --json and without.
func printSchema(t *terminal, name string) error {
	name = strings.TrimSuffix(strings.ToLower(name), ".json")
	data, err := schemaFiles.ReadFile("schema/" + name + ".json")
	if err != nil {
		hint := "one of " + strings.Join(schemaNames(), ", ")
		if near := pourplan.Nearest(name, schemaNames()); near != "" {
			hint = "did you mean: halfpour schema " + near + "?"
		}
		return usageError(fmt.Sprintf("no document is called %q", name), hint)
	}
	_, err = t.out.Write(data)
	return err
}
