package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// docBlock is a fenced block of a document: a command with its output, or
// lines of a job to change.
type docBlock struct {
	command string   // "" for lines to change
	file    string   // that they are in
	lines   []string // of the output, or to change
	line    int      // of the document
}

// blocksOf reads the blocks that a walk is made of: ```console, and ```toml
// with a remark above that says in which file.
func blocksOf(text string) []docBlock {
	var blocks []docBlock
	file, lines := "", strings.Split(text, "\n")
	for i := 0; i < len(lines); i++ {
		if m := inFile.FindStringSubmatch(lines[i]); m != nil {
			file = m[1]
			continue
		}
		fence := strings.TrimPrefix(lines[i], "```")
		if fence == lines[i] || fence == "" {
			continue
		}
		start := i + 1
		for i = start; i < len(lines) && lines[i] != "```"; i++ {
		}
		b := docBlock{lines: lines[start:i], line: start + 1}
		switch {
		case fence == "console" && len(b.lines) > 0:
			b.command, b.lines = strings.TrimPrefix(b.lines[0], "$ "), b.lines[1:]
		case fence == "toml" && file != "":
			b.file, file = file, ""
		default:
			continue
		}
		blocks = append(blocks, b)
	}
	return blocks
}

var inFile = regexp.MustCompile(`^<!-- in (\S+) -->$`)

// commandWords takes a command line apart; words in double quotes stay one.
func commandWords(line string) []string {
	var words []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|\S+`).FindAllStringSubmatch(line, -1) {
		if strings.HasPrefix(m[0], `"`) {
			words = append(words, m[1])
		} else {
			words = append(words, m[0])
		}
	}
	return words
}

// shownIn reports whether the lines of a document are the output; "..." stands
// for any lines.
func shownIn(lines, output []string) bool {
	if len(lines) == 0 {
		return len(output) == 0
	}
	if lines[0] == "..." {
		for skip := 0; skip <= len(output); skip++ {
			if shownIn(lines[1:], output[skip:]) {
				return true
			}
		}
		return false
	}
	return len(output) > 0 && output[0] == lines[0] && shownIn(lines[1:], output[1:])
}

// change sets keys of a job, also those that are commented out.
func change(t *testing.T, path string, lines []string) {
	t.Helper()
	text := readText(t, path)
	for _, line := range lines {
		key, _, _ := strings.Cut(line, " = ")
		old := regexp.MustCompile(`(?m)^(# )?` + regexp.QuoteMeta(key) + ` = .*$`).FindString(text)
		if old == "" {
			t.Fatalf("%s has no line of %s", path, key)
		}
		text = strings.Replace(text, old, line, 1)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// evening keeps what the evening leaves, for its pictures (.ci/docs-pictures).
var evening = flag.String("evening", "", "play the evening of the documents in this folder, and mesh as finely as its job says")

// The evening of the documents, played from an empty folder: each command says
// what the document shows. Frames are meshed coarser than the document's, which
// changes no line that it shows.
func TestEveningOfTheDocuments(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of layouts and a build")
	}
	text := readText(t, filepath.Join("..", "..", "docs", "one-evening.md"))
	blocks := blocksOf(text)
	if len(blocks) < 12 {
		t.Fatalf("found %d blocks", len(blocks))
	}
	dir := *evening
	if dir == "" {
		dir = t.TempDir()
	}
	t.Chdir(dir)
	for _, b := range blocks {
		if b.command == "" {
			change(t, b.file, b.lines)
			continue
		}
		words := commandWords(b.command)
		if words[0] != "halfpour" {
			t.Fatalf("line %d runs %q", b.line, b.command)
		}
		if words[1] == "build" && *evening == "" {
			words = append(words, "--tolerance", "0.15") // coarser ones are for a look
		}
		code, stdout, stderr := halfpour(context.Background(), words[1:]...)
		if code != 0 {
			t.Fatalf("line %d: %s: exit %d, %s", b.line, b.command, code, stderr)
		}
		if !shownIn(b.lines, strings.Split(strings.TrimSuffix(stdout, "\n"), "\n")) {
			t.Errorf("docs/one-evening.md, line %d: %s says\n%s", b.line, b.command, stdout)
		}
	}
}

func TestShownIn(t *testing.T) {
	for _, c := range []struct {
		lines, output string
		want          bool
	}{
		{"a b", "a b", true}, {"a", "a b", false}, {"a ...", "a b c", true}, {"... c", "a b c", true},
		{"a ... c", "a c", true}, {"a ... d", "a b c", false}, {"a b", "a", false}, {"...", "", true},
	} {
		if got := shownIn(strings.Fields(c.lines), strings.Fields(c.output)); got != c.want {
			t.Errorf("%q in %q: got %v", c.lines, c.output, got)
		}
	}
}

// commandReference is docs/commands.md: what --help says of each command.
func commandReference(tree []treeCommand) string {
	var b strings.Builder
	b.WriteString("# The commands\n\nThis page is made from the program itself; `halfpour COMMAND --help` says the same.\n" +
		"Options may come before or after arguments. A job named `-` is read from\nstandard input. With `--json` a command prints one JSON document, whose schema\n" +
		"`halfpour schema` prints, and an error is one on standard error. `NO_COLOR` turns\ncolour off. On a terminal, progress with the time left is drawn on standard\nerror; with `TERM=dumb` it comes in plain lines, elsewhere not at all.\n\n| exit code | meaning |\n|---|---|\n")
	for _, e := range exitTexts() {
		fmt.Fprintf(&b, "| %d | %s |\n", e.code, e.text)
	}
	for _, c := range tree[1:] {
		fmt.Fprintf(&b, "\n## `%s`\n\n%s\n", strings.TrimSpace("halfpour "+c.name+" "+c.arguments), sentence(c.usage))
		if c.description != "" {
			fmt.Fprintf(&b, "\n%s\n", c.description)
		}
		fmt.Fprint(&b, "\n| option | what it does | default |\n|---|---|---|\n")
		for _, o := range c.options {
			names := strings.Join(o.dashes(), ", ")
			if o.value != "" {
				names += " " + o.value
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", names, o.usage, o.shown)
		}
		fmt.Fprintf(&b, "\n```\n%s\n```\n", dedented(c.examples))
	}
	return b.String()
}

// dedented takes two leading spaces off each line.
func dedented(s string) string { return strings.TrimPrefix(strings.ReplaceAll(s, "\n  ", "\n"), "  ") }

func TestCommandReferenceIsCommitted(t *testing.T) {
	golden(t, filepath.Join("..", "..", "docs", "commands.md"), commandReference(commandTree(newApp(newTerminal(nil, nil, nil, nil)))))
}
