package fileset

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// stopping renames, and kills the program when it has done so kill times. The
// renaming after fail others is refused, as where a file is open elsewhere.
func stopping(fail, kill int) func(from, to string) error {
	done := 0
	stop := func() {
		if done != kill {
			return
		}
		if self, err := os.FindProcess(os.Getpid()); err == nil {
			_ = self.Kill()
		}
		time.Sleep(time.Minute) // it takes effect at some time
	}
	return func(from, to string) error {
		stop() // before the first
		if done++; done == fail+1 {
			return &os.LinkError{Op: "rename", Old: from, New: to, Err: errors.New("file is in use")}
		}
		err := os.Rename(from, to)
		stop()
		return err
	}
}

const never = 1 << 30

func playStopper(dir, fail, kill string, names []string) {
	f, _ := strconv.Atoi(fail)
	k, _ := strconv.Atoi(kill)
	if len(names) == 0 {
		names = setNames
	}
	if err := writeSetBy(dir, "new\n", func(s *Set) { s.move = stopping(f, k) }, names...); err != nil {
		_, _ = io.WriteString(os.Stderr, err.Error())
	}
}

// interrupted is a folder with one set over which another was killed.
func interrupted(t *testing.T, fail, kill int) string {
	t.Helper()
	dir := t.TempDir()
	if err := writeSet(dir, "old\n"); err != nil {
		t.Fatal(err)
	}
	out, _ := played("stopper", dir, strconv.Itoa(fail), strconv.Itoa(kill)).CombinedOutput()
	if len(out) > 0 {
		t.Fatalf("it was not killed: %s", out)
	}
	return dir
}

func readPlanFile(dir string) (string, string, error) {
	said := ""
	data, err := Read(context.Background(), filepath.Join(dir, planFile), 1<<20, func(dir string, _ []string) { said = dir })
	line, _, _ := strings.Cut(string(data), "\n")
	return line + "\n", said, err
}

// Killed between any two renamings, a set is whole to whoever comes next: who
// reads, who writes, who begins to write and is stopped, and who may not write.
func TestKilledAtEachRenaming(t *testing.T) {
	type stop struct {
		fail, kill int
		want       string
	}
	stops := []stop{{never, 0, "old\n"}}
	for n := range len(setNames) + 1 { // of the journal and each file
		stops = append(stops, stop{never, n + 1, "new\n"})
	}
	for _, more := range []int{1, 3, 5} { // while it puts back what was renamed before a failure
		stops = append(stops, stop{6, 7 + more, "new\n"})
	}
	for _, s := range stops {
		t.Run(strconv.Itoa(s.kill), func(t *testing.T) {
			dir := interrupted(t, s.fail, s.kill)
			mixed := setIn(t, dir) == ""
			line, said, err := readPlanFile(dir)
			if err != nil || line != s.want || setIn(t, dir) != s.want {
				t.Errorf("a reader has %q, %v; the folder %q", line, err, setIn(t, dir))
			}
			if told := said == dir; mixed && !told || told && s.want == "old\n" {
				t.Errorf("mixed %v, but said %q", mixed, said)
			}
			if err := writeSet(dir, "later\n"); err != nil || setIn(t, dir) != "later\n" || len(hidden(t, dir)) > 0 {
				t.Errorf("a writer after it: %v, %v", err, hidden(t, dir))
			}

			dir = interrupted(t, s.fail, s.kill)
			set, err := New(context.Background(), dir)
			if err != nil {
				t.Fatal(err)
			}
			set.Discard()
			if setIn(t, dir) != s.want || len(hidden(t, dir)) > 0 {
				t.Errorf("a writer that was stopped leaves %q, %v", setIn(t, dir), hidden(t, dir))
			}

			// No lock can be made where a folder has its name.
			dir = interrupted(t, s.fail, s.kill)
			lock := filepath.Join(dir, folderLock)
			if err := errors.Join(os.Remove(lock), os.Mkdir(lock, 0o755)); err != nil {
				t.Fatal(err)
			}
			before := tree(t, dir)
			for _, in := range []string{dir, filepath.Join(dir, "small")} {
				if line, _, err := readPlanFile(in); err != nil || line != s.want {
					t.Errorf("without a right to write, in %s: %q, %v", in, line, err)
				}
			}
			sameTree(t, dir, before)
		})
	}
}

