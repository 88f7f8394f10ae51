package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// completionCase is a line as it is typed up to Tab.
type completionCase struct {
	line      string
	want      []string // among what is offered
	unwanted  []string
	completes string // what a line with one answer becomes; "" for one with more
}

var completionCases = []completionCase{
	{"halfpour ", []string{"build", "check", "completion", "explain"}, []string{"job.toml"}, ""},
	{"halfpour comp", []string{"compare", "completion"}, []string{"check"}, ""},
	{"halfpour expl", []string{"explain"}, nil, "halfpour explain "},
	{"halfpour --ver", []string{"--version"}, nil, "halfpour --version"},
	{"halfpour build --pap", []string{"--paper"}, []string{"--out"}, "halfpour build --paper"},
	{"halfpour build --paper ", []string{"a4", "letter"}, []string{"job.toml"}, ""},
	{"halfpour build --paper le", []string{"letter"}, nil, "halfpour build --paper letter"},
	{"halfpour build jo", []string{"job.toml"}, nil, "halfpour build job.toml"},
	{"halfpour build ", []string{"job.toml"}, []string{"notes.txt", "plan.json"}, ""},
	{"halfpour build --out su", []string{"sub"}, nil, "halfpour build --out sub/"},
	{"halfpour build --quiet sub/", []string{"sub/deep.toml"}, []string{"sub/other.txt"}, "halfpour build --quiet sub/deep.toml"},
	{"halfpour mix --half ri", []string{"right"}, nil, "halfpour mix --half right"},
	{"halfpour compare p", []string{"plan.json"}, nil, "halfpour compare plan.json"},
	{"halfpour log job.toml --plan pl", []string{"plan.json"}, nil, "halfpour log job.toml --plan plan.json"},
	{"halfpour explain air-t", []string{"air-trapped"}, nil, "halfpour explain air-trapped"},
	{"halfpour explain sprue.gate_w", []string{"sprue.gate_width"}, nil, "halfpour explain sprue.gate_width"},
	{"halfpour completion po", []string{"powershell"}, nil, "halfpour completion powershell"},
	{"halfpour help comp", []string{"compare", "completion"}, []string{"check", "bash"}, ""},
}

