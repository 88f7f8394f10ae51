package fileset

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// The test binary plays a program that writes when this is set: "writer" writes
// sets of files until it is killed, "stopper" one that is killed at a renaming.
const playVariable = "HALFPOUR_TEST_PLAYS"

func TestMain(m *testing.M) {
	switch os.Getenv(playVariable) {
	case "writer":
		playWriter(os.Args[1], os.Args[2])
	case "stopper":
		playStopper(os.Args[1], os.Args[2], os.Args[3], os.Args[4:])
	default:
		os.Exit(m.Run())
	}
}

// played is a command of the test binary that plays something.
func played(what string, args ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), playVariable+"="+what)
	return cmd
}

// setNames are the files of the sets that writers write, as a build's; those of
// another size are in a folder.
var setNames = []string{
	"left.stl", "right.stl", "frames.3mf", "pour-sheet.pdf", "desk-sheet.pdf", planFile,
	"left.png", "right.png", "left-rubber.png", "right-rubber.png", "closed-mold.png", "mold.html",
	"small/left.stl", "small/" + planFile,
}

const planFile = "plan.json"

// setLines is how often a file of such a set has its line.
const setLines = 1000

// playWriter writes set upon set into a folder until it is killed, each file
// full of the set's own line, and says each that is done.
func playWriter(dir, name string) {
	for i := range 1000 {
		line := fmt.Sprintf("%s %d\n", name, i)
		if err := writeSetBy(dir, line, func(s *Set) { s.move = slowRename }, setNames...); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Print(line)
	}
}

// slowRename leaves time to be killed in between.
func slowRename(from, to string) error {
	time.Sleep(200 * time.Microsecond)
	return os.Rename(from, to)
}

func writeSet(dir, line string) error {
	return writeSetBy(dir, line, asItIs, setNames...)
}

func asItIs(*Set) {}

// writeSetBy writes a set on a disk that is made different.
func writeSetBy(dir, line string, change func(*Set), names ...string) error {
	set, err := New(context.Background(), dir)
	if err != nil {
		return err
	}
	defer set.Discard()
	change(set)
	for _, name := range names {
		err := set.Create(context.Background(), name, func(w io.Writer) error {
			_, err := io.WriteString(w, strings.Repeat(line, setLines))
			return err
		})
		if err != nil {
			return err
		}
	}
	return set.Commit()
}

// lineOf returns the line that a file is full of, and fails if it is torn.
func lineOf(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	line, _, _ := strings.Cut(string(data), "\n")
	if line += "\n"; string(data) != strings.Repeat(line, setLines) {
		t.Errorf("%s is torn: %d bytes that begin with %q", path, len(data), line)
	}
	return line
}

// setIn returns the line of a whole set, "" of a mixture.
func setIn(t *testing.T, dir string) string {
	t.Helper()
	line := lineOf(t, filepath.Join(dir, setNames[0]))
	for _, name := range setNames[1:] {
		if lineOf(t, filepath.Join(dir, name)) != line {
			return ""
		}
	}
	return line
}

// hidden returns what in a folder is none of the sets' files, the journal too.
func hidden(t *testing.T, dir string) (list []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err == nil && path != dir && (strings.HasPrefix(e.Name(), ".") || e.Name() == JournalName) {
			list = append(list, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

var killTimes = flag.Int("kills", 40, "how many programs that write are killed")

// A program killed at any moment, above all while it renames, tears no file and takes none away, and no
// command sees files of two sets; what it leaves behind the next one clears.
func TestKilledWriters(t *testing.T) {
	const seed = 3
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	if err := writeSet(dir, "before\n"); err != nil {
		t.Fatal(err)
	}
	mixed, left, sets := 0, 0, 0
	for i := range *killTimes {
		after := time.Duration(rnd.Int64N(int64(50 * time.Millisecond)))
		if i%4 > 0 {
			after = time.Duration(rnd.Int64N(int64(6 * time.Millisecond)))
		}
		sets += killWriter(t, dir, fmt.Sprint("writer ", i), i%4 > 0, after)
		if setIn(t, dir) == "" {
			mixed++
		}
		if len(hidden(t, dir)) > 0 {
			left++
		}
		if i%2 == 0 { // half of them are found by another program that writes
			continue
		}
		read := filepath.Join(dir, planFile)
		if i%4 == 1 {
			read = filepath.Join(dir, "small", planFile)
		}
		line, err := Read(context.Background(), read, 1<<20, nobody)
		if whole := setIn(t, dir); err != nil || whole == "" || !strings.HasPrefix(string(line), whole) {
			t.Fatalf("kill %d: a command sees files of two sets, or none: %v", i, err)
		}
	}
	t.Logf("%d kills in %d sets: none torn or lost; %d while renaming, all finished; %d left temporary files", *killTimes, sets, mixed, left)
	if err := writeSet(dir, "after\n"); err != nil {
		t.Fatal(err)
	}
	if rest := hidden(t, dir); len(rest) > 0 || setIn(t, dir) != "after\n" {
		t.Errorf("left behind: %v", rest)
	}
}

// killWriter starts a writer, kills it so long after its first set, or after
// the journal of a later one is seen, and returns how many more it has written.
func killWriter(t *testing.T, dir, name string, renaming bool, after time.Duration) (sets int) {
	t.Helper()
	cmd := played("writer", dir, name)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	if !lines.Scan() {
		t.Fatal("the writer wrote nothing")
	}
	for start := time.Now(); renaming && time.Since(start) < 5*time.Second; {
		if _, err := os.Lstat(filepath.Join(dir, JournalName)); err == nil {
			break
		}
	}
	for start := time.Now(); time.Since(start) < after; { // Sleep may take longer
	}
	_ = cmd.Process.Kill()
	for lines.Scan() {
		sets++
	}
	_ = cmd.Wait()
	return sets
}

// syncedBuffer may be written from several goroutines.
type syncedBuffer struct {
	mu sync.Mutex
	strings.Builder
}

func (b *syncedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.Builder.Write(p)
}

// Programs that write into one folder at once take turns: what stands there in
// the end is one program's set.
func TestWritersTakeTurns(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "not", "there", "yet")
	var running []*exec.Cmd
	var said syncedBuffer // of errors
	for i := range 4 {
		cmd := played("writer", dir, fmt.Sprint("writer ", i))
		cmd.Stderr = &said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	time.Sleep(400 * time.Millisecond)
	for _, cmd := range running {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}
	if s := said.String(); s != "" {
		t.Errorf("a writer said %s", s)
	}
	for i := range 3 { // and in turns within a program
		if err := writeSet(dir, fmt.Sprintf("last %d\n", i)); err != nil {
			t.Fatal(err)
		}
	}
	if line := setIn(t, dir); line != "last 2\n" {
		t.Errorf("the set is of %q", line)
	}
	if rest := hidden(t, dir); len(rest) > 0 {
		t.Errorf("left behind: %v", rest)
	}
}

// While one program writes a set the next waits, and gives way to Ctrl-C.
func TestWriterWaits(t *testing.T) {
	dir := t.TempDir()
	first, err := New(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if first.folders["."].lock == nil {
		t.Skip("there are no locks here")
	}
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	if _, err := New(ctx, dir); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("got %v", err)
	}
	done := make(chan error)
	go func() { done <- writeSet(dir, "second\n") }()
	select {
	case err := <-done:
		t.Errorf("did not wait: %v", err)
	case <-time.After(50 * time.Millisecond):
	}
	first.Discard()
	if err := <-done; err != nil {
		t.Error(err)
	}
}