// A renaming that fails leaves all as it was; if that cannot be had, the set is
// finished later.
func TestFailedRenaming(t *testing.T) {
	const inUse, two = "cannot be written: file is in use", "holds files of two runs: one was stopped while it put files in place, and cannot be put in place now"
	for _, c := range []struct {
		name         string
		fail         int
		always       bool // the next renamings fail too
		noLinks      bool
		before       string // in the folder; "" for nothing
		after, later string // in the folder, "" for files of two sets; and when a command has looked
		says         string
	}{
		{"of the journal", 0, false, false, "old\n", "old\n", "old\n", inUse},
		{"of the first file", 1, false, false, "old\n", "old\n", "old\n", inUse},
		{"of the last file", len(setNames), false, false, "old\n", "old\n", "old\n", inUse},
		{"in a new folder", 5, false, false, "", "", "", inUse},
		{"and of what is put back", 4, true, false, "old\n", "", "new\n", two},
		{"of the first file, on a disk without links", 1, false, true, "old\n", "old\n", "old\n", inUse},
		{"of another file, on a disk without links", 4, false, true, "old\n", "", "new\n", two},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			if c.before != "" {
				if err := writeSet(dir, c.before); err != nil {
					t.Fatal(err)
				}
			}
			once, done := stopping(c.fail, never), 0
			err := writeSetBy(dir, "new\n", func(s *Set) {
				s.move = func(from, to string) error {
					if done++; c.always && done > c.fail {
						return &os.LinkError{Op: "rename", Old: from, New: to, Err: errors.New("file is in use")}
					}
					return once(from, to)
				}
				if c.noLinks {
					s.link = func(old, new string) error {
						return &os.LinkError{Op: "link", Old: old, New: new, Err: errors.ErrUnsupported}
					}
				}
			}, setNames...)
			if err == nil || !strings.HasSuffix(err.Error(), c.says) {
				t.Errorf("got %v, want ... %s", err, c.says)
			}
			if c.before == "" {
				if _, err := os.Lstat(dir); !errors.Is(err, os.ErrNotExist) {
					t.Errorf("the new folder stays: %v, %v", err, hidden(t, dir))
				}
				return
			}
			if got := setIn(t, dir); got != c.after {
				t.Errorf("the folder holds %q, want %q", got, c.after)
			}
			if rest := hidden(t, dir); c.after != "" && len(rest) > 0 {
				t.Errorf("left behind: %v", rest)
			}
			if line, _, err := readPlanFile(dir); err != nil || line != c.later || setIn(t, dir) != c.later {
				t.Errorf("later: %q, %v, folder %q", line, err, setIn(t, dir))
			}
		})
	}
}

