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

// jobByExample is where a job is shown, first as short as can be, then more.
const jobByExample = "../docs/job-by-example.md"

// The job that the documents show reads without a fault.
func TestJobOfTheDocuments(t *testing.T) {
	_, rest, found := strings.Cut(readme(t, jobByExample), "```toml\n")
	job, _, closed := strings.Cut(rest, "```\n")
	if !found || !closed {
		t.Fatalf("%s shows no job", jobByExample)
	}
	j, err := pourplan.ReadJob(jobByExample, []byte(job))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(j.Placed()); n != 1 || j.Hook == nil || j.Weight.Target == 0 {
		t.Errorf("the job has %d cavities, hook %v, target %v", n, j.Hook, j.Weight.Target)
	}
}

// What the documents add to that job reads too: prices and the clock behind it, a
// head that lies tilted, hooks by name.
func TestTablesOfTheDocuments(t *testing.T) {
	var blocks []string
	for _, b := range strings.Split(readme(t, jobByExample), "```toml\n")[1:] {
		block, _, _ := strings.Cut(b, "```\n")
		blocks = append(blocks, block)
	}
	if len(blocks) != 5 {
		t.Fatalf("%s shows %d jobs and parts of jobs, want 5", jobByExample, len(blocks))
	}
	j, err := pourplan.ReadJob(jobByExample, []byte(blocks[0]+blocks[3]))
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Kit) != 2 || j.Evening.Start == nil || j.Cost.Shop == nil {
		t.Errorf("the tables give %d kits, start %v, shop %v", len(j.Kit), j.Evening.Start, j.Cost.Shop)
	}
	if box, err := pourplan.ReadJob(jobByExample, []byte(blocks[4])); err != nil || box.Box == nil {
		t.Errorf("frames that are drawn already: %v", err)
	}
	// The head and weight of the tilted one, and the rest of the job above.
	before, rest, _ := strings.Cut(blocks[0], "[head]")
	_, rest, _ = strings.Cut(rest, "[hook]")
	hook, rest, _ := strings.Cut(rest, "[weight]")
	_, materials, _ := strings.Cut(rest, "[metal]")
	if _, err := pourplan.ReadJob(jobByExample, []byte(before+blocks[1]+"\n[hook]"+hook+"[metal]"+materials)); err != nil {
		t.Errorf("a head that lies tilted: %v", err)
	}
	named := strings.Replace(blocks[0], "[hook]"+hook, "[hook]\nuse = \"my 2/0\"\n", 1)
	if _, err := pourplan.ReadJobWith(jobByExample, []byte(named), func(name string) (string, []byte, error) {
		return name, map[string][]byte{pourplan.ShelfFile: []byte(blocks[2])}[name], nil
	}); err != nil {
		t.Errorf("a hook by its name: %v", err)
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
