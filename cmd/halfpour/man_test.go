package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// manPage writes the page of a stated version and day into a file.
func manPage(t *testing.T) (path, text string) {
	t.Helper()
	var b strings.Builder
	writeMan(&b, commandTree(newApp(newTerminal(nil, nil, nil, nil))), "halfpour 1.2.3", "2026-01-31")
	path = filepath.Join(t.TempDir(), "halfpour.1")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path, b.String()
}

// Two programs that set manual pages find nothing to complain of.
func TestManPageIsClean(t *testing.T) {
	path, _ := manPage(t)
	for _, command := range [][]string{
		{"mandoc", "-Tlint", "-Wwarning", path},
		{"groff", "-man", "-Tutf8", "-ww", "-z", path},
	} {
		t.Run(command[0], func(t *testing.T) {
			needTool(t, command[0])
			out, err := exec.Command(command[0], command[1:]...).CombinedOutput()
			if err != nil || len(out) > 0 {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
}

// A reader sees every command, option and exit code, and commands that can be
// copied: no hyphen has become a dash, no quote is bent.
func TestManPageIsWhole(t *testing.T) {
	needTool(t, "mandoc")
	path, source := manPage(t)
	out, err := exec.Command("mandoc", "-Tutf8", "-Owidth=300", path).Output()
	if err != nil {
		t.Fatal(err)
	}
	page := string(out) // bold is a letter, backspace and the letter again
	for {
		i := strings.IndexByte(page, '\b')
		if i < 1 {
			break
		}
		before := []rune(page[:i])
		page = string(before[:len(before)-1]) + page[i+1:]
	}
	for _, c := range commandTree(newApp(newTerminal(nil, nil, nil, nil)))[1:] {
		if !strings.Contains(page, "halfpour "+c.name) {
			t.Errorf("%s is missing", c.name)
		}
		for _, o := range c.options {
			if !strings.Contains(page, o.dashes()[0]) {
				t.Errorf("%s of %s is missing", o.dashes()[0], c.name)
			}
		}
		for _, line := range strings.Split(c.examples, "\n") {
			if !strings.Contains(page, strings.TrimSpace(line)) {
				t.Errorf("%s: the example %q is not there as it is typed", c.name, line)
			}
		}
	}
	for _, line := range strings.Split(source, "\n") {
		if strings.HasPrefix(line, "'") || len(line) > 120 {
			t.Errorf("a line of roff is %q", line)
		}
	}
}

func TestManCommand(t *testing.T) {
	code, stdout, stderr := halfpour(context.Background(), "man")
	if code != 0 || stderr != "" || !strings.HasPrefix(stdout, ".TH HALFPOUR 1 ") {
		t.Errorf("exit %d, %s%.80s", code, stderr, stdout)
	}
}
