package main

import (
	"bufio"
	"context"
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

// setNames are the files of the sets that writers write.
var setNames = []string{"left.stl", "right.stl", "plan.json"}

// playWriter writes set upon set into a folder until it is killed, each file
// full of the set's own line, and says each that is done.
func playWriter(dir, name string) {
	for i := range 1000 {
		line := fmt.Sprintf("%s %d\n", name, i)
		if err := writeSet(dir, line); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Print(line)
	}
}

func writeSet(dir, line string) error {
	set, err := newFileSet(context.Background(), dir)
	if err != nil {
		return err
	}
	defer set.discard()
	for _, name := range setNames {
		err := set.create(context.Background(), name, func(w io.Writer) error {
			_, err := io.WriteString(w, strings.Repeat(line, 5000))
			return err
		})
		if err != nil {
			return err
		}
	}
	return set.commit()
}

// lineOf returns the line that a file is full of, and fails if it is torn.
func lineOf(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	line, _, _ := strings.Cut(string(data), "\n")
	if line += "\n"; string(data) != strings.Repeat(line, 5000) {
		t.Errorf("%s is torn: %d bytes that begin with %q", path, len(data), line)
	}
	return line
}

// hidden returns what in a folder is none of the sets' files.
func hidden(t *testing.T, dir string) (list []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			list = append(list, e.Name())
		}
	}
	return list
}

// A program killed at any moment tears no file and takes none away; what it
// leaves behind the next one clears.
func TestKilledWriters(t *testing.T) {
	const seed, kills = 3, 40
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	if err := writeSet(dir, "before\n"); err != nil {
		t.Fatal(err)
	}
	mixed, left, sets := 0, 0, 0
	for i := range kills {
		cmd := played("writer", dir, fmt.Sprint("writer ", i))
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
		time.Sleep(time.Duration(rnd.Int64N(int64(15 * time.Millisecond))))
		_ = cmd.Process.Kill()
		for lines.Scan() {
			sets++
		}
		_ = cmd.Wait()
		first := lineOf(t, filepath.Join(dir, setNames[0]))
		same := true
		for _, name := range setNames[1:] {
			same = lineOf(t, filepath.Join(dir, name)) == first && same
		}
		if !same {
			mixed++
		}
		if len(hidden(t, dir)) > 0 {
			left++
		}
	}
	t.Logf("%d kills in %d sets: none torn or lost; %d in the moment of renaming, %d left temporary files", kills, sets, mixed, left)
	if err := writeSet(dir, "after\n"); err != nil {
		t.Fatal(err)
	}
	if rest := hidden(t, dir); len(rest) > 0 {
		t.Errorf("left behind: %v", rest)
	}
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
	for _, name := range setNames {
		if line := lineOf(t, filepath.Join(dir, name)); line != "last 2\n" {
			t.Errorf("%s is of %q", name, line)
		}
	}
	if rest := hidden(t, dir); len(rest) > 0 {
		t.Errorf("left behind: %v", rest)
	}
}

// While one program writes a set the next waits, and gives way to Ctrl-C.
func TestWriterWaits(t *testing.T) {
	dir := t.TempDir()
	first, err := newFileSet(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if first.lock == nil {
		t.Skip("there are no locks here")
	}
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	if _, err := newFileSet(ctx, dir); faultOf(err).code != exitInterrupted {
		t.Errorf("got %v", err)
	}
	done := make(chan error)
	go func() { done <- writeSet(dir, "second\n") }()
	select {
	case err := <-done:
		t.Errorf("did not wait: %v", err)
	case <-time.After(50 * time.Millisecond):
	}
	first.discard()
	if err := <-done; err != nil {
		t.Error(err)
	}
}
