package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"halfpour/pourplan"
)

func writeText(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// treeOf lists all files of a folder with their sizes.
func treeOf(t *testing.T, dir string) string {
	t.Helper()
	list := ""
	err := filepath.Walk(dir, func(name string, info os.FileInfo, err error) error {
		if err == nil {
			list += fmt.Sprintln(name, info.Size(), info.ModTime())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// What the desk opens first: what is named, or the one job of a folder that is
// sure to be meant. It writes nothing.
func TestWhatTheDeskOpens(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, filepath.FromSlash(name)) }
	for _, name := range []string{"one/minnow.toml", "one/hooks.toml", "two/a.toml", "two/b.toml", "main/job.toml", "main/x.toml", "below/shad/job.toml", "empty/notes.txt"} {
		writeText(t, in(name), "title = \"x\"\n")
	}
	for _, c := range []struct{ named, folder, job string }{
		{"one", "one", "one/minnow.toml"}, {"two", "two", ""}, {"main", "main", "main/job.toml"}, {"below", "below", "below/shad/job.toml"},
		{"empty", "empty", ""}, {"new", "new", ""}, {"main/x.toml", "main", "main/x.toml"}, {"not-there.toml", ".", "not-there.toml"},
	} {
		folder, job, err := deskOf(in(c.named))
		want := c.job
		if want != "" {
			want = in(want)
		}
		if err != nil || folder.dir != filepath.Clean(in(c.folder)) || job != want {
			t.Errorf("%s: opens %q in %s, %v", c.named, job, folder.dir, err)
		}
	}
	if _, err := os.Stat(in("new")); err == nil {
		t.Error("a folder was made")
	}
	if _, _, err := deskOf("-"); err == nil {
		t.Error("standard input")
	}
}

// The jobs of a folder: those in it and one folder below, none behind a link that
// leads out.
func TestJobsOfAFolder(t *testing.T) {
	dir, outside := t.TempDir(), t.TempDir()
	in := func(name string) string { return filepath.Join(dir, filepath.FromSlash(name)) }
	for _, name := range []string{"b.toml", "A.TOML", "hooks.toml", "c.toml.tmp", ".d.toml", "shad/job.toml", "shad/deeper/job.toml", "shad/Hooks.toml", ".hidden/job.toml"} {
		writeText(t, in(name), "title = \"x\"\n")
	}
	writeText(t, filepath.Join(outside, "job.toml"), "title = \"secret\"\n")
	if err := os.Mkdir(in("folder.toml"), 0o777); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]string{"out.toml": filepath.Join(outside, "job.toml"), "linked": outside, "within.toml": "b.toml", "nowhere.toml": "gone"} {
		if err := os.Symlink(to, in(name)); err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	d := deskFolder{dir}
	list, all, err := d.jobs()
	if want := []string{"A.TOML", "b.toml", "shad/job.toml", "within.toml"}; err != nil || !all || !slices.Equal(list, want) {
		t.Errorf("got %q, %v, %v, want %q", list, all, err, want)
	}
	for _, name := range []string{"out.toml", "linked/job.toml", "../job.toml", "shad/../b.toml", in("b.toml"), "hooks.toml", "", ".", "shad"} {
		if path, err := d.path(name); err == nil {
			t.Errorf("%q is found at %s", name, path)
		}
		if path, err := d.copy(context.Background(), name, "copy"); err == nil {
			t.Errorf("%q is copied to %s", name, path)
		}
	}
	for i := range mostEntries + 10 {
		writeText(t, in(fmt.Sprintf("n%d.txt", i)), "")
	}
	if _, all, err := d.jobs(); err != nil || all {
		t.Errorf("of too many names: all %v, %v", all, err)
	}
}

// Jobs are opened, started and copied from the page; nothing that is there is
// written over.
func TestDeskOpensStartsAndCopies(t *testing.T) {
	path, ask := askingDesk(t)
	dir := filepath.Dir(path)
	first := readText(t, path)
	_, a := ask("form", "", nil)
	stale := a.Form.Seen

	code, a := ask("copy", "", map[string]string{"name": "job.toml", "as": "Ball 2"})
	if code != 200 || a.Form.File != "Ball 2.toml" || a.Form.Title != "Ball 2" || a.Form.Undo {
		t.Fatalf("copy: %d %s", code, a.Message)
	}
	if got := readText(t, filepath.Join(dir, "Ball 2.toml")); got != strings.Replace(first, `title = "Ball" `, `title = "Ball 2" `, 1) || readText(t, path) != first {
		t.Error("the copy is no copy, or the job has changed")
	}
	// What a page shows of another job changes nothing in this one, however alike.
	writeText(t, filepath.Join(dir, "Ball 2.toml"), first)
	if code, _ := ask("set", stale, map[string]string{"path": "title", "text": "Lost"}); code != 409 {
		t.Errorf("a change of the job that was open: %d", code)
	}
	code, a = ask("start", "", map[string]string{"name": "größe 3"})
	if code != 200 || a.Form.File != "größe 3/job.toml" || a.Form.Title != "größe 3" || len(a.Form.Problems) > 0 {
		t.Fatalf("start: %d %s", code, a.Message)
	}
	if _, err := os.Stat(filepath.Join(dir, "größe 3", "head.stl")); err != nil {
		t.Error(err)
	}
	mesh := readText(t, filepath.Join(dir, "head.stl"))
	code, a = ask("start-with?which=Minnow%2Fminnow.stl", "", map[string]string{"raw": mesh})
	if code != 200 || a.Form.File != "Minnow/job.toml" || len(a.Proposed) < 5 || readText(t, filepath.Join(dir, "Minnow", "minnow.stl")) != mesh {
		t.Fatalf("start with a head: %d %s", code, a.Message)
	}
	writeText(t, filepath.Join(dir, "old-castings.csv"), "")
	before := treeOf(t, dir)
	for _, c := range []struct {
		name  string
		order map[string]string
	}{
		{"start", map[string]string{"name": "minnow"}}, {"start", map[string]string{"name": "BALL 2.toml"}}, {"start", map[string]string{"name": ""}},
		{"start", map[string]string{"name": "../x"}}, {"start", map[string]string{"name": "a/b"}}, {"start", map[string]string{"name": "CON"}},
		{"copy", map[string]string{"name": "job.toml", "as": "ball 2"}}, {"copy", map[string]string{"name": "job.toml", "as": "hooks"}},
		{"copy", map[string]string{"name": "job.toml", "as": "../x"}}, {"copy", map[string]string{"name": "none.toml", "as": "x"}},
		{"copy", map[string]string{"name": "job.toml", "as": "Old"}}, // whose castings would become the copy's
		{"open", map[string]string{"name": "none.toml"}}, {"open", map[string]string{"name": "../job.toml"}},
		{"start-with?which=Minnow%2Fa.stl", map[string]string{"raw": mesh}}, {"start-with?which=New%2Fjob.toml", map[string]string{"raw": mesh}},
		{"start-with?which=New%2F..%2Fa.stl", map[string]string{"raw": mesh}}, {"start-with?which=New%2Fa.stl", map[string]string{"raw": "solid nothing"}},
		{"start-with?which=a.stl", map[string]string{"raw": mesh}},
	} {
		if code, a := ask(c.name, "", c.order); code != 422 || a.Message == "" {
			t.Errorf("%s %v: %d %q", c.name, c.order["name"]+c.order["as"], code, a.Message)
		}
	}
	if now := treeOf(t, dir); now != before {
		t.Errorf("what was refused has left something:\n%s", now)
	}
	if code, a = ask("open", "", map[string]string{"name": "job.toml"}); code != 200 || a.Form.Title != "Ball" {
		t.Errorf("open: %d %s", code, a.Message)
	}
}

// What is interrupted leaves nothing behind.
func TestDeskStartsWholeOrNotAtAll(t *testing.T) {
	d := deskFolder{filepath.Join(t.TempDir(), "molds")}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if path, err := d.start(ctx, "Ball", []starterFile{{starterJob, []byte("a")}, {starterHead, []byte("b")}}); err == nil {
		t.Errorf("wrote %s", path)
	}
	if _, err := os.Stat(d.dir); err == nil {
		t.Errorf("left %s", treeOf(t, d.dir))
	}
}

// A copy builds into a folder of its own, whatever the job says.
func TestDeskCopiesBuildApart(t *testing.T) {
	path, ask := askingDesk(t)
	_, a := ask("form", "", nil)
	if code, a := ask("set", a.Form.Seen, map[string]string{"path": "output.folder", "text": "files"}); code != 200 {
		t.Fatalf("%d %s", code, a.Message)
	}
	if code, a := ask("copy", "", map[string]string{"name": "job.toml", "as": "two"}); code != 200 {
		t.Fatalf("%d %s", code, a.Message)
	}
	one, err := readJobFile(context.Background(), &terminal{quiet: true}, path)
	if err != nil {
		t.Fatal(err)
	}
	two, err := readJobFile(context.Background(), &terminal{quiet: true}, filepath.Join(filepath.Dir(path), "two.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if a, b := one.outputFolder(""), two.outputFolder(""); filepath.Base(a) != "files" || filepath.Base(b) != "two-out" {
		t.Errorf("%s and %s", a, b)
	}
}

// The list has titles, and says which is open.
func TestDeskListsJobs(t *testing.T) {
	path, _ := askingDesk(t)
	dir := filepath.Dir(path)
	writeText(t, filepath.Join(dir, "broken.toml"), "turn = = 3")
	list := (&deskJob{folder: deskFolder{dir}, path: path}).list(context.Background())
	if want := []deskListed{{"broken.toml", "", false}, {"job.toml", "Ball", true}}; !slices.Equal(list.Jobs, want) || !list.All || list.Message != "" || list.Folder != dir {
		t.Errorf("got %+v", list)
	}
}

// While a build is on, the job stays open; without a job there is none to change.
func TestDeskStaysWithTheBuild(t *testing.T) {
	j := &deskJob{folder: deskFolder{t.TempDir()}, building: func() bool { return true }}
	code, a := j.reopened(context.Background(), func() (string, []pourplan.ProposedKey, error) {
		t.Error("it is opened")
		return "", nil, nil
	})
	if code != 409 || a.Message == "" {
		t.Errorf("%d %s", code, a.Message)
	}
	if code, a := j.lockedAnswer(context.Background(), func(string) error { return nil }); code != 409 || a.Message == "" {
		t.Errorf("without a job: %d %s", code, a.Message)
	}
}

// Hooks of the file beside the job stand in the form as a check reads them.
func TestDeskKnowsTheHooks(t *testing.T) {
	path, ask := askingDesk(t)
	dir := filepath.Dir(path)
	_, a := ask("form", "", nil)
	code, a := ask("set", a.Form.Seen, map[string]string{"path": "hook.use", "text": "my 2/0"})
	if code != 200 || len(a.Form.Problems) != 1 || !strings.Contains(a.Form.Problems[0].Message, "shelf.toml") {
		t.Fatalf("without hooks: %d %+v", code, a.Form.Problems)
	}
	writeText(t, filepath.Join(dir, "hooks.toml"), "[\"my 2/0\"]\nwire = 1.1\neye_inside = 2\nleg = 6\nshank = 30\ngape = 10\n[\"my 3/0\"]\nwire = 40\n")
	if _, a = ask("form", "", nil); len(a.Form.Problems) != 0 {
		t.Errorf("with hooks: %+v", a.Form.Problems)
	}
	if code, b := ask("set", a.Form.Seen, map[string]string{"path": "hook.use", "text": "his 2/0"}); code != 422 || !strings.Contains(b.Message, "is no hook of") {
		t.Errorf("a hook that is none: %d %s", code, b.Message)
	}
	if _, a = ask("set", a.Form.Seen, map[string]string{"path": "hook.use", "text": "my 3/0"}); len(a.Form.Problems) == 0 || !strings.HasPrefix(a.Form.Problems[0].Message, "hooks.toml, line 8: ") {
		t.Errorf("a hook with a fault: %+v", a.Form.Problems)
	}
	for _, table := range a.Form.Tables {
		for _, f := range table.Fields {
			if f.Path == "hook.use" && !slices.Equal(f.Offers, []string{"my 2/0", "my 3/0"}) {
				t.Errorf("offers %q", f.Offers)
			}
		}
	}
}
