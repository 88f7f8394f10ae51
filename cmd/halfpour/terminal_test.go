package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
)

// obeyed are characters that a terminal obeys, or that turn the direction of
// writing: all of C0, DEL and C1, line ends, marks, embeddings, overrides and
// isolates.
var obeyed = func() string {
	var s strings.Builder
	for r := rune(0); r < 0xa0; r++ {
		if r < ' ' || r >= 0x7f {
			s.WriteRune(r)
		}
	}
	return s.String() + "\u061c\u200e\u200f\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff\U000e0001"
}()

// evil is a name that would wipe the screen, turn and end its line, and hold all
// that is obeyed.
var evil = shortEvil + obeyed

const shortEvil = "evil\x1b[2J\u009b31m\r\n\u202e"

// quoted is a text as TOML and JSON write it, each character by its number.
func quoted(text string) string {
	var s strings.Builder
	for _, r := range text {
		fmt.Fprintf(&s, `\U%08X`, r)
	}
	return `"` + s.String() + `"`
}

// checkShown asks for output that holds nothing that is obeyed, and the word.
func checkShown(t *testing.T, what, output, word string) {
	t.Helper()
	if !strings.Contains(output, word) {
		t.Errorf("%s: lacks %q:\n%.2000q", what, word, output)
	}
	for line := range strings.Lines(output) {
		for _, r := range strings.TrimSuffix(line, "\n") {
			if pourplan.Unseen(r) {
				t.Errorf("%s: %U in %q", what, r, line)
				break
			}
		}
	}
}

func TestPrintingShowsAndDoesNotObey(t *testing.T) {
	for _, colour := range []bool{false, true} {
		for _, r := range evil {
			var b bytes.Buffer
			printLine(&b, "%s %-5v %s %s %d", string(r), errors.New(string(r)), []string{string(r)}, paint(colour, red, string(r)), 7)
			got := strings.ReplaceAll(strings.ReplaceAll(b.String(), "\x1b[31m", ""), "\x1b[0m", "")
			if colour && !strings.Contains(b.String(), "\x1b[31m") {
				t.Errorf("no colour in %q", b.String())
			}
			if strings.Count(got, "\n") != 1 || strings.ContainsRune(strings.TrimSuffix(got, "\n"), r) && pourplan.Unseen(r) {
				t.Errorf("%U: printed %q", r, got)
			}
		}
	}
}

func TestEncodedShowsAndDoesNotObey(t *testing.T) {
	var b bytes.Buffer
	if err := encode(&b, map[string]string{"name": evil}, ""); err != nil {
		t.Fatal(err)
	}
	checkShown(t, "JSON", b.String(), "evil")
	var back map[string]string
	if err := json.Unmarshal(b.Bytes(), &back); err != nil || back["name"] != evil {
		t.Errorf("%v, read back %q", err, back["name"])
	}
}

// Names that a job, a plan, a journal or the command line gives reach stdout and
// stderr as signs.
func TestNamesAreShownNotObeyed(t *testing.T) {
	hostile := func(edits ...string) string {
		job := writeJob(t)
		for i := 0; i < len(edits); i += 2 {
			editJob(t, job, edits[i], edits[i+1])
		}
		return job
	}
	const title = `title = "Ball"`
	half := len([]rune(evil)) / 2 // a title holds 80 characters
	first, second := string([]rune(evil)[:half]), "evil"+string([]rune(evil)[half:])
	sized := []string{`[weight]`, "[[size]]\nname = \"a " + strings.Trim(quoted(shortEvil), `"`) + "\"\ntarget = \"1/4 oz\"\n[weight]", `target = "1/4 oz"`, `#`}
	for _, c := range []struct {
		name, job, shown string
	}{
		{"a title", hostile(title, "title = "+quoted(first)), "evil"},
		{"another title", hostile(title, "title = "+quoted(second)), "evil"},
		{"names", hostile(`name = "90-degree jig hook, demo"`, "name = "+quoted(evil), `# currency = "money"`, "currency = "+quoted(evil),
			`name = "PLA"`, "name = "+quoted(evil), title, title+"\nevil = 1"), "evil"},
		{"a head's file", hostile(`file = "head.stl"`, "file = "+quoted(evil)), "evil"},
		{"an unknown key", hostile(title, quoted(evil)+" = 1\n"+title), "evil"},
		{"an unknown table", hostile(title, title+"\n["+quoted(evil)+"]\n"), "evil"},
		{"a size", hostile(sized...), "evil"},
		{"a line that is no TOML", hostile(title, "evil "+evil), ""},
	} {
		for _, options := range [][]string{nil, {"--json"}} {
			_, stdout, stderr := halfpour(context.Background(), append([]string{"check", c.job}, options...)...)
			checkShown(t, c.name, stdout+stderr, c.shown)
		}
	}
	for _, args := range [][]string{{"check", evil}, {"explain", evil}, {"check", "--" + evil}, {evil}, {"log", evil}, {"build", "--out", evil, evil}} {
		_, stdout, stderr := halfpour(context.Background(), args...)
		checkShown(t, "arguments", stdout+stderr, "evil")
	}
}

