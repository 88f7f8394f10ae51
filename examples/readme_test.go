package examples

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"halfpour/pourplan"
)

func readme(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// The job that the README shows reads without a fault.
func TestJobOfTheReadme(t *testing.T) {
	_, rest, found := strings.Cut(readme(t, "../README.md"), "```toml\n")
	job, _, closed := strings.Cut(rest, "```\n")
	if !found || !closed {
		t.Fatal("README.md shows no job")
	}
	j, err := pourplan.ReadJob("README.md", []byte(job))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(j.Placed()); n != 1 || j.Hook == nil || j.Weight.Target == 0 {
		t.Errorf("the README's job has %d cavities, hook %v, target %v", n, j.Hook, j.Weight.Target)
	}
}

// What the documents add to that job for shopping and the clock reads too.
func TestTablesOfTheReadme(t *testing.T) {
	blocks := strings.Split(readme(t, "../README.md")+readme(t, "../docs/job-by-example.md"), "```toml\n")
	if len(blocks) != 3 {
		t.Fatalf("README.md and docs/job-by-example.md show %d jobs and parts of jobs, want 2", len(blocks)-1)
	}
	text := ""
	for _, b := range blocks[1:] {
		job, _, _ := strings.Cut(b, "```\n")
		text += job
	}
	j, err := pourplan.ReadJob("README.md", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Kit) != 2 || j.Evening.Start == nil || j.Cost.Shop == nil {
		t.Errorf("the README's tables give %d kits, start %v, shop %v", len(j.Kit), j.Evening.Start, j.Cost.Shop)
	}
}

// What the documents link to and show is there.
func TestLinksOfTheDocuments(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#]+)(?:#[^)]*)?\)|src="([^"]+)"`)
	pages, err := filepath.Glob("../docs/*.md")
	if err != nil || len(pages) < 7 {
		t.Fatalf("found %d pages in docs, %v", len(pages), err)
	}
	for _, path := range append(pages, "../README.md", "../DEVELOPERS.md", "README.md") {
		for _, m := range link.FindAllStringSubmatch(readme(t, path), -1) {
			target := m[1] + m[2]
			if strings.Contains(target, "://") {
				continue
			}
			if _, err := os.Stat(filepath.Join(filepath.Dir(path), filepath.FromSlash(target))); err != nil {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
}

// The test command stands where CI reads it.
func TestCommandOfTheReadme(t *testing.T) {
	_, rest, found := strings.Cut(readme(t, "../README.md"), "<!-- test command -->\n```sh\n")
	command, _, _ := strings.Cut(rest, "\n```")
	if !found || !strings.HasPrefix(command, "go test ") {
		t.Errorf("the README's test command is %q", command)
	}
}

// Every page of the documents is listed in their index.
func TestIndexOfTheDocuments(t *testing.T) {
	pages, err := filepath.Glob("../docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	index := readme(t, "../docs/README.md")
	for _, p := range pages {
		if name := filepath.Base(p); name != "README.md" && !strings.Contains(index, "("+name+")") {
			t.Errorf("docs/README.md does not list %s", name)
		}
	}
}
