package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const testShelf = "[rubber.\"tin-cure 100:3\"]\npreset = \"tin-cure 100:3\"\nlife = [2, 4]\nopened_life = \"90 d\"\n[hook.\"my 2/0\"]\nwire = 1.1\neye_inside = 2\nleg = 8\nshank = 26\ngape = 10\n[metal.tin]\npreset = \"tin\"\n"

// shelvedJob is a folder with a shelf and, below it, a job with its plan.
func shelvedJob(t *testing.T) (dir, job string) {
	t.Helper()
	path := loggedJob(t)
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	dir = filepath.Dir(at)
	t.Chdir(dir)
	writeText(t, filepath.Join(dir, "shelf.toml"), testShelf)
	return dir, filepath.Join(filepath.Base(at), path)
}

// From a can to a mold's last shot: each figure is the one before less what was taken,
// and what runs short is told.
func TestShelf(t *testing.T) {
	_, job := shelvedJob(t)
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"shelf"}, []string{"hook    my 2/0: 1.1 mm wire", "a mold lasts 2 to 4 shots, an opened can keeps 90 d", "metal   tin: "}},
		{[]string{"shelf", "--open", "can 1", "--rubber", "tin-cure 100:3", "-a", "1kg", "-b", "30g", "--date", "2999-01-31"},
			[]string{"recorded in shelf-account.csv: 2999-01-31, opened, can \"can 1\", A 1000.0 g, B 30.0 g\n", "opened 2999-01-31, keeps to 2999-05-01: A 1000.0 g, B 30.0 g left"}},
		{[]string{"log", job, "--made", "-a", "300g", "-b", "9.1g"}, []string{"made, mold 1 of ", "A 700.0 g, B 20.9 g left", "0 shots, 2 to 4 left of 2 to 4"}},
		{[]string{"log", job, "--shots", "3", "--good", "15"}, []string{"3 shots"}},
		{[]string{"shelf"}, []string{"3 shots, 0 to 1 left", "may end: 3 shots of 2 to 4"}},
		{[]string{"log", job, "--shots", "1", "--good", "5"}, nil},
		{[]string{"shelf"}, []string{"none left", "is past its life: 4 shots of 2 to 4"}},
		{[]string{"log", job, "--undo"}, nil},
		{[]string{"shelf"}, []string{"3 shots, 0 to 1 left"}},
		{[]string{"log", job, "--made"}, []string{"made, mold 2 of "}},
		{[]string{"log", job, "--made", "--undo"}, []string{"taken back in shelf-account.csv: ", "mold 2 of ", "A 700.0 g, B 20.9 g left"}},
		{[]string{"shelf", "--count", "can 1", "-a", "5g", "-b", "0.1g"}, []string{"A 5.0 g, B 0.1 g left", "g of part A of tin-cure 100:3, the cans that keep have 5.0 g", "g of part B of tin-cure 100:3, the cans that keep have 0.1 g"}},
		{[]string{"shelf", "--use", "can 1", "-a", "6g", "-b", "0g"}, []string{"A -1.0 g", "more was taken out than was in it"}},
		{[]string{"shelf", "--undo"}, []string{"taken back in shelf-account.csv: ", "A 5.0 g, B 0.1 g left"}},
		{[]string{"shelf", "--open", "old", "--rubber", "tin-cure 100:3", "-a", "1kg", "-b", "30g", "--date", "2020-01-31"}, []string{"can \"old\" is past its date, 2020-04-30", "the cans that keep have 5.0 g"}},
		{[]string{"shelf", "--gone", "can 1"}, []string{"gone, can \"can 1\""}},
		{[]string{"shelf", "--gone", job, "--mold", "1"}, []string{"retired, mold 1 of "}},
	} {
		code, stdout, stderr := halfpour(context.Background(), c.args...)
		for _, want := range c.want {
			if !strings.Contains(stdout, want) {
				t.Errorf("%q: want %s, got\n%s", c.args, want, stdout)
			}
		}
		if code != 0 {
			t.Errorf("%q: exit %d, %s", c.args, code, stderr)
		}
	}
	_, stdout, _ := halfpour(context.Background(), "shelf", "--json")
	var r shelfReport
	if err := json.Unmarshal([]byte(stdout), &r); err != nil || len(r.Cans) != 1 || r.Cans[0].Name != "old" || len(r.Molds) != 0 || r.Schema != 1 || len(r.Cans[0].Pours) != 1 {
		t.Errorf("%v, %s", err, stdout)
	}
}