func TestForeignPlanIsShownNotObeyed(t *testing.T) {
	job := writeJob(t)
	_, stdout, _ := halfpour(context.Background(), "check", job, "--json")
	var report struct {
		Plan map[string]any `json:"plan"`
	}
	if err := json.Unmarshal([]byte(stdout), &report); err != nil {
		t.Fatal(err)
	}
	report.Plan["title"] = evil
	report.Plan["rubber"].(map[string]any)["name"] = evil
	report.Plan["heads"].([]any)[0].(map[string]any)["name"] = evil
	data, err := json.Marshal(report.Plan)
	if err != nil {
		t.Fatal(err)
	}
	plan := filepath.Join(filepath.Dir(job), "job-out", "plan.json")
	if err := errors.Join(os.Mkdir(filepath.Dir(plan), 0o755), os.WriteFile(plan, data, 0o644)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args  []string
		shown string
	}{
		{[]string{"compare", plan, job}, "the same"},
		{[]string{"mix", job, "162"}, "by mass"},
		{[]string{"log", job, "--shots", "1", "--good", "1"}, "evil"},
		{[]string{"log", job}, "evil"},
	} {
		_, stdout, stderr := halfpour(context.Background(), c.args...)
		checkShown(t, c.args[0], stdout+stderr, c.shown)
		_, stdout, stderr = halfpour(context.Background(), append(c.args, "--json")...)
		checkShown(t, c.args[0]+" --json", stdout+stderr, "")
	}
}

// A journal that names files so is not obeyed, carried out or not.
func TestJournalIsShownNotObeyed(t *testing.T) {
	job := writeJob(t)
	name := strings.ReplaceAll(evil, "\x00", "")
	journal, err := json.Marshal(map[string]any{"schema": 1, "files": []map[string]any{{"name": name, "temp": "." + name + ".1.tmp", "bytes": 1, "sha256": name}}})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(filepath.Dir(job), fileset.JournalName), journal, 0o644); err != nil {
		t.Fatal(err)
	}
	_, stdout, stderr := halfpour(context.Background(), "build", job, "--out", filepath.Dir(job), "--tolerance", testTolerance)
	checkShown(t, "build", stdout+stderr, "")
	term := newTerminal(nil, nil, nil, nil)
	var b bytes.Buffer
	term.err = &b
	term.sayRepaired(evil, []string{evil})
	checkShown(t, "finished", b.String(), "evil")
}

// What is printed past printLine would be obeyed. The files named print nothing
// that comes from outside.
func TestOnlyOnePlacePrints(t *testing.T) {
	past := regexp.MustCompile(`Fprint\w*\((\w+\.)*(out|err),|os\.Std(out|err)`)
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 20 {
		t.Fatal(files, err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || slices.Contains([]string{"terminal.go", "progress.go", "app.go", "main.go"}, name) {
			continue
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if found := past.Find(data); found != nil {
			t.Errorf("%s: %s: print by say, row or printLine", name, found)
		}
	}
}