// What a journal tells must be there to the last byte, and within its folder.
// Else every command says so, and a set of the same files mends it.
func TestBrokenJournal(t *testing.T) {
	const half = 6 // renamed, the journal too
	edit := func(old, with string) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) {
			path := filepath.Join(dir, JournalName)
			data, err := os.ReadFile(path)
			if err != nil || !strings.Contains(string(data), old) {
				t.Fatalf("%v, no %s in %s", err, old, data)
			}
			if err := os.WriteFile(path, []byte(strings.Replace(string(data), old, with, 1)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	waiting := func(do func(path string) error) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) {
			list, err := filepath.Glob(filepath.Join(dir, ".*.tmp"))
			if err != nil || len(list) != len(setNames)-2+1-half { // two are in a folder
				t.Fatalf("%v, %v", list, err)
			}
			if err := do(list[len(list)-1]); err != nil {
				t.Fatal(err)
			}
		}
	}
	placed := func(do func(path string) error) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) {
			if err := do(filepath.Join(dir, "closed-mold.png")); err != nil {
				t.Fatal(err)
			}
		}
	}
	const changed = " of it is missing or changed"
	for _, c := range []struct {
		name  string
		spoil func(t *testing.T, dir string)
		says  string
		gone  bool // the journal cannot be read, so only a person can end it
	}{
		{"a waiting file is cut", waiting(func(p string) error { return os.Truncate(p, 100) }), "right.stl" + changed, false},
		{"a waiting file has other bytes", waiting(flipByte), "right.stl" + changed, false},
		{"a waiting file is missing", waiting(os.Remove), "right.stl" + changed, false},
		{"a waiting file is a link", waiting(func(p string) error {
			return errors.Join(os.Rename(p, p+"x"), os.Symlink(p+"x", p))
		}), "right.stl" + changed, false},
		{"a waiting file is a folder", waiting(func(p string) error { return errors.Join(os.Remove(p), os.Mkdir(p, 0o755)) }), "right.stl" + changed, false},
		{"a placed file has other bytes", placed(flipByte), "closed-mold.png" + changed, false},
		{"a placed file is missing", placed(os.Remove), "closed-mold.png" + changed, false},
		{"out of the folder", edit(`"name": "right.stl"`, `"name": "../right.stl"`), `must name each file once and in its own folder or one in that, got "../right.stl"`, true},
		{"out of the folder, elsewhere", edit(`"name": "right.stl"`, `"name": "C:\\right.stl"`), `must name each file once and in its own folder or one in that, got "C:\\right.stl"`, true},
		{"a name twice", edit(`"name": "right.stl"`, `"name": "LEFT.stl"`), `must name each file once and in its own folder or one in that, got "LEFT.stl"`, true},
		{"its own name", edit(`"name": "right.stl"`, `"name": "`+JournalName+`"`), `got "` + JournalName + `"`, true},
		{"another temporary name", edit(`"temp": ".right.stl.`, `"temp": ".../left.stl.`), `must name the temporary file of right.stl, got ".../left.stl.`, true},
		{"another size", edit(`"bytes": 4000`, `"bytes": 4001`), "closed-mold.png" + changed, false},
		{"another schema", edit(`"schema": 1`, `"schema": 2`), fmt.Sprintf("must have schema 1 and files, got 2 and %d files", len(setNames)), true},
		{"no JSON", edit(`{`, ``), "must be JSON: ", true},
		{"more than JSON", edit("]\n}", "]\n}{}"), "must be one JSON object, got more", true},
		{"no digest", edit(`"sha256": "`, `"sha256": "x`), "must have size and SHA-256 of closed-mold.png", true},
		{"too long", edit(`{`, strings.Repeat(" ", maxJournalBytes)+`{`), "is too large: more than 1048576 bytes", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := interrupted(t, never, half)
			c.spoil(t, dir)
			before := tree(t, dir)
			refused := func(who string, err error) {
				t.Helper()
				if err == nil || !strings.Contains(err.Error(), c.says) || ruleOf(err) != UnfinishedRule {
					t.Errorf("%s: got %v, want ... %s", who, err, c.says)
				}
			}
			_, _, err := readPlanFile(dir)
			refused("a reader", err)
			refused("a writer of other files", writeSetBy(dir, "new\n", asItIs, "left.stl", "account.pdf"))
			delete(before, folderLock) // which was the killed program's
			sameTree(t, dir, before)
			if err := writeSet(dir, "later\n"); c.gone {
				refused("a writer", err)
				err = errors.Join(os.Remove(filepath.Join(dir, JournalName)), writeSet(dir, "later\n"))
				if err != nil {
					t.Error(err)
				}
			} else if err != nil {
				t.Error(err)
			}
			if line, _, err := readPlanFile(dir); err != nil || line != "later\n" || setIn(t, dir) != "later\n" {
				t.Errorf("in the end %q, %v, folder %q", line, err, setIn(t, dir))
			}
		})
	}
}

func ruleOf(err error) string {
	var f *Fault
	if !errors.As(err, &f) {
		return ""
	}
	return f.Rule
}

// flipByte changes one bit in the middle of a file.
func flipByte(path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	data[len(data)/2] ^= 1
	return os.WriteFile(path, data, 0o644)
}

// A set that cannot be repaired is not forgotten when the one that would mend
// it fails on its way.
func TestBrokenJournalStaysKnown(t *testing.T) {
	dir := interrupted(t, never, 6)
	if err := os.Remove(filepath.Join(dir, "left.png")); err != nil {
		t.Fatal(err)
	}
	err := writeSetBy(dir, "later\n", func(s *Set) { s.move = stopping(8, never) }, setNames...)
	if err == nil || ruleOf(err) != UnfinishedRule {
		t.Errorf("got %v", err)
	}
	if line, _, err := readPlanFile(dir); err != nil || line != "later\n" || setIn(t, dir) != "later\n" {
		t.Errorf("in the end %q, %v, folder %q", line, err, setIn(t, dir))
	}
	if rest := hidden(t, dir); len(rest) > 0 {
		t.Errorf("left behind: %v", rest)
	}
}