// A mold made of rubber that no open can holds is recorded, and that is told.
func TestMoldMadeFromNoCan(t *testing.T) {
	_, job := shelvedJob(t)
	code, stdout, stderr := halfpour(context.Background(), "log", job, "--made")
	if code != 0 || !strings.Contains(stdout, "made, mold 1 of ") || !strings.Contains(stderr, "no open can holds tin-cure 100:3") {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
}

func TestShelfCommandRefuses(t *testing.T) {
	_, job := shelvedJob(t)
	before := tree(t, ".")
	for _, c := range []struct{ args, want string }{
		{"shelf nowhere", "nowhere is not a folder"},
		{"shelf --open x --use y", "--open and --use do not go together"},
		{"shelf --open x -a 1g -b 1g", "opened needs a can, its rubber"},
		{"shelf --open x --rubber y -a 1g", "--open needs -a and -b"},
		{"shelf --use x -a 1g -b 1g", `no can "x" is open`},
		{"shelf --use x -a 1mm -b 1g", "-a: want a mass"},
		{"shelf -a 1g", "-a does not go here"},
		{"shelf --undo --rubber x", "--rubber does not go here"},
		{"shelf --undo", "shelf-account.csv has nothing to take back"},
		{"shelf --labels x.png", "--labels must name a .pdf"},
		{"shelf --labels x.pdf", "no mold was recorded"},
		{"shelf --label x", "--label and --paper need --labels"},
		{"log " + job + " --made --shots 3", "--made goes without --shots"},
		{"log " + job + " --can x", "--can needs --made"},
		{"log " + job + " --made --can x", `no can "x" is open`},
		{"log " + job + " --made --undo", "shelf-account.csv has nothing to take back"},
	} {
		code, stdout, stderr := halfpour(context.Background(), strings.Fields(c.args)...)
		if code != int(exitUsage) || stdout != "" || !strings.HasPrefix(stderr, "halfpour: error: "+c.want) {
			t.Errorf("%s: exit %d, %s, want %s", c.args, code, stdout+stderr, c.want)
		}
	}
	sameTree(t, ".", before)
}

// Labels are drawn on both papers, all or one.
func TestShelfLabels(t *testing.T) {
	_, job := shelvedJob(t)
	for _, args := range [][]string{
		{"log", job, "--made", "-q"}, {"log", job, "--made", "-q"},
		{"shelf", "--labels", "a4.pdf", "-q"}, {"shelf", "--labels", "letter.pdf", "--paper", "letter", "-q"}, {"shelf", "--labels", "one.pdf", "--label", "Ball 2", "-q"},
	} {
		if code, _, stderr := halfpour(context.Background(), args...); code != 0 {
			t.Fatalf("%q: exit %d, %s", args, code, stderr)
		}
	}
	sizes := map[string]int64{}
	for _, name := range []string{"a4.pdf", "letter.pdf", "one.pdf"} {
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		sizes[name] = info.Size()
	}
	if sizes["one.pdf"] >= sizes["a4.pdf"] {
		t.Errorf("one label takes as much as two: %v", sizes)
	}
	if code, _, stderr := halfpour(context.Background(), "shelf", "--labels", "x.pdf", "--label", "Bell"); code != int(exitUsage) || !strings.Contains(stderr, "molds: Ball, Ball 2") {
		t.Errorf("exit %d, %s", code, stderr)
	}
}
