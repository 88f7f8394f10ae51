package main

import (
	"context"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// exampleOptions are the options in an example, its remark left out.
var exampleOptions = regexp.MustCompile(`(?:^| )(--?[a-z]+)(?: |$)`)

// Every command has a help that fits on any terminal, with examples whose
// commands and options are there.
func TestHelps(t *testing.T) {
	tree := commandTree(newApp(newTerminal(nil, nil, nil, nil)))
	options := map[string][]string{}
	for _, c := range tree[1:] {
		for _, o := range c.options {
			options[c.name] = append(options[c.name], o.dashes()...)
		}
	}
	for _, c := range tree[1:] {
		if c.name == "help" {
			continue // asked for help, it shows the first screen
		}
		code, text, stderr := halfpour(context.Background(), c.name, "--help")
		if code != 0 || stderr != "" {
			t.Fatalf("%s: exit %d, %s", c.name, code, stderr)
		}
		if code, same, _ := halfpour(context.Background(), "help", c.name); code != 0 || same != text {
			t.Errorf("help %s says\n%s", c.name, same)
		}
		body, examples, found := strings.Cut(text, "\nExamples:\n")
		if !found || strings.Count(examples, "halfpour") < 2 {
			t.Errorf("%s has the examples %q", c.name, examples)
		}
		for _, line := range strings.Split(body, "\n") {
			if n := len([]rune(line)); n > 82 {
				t.Errorf("%s: %d columns: %q", c.name, n, line)
			}
		}
		for _, line := range strings.Split(examples, "\n") {
			command, _, _ := strings.Cut(strings.TrimSpace(line), "   ")
			words := strings.Fields(command)
			if len(words) < 2 || words[0] != "halfpour" {
				continue // a remark, or a shell's own command
			}
			if options[words[1]] == nil {
				t.Errorf("%s: the example %q has no command", c.name, line)
			}
			command, _, _ = strings.Cut(command, " | ")
			for _, m := range exampleOptions.FindAllStringSubmatch(command, -1) {
				if !slices.Contains(options[words[1]], m[1]) {
					t.Errorf("%s: the example %q has no option %s", c.name, line, m[1])
				}
			}
		}
	}
}

func TestOptionWordsAreSuggested(t *testing.T) {
	for line, want := range map[string]string{
		"build job.toml --paper lettre":  `--paper must be a4 or letter, got "lettre"|did you mean --paper letter?`,
		"mix 100:3 58g --half lefft":     `--half must be left, right or both, got "lefft"|did you mean --half left?`,
		"build job.toml --papr a4":       `unknown option --papr|did you mean --paper?`,
		"biuld job.toml":                 `unknown command "biuld"|did you mean: halfpour build?`,
		"mix job.toml 58g --half middle": `--half must be left, right or both, got "middle"`,
	} {
		code, _, stderr := halfpour(context.Background(), strings.Fields(line)...)
		for _, part := range strings.Split(want, "|") {
			if code != 3 || !strings.Contains(stderr, part) {
				t.Errorf("%s: exit %d, %s", line, code, stderr)
			}
		}
	}
}

func TestNearFilesAreSuggested(t *testing.T) {
	dir := filepath.Dir(writeJob(t))
	t.Chdir(dir)
	for name, want := range map[string]string{"job.tml": "did you mean job.toml?", "jbo.toml": "did you mean job.toml?", "elsewhere.toml": "halfpour new first-mold"} {
		code, _, stderr := halfpour(context.Background(), "check", name)
		if code != int(exitJob) || !strings.Contains(stderr, want) {
			t.Errorf("%s: exit %d, %s", name, code, stderr)
		}
	}
}