// A journal that outlives its set, as after a power cut, is taken away.
func TestStaleJournal(t *testing.T) {
	dir := interrupted(t, never, len(setNames)+1)
	if _, err := os.Stat(filepath.Join(dir, JournalName)); err != nil {
		t.Fatal(err)
	}
	if line, said, err := readPlanFile(dir); err != nil || line != "new\n" || said != "" {
		t.Errorf("got %q, %v, said %q", line, err, said)
	}
	if rest := hidden(t, dir); len(rest) > 0 {
		t.Errorf("left behind: %v", rest)
	}
}

// What a killed program has left in one of its set's folders is finished by
// whoever looks into that folder, or writes there.
func TestFolderOfAKilledSet(t *testing.T) {
	for _, n := range []int{1, 7, len(setNames) - 1, len(setNames), len(setNames) + 1} {
		dir := interrupted(t, never, n)
		small := filepath.Join(dir, "small")
		if line, _, err := readPlanFile(small); err != nil || line != "new\n" || setIn(t, dir) != "new\n" {
			t.Errorf("killed at %d, a reader in the folder has %q, %v, and leaves %q", n, line, err, setIn(t, dir))
		}
		dir = interrupted(t, never, n)
		small = filepath.Join(dir, "small")
		if err := writeSetBy(small, "later\n", asItIs, "left.stl", planFile); err != nil {
			t.Error(err)
		}
		if got := lineOf(t, filepath.Join(dir, "left.stl")) + lineOf(t, filepath.Join(small, "left.stl")); got != "new\nlater\n" {
			t.Errorf("killed at %d, a writer in the folder leaves %q", n, got)
		}
	}
}

// A set of several folders replaces what another has left in one of them.
func TestSetOverAKilledOneInItsFolder(t *testing.T) {
	for _, spoilt := range []bool{false, true} {
		root := t.TempDir()
		small := filepath.Join(root, "small")
		if err := os.Mkdir(small, 0o755); err != nil {
			t.Fatal(err)
		}
		if out, _ := played("stopper", small, strconv.Itoa(never), "2", "left.stl", planFile).CombinedOutput(); len(out) > 0 {
			t.Fatalf("it was not killed: %s", out)
		}
		if spoilt {
			if err := os.Remove(filepath.Join(small, "left.stl")); err != nil {
				t.Fatal(err)
			}
		}
		if err := writeSet(root, "later\n"); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			if line, _, err := readPlanFile(small); err != nil || line != "later\n" || setIn(t, root) != "later\n" {
				t.Errorf("spoilt %v: %q, %v, %q", spoilt, line, err, setIn(t, root))
			}
		}
		if rest := hidden(t, root); len(rest) > 0 {
			t.Errorf("left behind: %v", rest)
		}
	}
}

// What only looks like a temporary file is another program's, and stays.
func TestOthersFilesStay(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{".settings.json.4711.tmp", ".left.stl.12.tmp.old", ".halfpour.1.tmp"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("mine"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := tree(t, dir)
	if out, _ := played("stopper", dir, strconv.Itoa(never), "0").CombinedOutput(); len(out) > 0 {
		t.Fatalf("it was not killed: %s", out)
	}
	// Its list may lead nowhere else.
	lock, err := os.OpenFile(filepath.Join(dir, folderLock), os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	outside := filepath.Join(filepath.Dir(dir), ".x.1.tmp")
	if err := os.WriteFile(outside, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := lock.WriteString("../.x.1.tmp\n" + outside + "\n.settings.json\n"); err != nil {
		t.Fatal(err)
	}
	lock.Close()
	if set, err := New(context.Background(), dir); err != nil {
		t.Error(err)
	} else {
		set.Discard()
	}
	if _, err := os.Stat(outside); err != nil {
		t.Error(err)
	}
	if err := os.RemoveAll(filepath.Join(dir, "small")); err != nil {
		t.Fatal(err)
	}
	sameTree(t, dir, before)
}
