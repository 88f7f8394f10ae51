package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The committed schemas are those of the types, and there is no other.
func TestSchemasAreCommitted(t *testing.T) {
	m := newSchemaMaker(t)
	for _, d := range schemaDocuments() {
		path, got := filepath.Join("schema", d.name+".json"), string(m.schema(d))
		if *update {
			golden(t, path, got)
		} else if want, err := os.ReadFile(path); err != nil || string(want) != got {
			t.Errorf("%s is not that of the types: go test ./cmd/halfpour -run SchemasAre -update (%v)", path, err)
		}
	}
	files, err := os.ReadDir("schema")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if name := strings.TrimSuffix(f.Name(), ".json"); !slices.Contains(schemaNames(), name) {
			t.Errorf("schema/%s is of no document", f.Name())
		}
	}
}

// A description speaks of the names in the document, not of those in the
// program.
func TestSchemasNameNothingOfTheProgram(t *testing.T) {
	described := regexp.MustCompile(`"description": "(.*)"`)
	ours := regexp.MustCompile(`\b[A-Z][a-z0-9]+(?:[A-Z][A-Za-z0-9]*)+\b|\b[a-z]+[A-Z][a-z]\w*`)
	for _, name := range schemaNames() {
		for _, m := range described.FindAllStringSubmatch(readText(t, filepath.Join("schema", name+".json")), -1) {
			if word := ours.FindString(m[1]); word != "" {
				t.Errorf("%s: %q in %q", name, word, m[1])
			}
		}
	}
}

// conforms holds a document against the schema that the program prints.
func conforms(t *testing.T, document, name string) {
	t.Helper()
	code, text, stderr := halfpour(context.Background(), "schema", name)
	if code != 0 {
		t.Fatal(stderr)
	}
	var schema map[string]any
	if err := json.Unmarshal([]byte(text), &schema); err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal([]byte(document), &v); err != nil {
		t.Fatalf("%s: %v in %q", name, err, document)
	}
	defs, _ := schema["$defs"].(map[string]any)
	for _, fault := range conformTo(schema, defs, v, name) {
		t.Error(fault)
	}
}

// What the commands print with --json keeps to the schemas.
func TestOutputsKeepToTheSchemas(t *testing.T) {
	job := writeJob(t)
	dir := filepath.Dir(job)
	t.Chdir(dir)
	command := func(schema string, want exitCode, args ...string) {
		t.Helper()
		code, stdout, stderr := halfpour(context.Background(), append(args, "--json")...)
		text := stdout
		if schema == "error" {
			text = stderr
		}
		if code != int(want) {
			t.Fatalf("%v: exit %d, %s", args, code, stderr)
		}
		conforms(t, text, schema)
	}
	command("new", 0, "new", "first")
	command("check", 0, "check", job)
	command("build", 0, "build", job, "--tolerance", testTolerance)
	conforms(t, readText(t, filepath.Join(dir, "job-out", "plan.json")), "plan")
	command("mix", 0, "mix", "100:3", "58.9g", "-b", "1.9g", "--tolerance", "10%")
	command("mix", 0, "mix", job, "58.9g", "--half", "left")
	command("log", 0, "log", job)
	command("log", 0, "log", job, "--shots", "10", "--good", "8", "--weights", "6.93 6.98 6.91", "--date", "2026-01-31")
	editJob(t, job, "to_wall = 12", "to_wall = 13")
	command("compare", 0, "compare", job)
	command("explain", 0, "explain")
	command("completion", 0, "completion", "bash")
	command("man", 0, "man")
	command("help", 0, "help")
	command("schemas", 0, "schema")
	command("error", exitUsage, "mix", "100:3", "58.9g", "--hafl", "left")
	command("error", exitJob, "check", "nowhere.toml")
}

// The documents of a size run, and of heads that the checks have much to say of.
func TestOutputsOfExamplesKeepToTheSchemas(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of layouts")
	}
	examples := filepath.Join("..", "..", "examples")
	code, stdout, stderr := halfpour(context.Background(), "check", filepath.Join(examples, "size-run", "job.toml"), "--json")
	if code != 0 {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	conforms(t, stdout, "sizes")
	code, stdout, stderr = halfpour(context.Background(), "check", filepath.Join(badFolder, "gate-on-hook", "job.toml"), "--json")
	if code != int(exitStop) {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	conforms(t, stdout, "check")
	conforms(t, stderr, "error")
}

// The checker of the tests finds what a schema forbids.
func TestConformToFindsFaults(t *testing.T) {
	var schema map[string]any
	text := `{"type":"object","required":["a"],"properties":{"schema":{"type":"integer","const":1},"a":{"$ref":"#/$defs/A"},
		"list":{"type":"array","items":{"type":"number"},"minItems":2,"maxItems":2}}}`
	if err := json.Unmarshal([]byte(text), &schema); err != nil {
		t.Fatal(err)
	}
	defs := map[string]any{"A": map[string]any{"type": "string"}}
	for document, faults := range map[string]int{
		`{"a":"x","schema":1,"list":[1,2.5]}`: 0,
		`{"schema":1}`:                        1, // no a
		`{"a":3}`:                             1,
		`{"a":"x","b":1}`:                     1,
		`{"a":"x","schema":2}`:                1,
		`{"a":"x","list":[1]}`:                1,
		`{"a":"x","list":[1,"2"]}`:            1,
		`{"a":"x","list":null}`:               1,
		`[]`:                                  1,
	} {
		var v any
		if err := json.Unmarshal([]byte(document), &v); err != nil {
			t.Fatal(err)
		}
		if got := conformTo(schema, defs, v, "it"); len(got) != faults {
			t.Errorf("%s: got %q, want %d faults", document, got, faults)
		}
	}
}

// Every command can speak JSON, but for those that speak to a browser or a
// shell.
func TestEveryCommandTakesJSON(t *testing.T) {
	for _, c := range newApp(newTerminal(nil, nil, nil, nil)).Commands {
		takes := c.Name == "desk" || c.Hidden
		for _, f := range c.Flags {
			takes = takes || slices.Contains(f.Names(), "json")
		}
		if !takes {
			t.Errorf("%s does not take --json", c.Name)
		}
	}
	code, _, stderr := halfpour(context.Background(), "schema", "plann")
	if code != 3 || !strings.Contains(stderr, "did you mean: halfpour schema plan?") {
		t.Errorf("exit %d, %s", code, stderr)
	}
}