// completionFolder has files of several kinds, and a script.
func completionFolder(t *testing.T, shell string) (dir, script string) {
	t.Helper()
	dir = t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "sub"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"job.toml", "notes.txt", "plan.json", "sub/deep.toml", "sub/other.txt"} {
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	code, stdout, stderr := halfpour(context.Background(), "completion", shell)
	if code != 0 || stderr != "" {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	script = filepath.Join(t.TempDir(), "halfpour."+shell)
	if err := os.WriteFile(script, []byte(stdout), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir, script
}

// inShell runs a program in the folder; the test is skipped without it.
func inShell(t *testing.T, dir, program string, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir(), "TERM=dumb", "LC_ALL=C.UTF-8",
		playVariable+"=program", "PATH="+programFolder(t)+string(os.PathListSeparator)+os.Getenv("PATH"))
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	return string(out)
}

// programFolder has the test binary, which plays the program, as halfpour.
func programFolder(t *testing.T) string {
	t.Helper()
	binary, err := filepath.Abs(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.Symlink(binary, filepath.Join(dir, "halfpour")); err != nil {
		t.Fatal(err)
	}
	return dir
}

// needTool skips a test whose program is not here; in CI, which installs all
// that Debian has, it fails.
func needTool(t *testing.T, program string) {
	t.Helper()
	_, err := exec.LookPath(program)
	switch {
	case err == nil:
	case os.Getenv("HALFPOUR_NEEDS_TOOLS") != "" && program != "pwsh":
		t.Fatalf("%s is not here, but HALFPOUR_NEEDS_TOOLS is set", program)
	default:
		t.Skip(program + " is not here")
	}
}

// check holds what a shell offers, a word a line, against the case.
func (c completionCase) check(t *testing.T, offered []string) {
	t.Helper()
	for i, w := range offered {
		w, _, _ = strings.Cut(w, "\t") // fish tells more behind it
		offered[i] = strings.TrimSuffix(strings.TrimSpace(w), "/")
	}
	for _, w := range c.want {
		if !slices.Contains(offered, w) {
			t.Errorf("%q does not offer %q: %q", c.line, w, offered)
		}
	}
	for _, w := range c.unwanted {
		if slices.Contains(offered, w) {
			t.Errorf("%q offers %q: %q", c.line, w, offered)
		}
	}
}

func TestBashCompletes(t *testing.T) {
	needTool(t, "bash")
	dir, script := completionFolder(t, "bash")
	var b strings.Builder
	fmt.Fprintf(&b, "source %q\n", script)
	for _, c := range completionCases {
		words := strings.Split(c.line, " ")
		fmt.Fprintf(&b, "COMP_WORDS=(")
		for _, w := range words {
			fmt.Fprintf(&b, "%q ", w)
		}
		fmt.Fprintf(&b, "); COMP_CWORD=%d; COMPREPLY=(); _halfpour; echo '>'; printf '%%s\\n' \"${COMPREPLY[@]}\"\n", len(words)-1)
	}
	answers := strings.Split(inShell(t, dir, "bash", "--norc", "-c", b.String()), ">\n")[1:]
	if len(answers) != len(completionCases) {
		t.Fatalf("%d answers to %d lines", len(answers), len(completionCases))
	}
	for i, c := range completionCases {
		c.check(t, strings.Split(answers[i], "\n"))
	}
}

func TestFishCompletes(t *testing.T) {
	needTool(t, "fish")
	dir, script := completionFolder(t, "fish")
	var b strings.Builder
	fmt.Fprintf(&b, "source '%s'\n", script)
	for _, c := range completionCases {
		fmt.Fprintf(&b, "echo '>'; complete -C '%s'\n", c.line)
	}
	answers := strings.Split(inShell(t, dir, "fish", "--no-config", "-c", b.String()), ">\n")[1:]
	if len(answers) != len(completionCases) {
		t.Fatalf("%d answers to %d lines", len(answers), len(completionCases))
	}
	for i, c := range completionCases {
		c.check(t, strings.Split(answers[i], "\n"))
	}
}

// zshDriver types each line into a zsh of its own terminal, presses Tab, and
// has the line editor print what it became.
const zshDriver = `
zmodload zsh/zpty
zpty z zsh -f -i
zpty -w z 'PS1=; PS2=; autoload -Uz compinit; compinit -u -D; source %[1]q; cd %[2]q'
zpty -w z 'show() { print -r -- "<<$BUFFER>>"; BUFFER=; zle -R }; zle -N show; bindkey "^X" show; bindkey "^I" complete-word; setopt no_beep; LISTMAX=1000'
zpty -w z 'print -r -- "<<rea""dy>>"'
while zpty -r z part && [[ $part != *"<<ready>>"* ]]; do done
for line in "$@"; do
  zpty -w -n z "$line"$'\t'$'\x18'
  while zpty -r z part; do print -r -- "$part"; [[ $part == *"<<"*">>"* ]] && break; done
done
zpty -d z
`

func TestZshCompletes(t *testing.T) {
	needTool(t, "zsh")
	dir, script := completionFolder(t, "zsh")
	args := []string{"-f", "-c", fmt.Sprintf(zshDriver, script, dir), "driver"}
	var cases []completionCase
	for _, c := range completionCases {
		if c.completes != "" {
			cases = append(cases, c)
			args = append(args, c.line)
		}
	}
	out := inShell(t, dir, "zsh", args...)
	for _, c := range cases {
		if !strings.Contains(out, "<<"+c.completes) {
			t.Errorf("%q does not become %q", c.line, c.completes)
		}
	}
	if t.Failed() {
		t.Logf("zsh said %q", out)
	}
}

func TestPowerShellCompletes(t *testing.T) {
	needTool(t, "pwsh")
	dir, script := completionFolder(t, "powershell")
	var b strings.Builder
	fmt.Fprintf(&b, ". ([scriptblock]::Create((Get-Content -Raw '%s')))\n", script)
	for _, c := range completionCases {
		fmt.Fprintf(&b, "'>'; (TabExpansion2 '%s' %d).CompletionMatches | ForEach-Object { $_.CompletionText }\n", c.line, len(c.line))
	}
	answers := strings.Split(strings.ReplaceAll(inShell(t, dir, "pwsh", "-NoProfile", "-Command", b.String()), "\r", ""), ">\n")[1:]
	if len(answers) != len(completionCases) {
		t.Fatalf("%d answers to %d lines", len(answers), len(completionCases))
	}
	for i, c := range completionCases {
		c.check(t, strings.Split(answers[i], "\n"))
	}
}

// Every command, option and code is offered, each option once, and what the
// arguments of each command are is known.
func TestCompletionsAreWhole(t *testing.T) {
	tree := commandTree(newApp(newTerminal(nil, io.Discard, io.Discard, io.Discard)))
	words := 0
	for _, c := range tree[1:] {
		if c.arguments != "" && c.takes == takesNothing {
			t.Errorf("%s takes %s, but argumentsOf does not say what that is", c.name, c.arguments)
		}
		_, offered, _ := halfpour(context.Background(), "complete-words", "--", "="+c.name)
		if !slices.Contains(strings.Split(offered, "\n"), c.name+"\t"+c.usage) {
			t.Errorf("%s is not offered: %q", c.name, offered)
		}
		_, offered, _ = halfpour(context.Background(), "complete-words", "--", c.name, "=-")
		for _, o := range c.options {
			for _, d := range o.dashes() {
				if n := strings.Count("\n"+offered, "\n"+d+"\t"); n != 1 {
					t.Errorf("%s %s is offered %d times", c.name, d, n)
				}
			}
			words++
		}
		_, offered, _ = halfpour(context.Background(), "complete-words", "--", c.name, "=")
		for _, w := range c.words {
			if !slices.Contains(strings.Split(offered, "\n"), w) {
				t.Errorf("%s: %q is not offered", c.name, w)
			}
			words++
		}
	}
	if words < 200 {
		t.Fatalf("only %d words", words)
	}
	for typed, want := range map[string]string{"bsh": "completion bash?", "pwsh": "completion powershell?", "xyzzy": "one of bash, zsh, fish, powershell"} {
		if code, _, stderr := halfpour(context.Background(), "completion", typed); code != 3 || !strings.Contains(stderr, want) {
			t.Errorf("completion %s: exit %d, %s", typed, code, stderr)
		}
	}
}
