package main

import (
	"bufio"
	"context"
	"fmt"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"halfpour/pourplan"
)

// The test binary plays the program itself when this is set: "program" is
// halfpour, "appender" logs castings until it is killed and says each that is
// done.
const playVariable = "HALFPOUR_TEST_PLAYS"

func TestMain(m *testing.M) {
	switch os.Getenv(playVariable) {
	case "program":
		main()
	case "appender":
		playAppender(os.Args[1], os.Args[2])
	case "shelf appender":
		playShelfAppender(os.Args[1], os.Args[2])
	default:
		os.Exit(m.Run())
	}
}

func playAppender(path, name string) {
	for i := range 30 { // which take longer than it lives, as a rule
		note := fmt.Sprintf("%s, %d", name, i)
		_, err := appendCasting(context.Background(), path, pourplan.Casting{Date: "2026-01-31", Mold: 1, Shots: 1, Good: 5, Note: note})
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Println(note)
	}
	time.Sleep(time.Minute)
}

// played is a command of the test binary that plays something.
func played(what string, args ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), playVariable+"="+what)
	return cmd
}

// notesOf reads an account, that every note stands in it once, and that no
// line is faulty but those cut off.
func notesOf(t *testing.T, path string) map[string]int {
	t.Helper()
	a, err := readAccountFile(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range a.Faults {
		t.Errorf("%v", f)
	}
	notes := map[string]int{}
	for _, c := range a.Castings {
		if notes[c.Note]++; notes[c.Note] > 1 {
			t.Errorf("%q stands there twice", c.Note)
		}
	}
	return notes
}

// Many programs that log at once lose nothing and merge nothing.
func TestManyLogAtOnce(t *testing.T) {
	const programs = 16
	job := writeJob(t)
	planBeside(t, job, "")
	var running []*exec.Cmd
	for i := range programs {
		cmd := played("program", "log", job, "--shots", "1", "--good", "1", "--quiet", "--note", fmt.Sprintf("program %d", i))
		cmd.Stderr = os.Stderr
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	for i, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Errorf("program %d: %v", i, err)
		}
	}
	notes := notesOf(t, strings.TrimSuffix(job, ".toml")+"-castings.csv")
	for i := range programs {
		if notes[fmt.Sprintf("program %d", i)] != 1 {
			t.Errorf("program %d is not in the account", i)
		}
	}
	if len(notes) != programs {
		t.Errorf("%d notes, want %d", len(notes), programs)
	}
}

// Programs killed while they log, two at a time: all that they said is done
// stays, each on a line of its own, and the next ones go on.
func TestKilledWhileLogging(t *testing.T) {
	const seed = 3
	rounds := 15
	if testing.Short() {
		rounds = 4
	}
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewSource(seed))
	path := filepath.Join(t.TempDir(), "job-castings.csv")
	done := map[string]bool{}
	for round := range rounds {
		for _, note := range killedAppenders(t, "appender", path, round, time.Duration(rnd.Intn(15_000))*time.Microsecond) {
			done[note] = true
		}
		notes := notesOf(t, path)
		for note := range done {
			if notes[note] != 1 {
				t.Fatalf("round %d: %q was logged and is lost", round, note)
			}
		}
	}
	t.Logf("%d castings logged and told, in %d rounds", len(done), rounds)
	if len(done) < rounds {
		t.Errorf("only %d castings logged", len(done))
	}
}

// killedAppenders runs two appenders, kills them some time after the first
// word of each, and returns what they said they had logged.
func killedAppenders(t *testing.T, what, path string, round int, after time.Duration) (told []string) {
	t.Helper()
	type appender struct {
		cmd *exec.Cmd
		out *bufio.Scanner
	}
	var list []appender
	for i := range 2 {
		cmd := played(what, path, fmt.Sprintf("round %d, program %d", round, i))
		pipe, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		cmd.Stderr = os.Stderr
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		list = append(list, appender{cmd, bufio.NewScanner(pipe)})
	}
	for _, a := range list {
		if a.out.Scan() {
			told = append(told, a.out.Text())
		}
	}
	time.Sleep(after)
	for _, a := range list {
		if err := a.cmd.Process.Kill(); err != nil {
			t.Error(err)
		}
	}
	for _, a := range list {
		for a.out.Scan() {
			told = append(told, a.out.Text())
		}
		_ = a.cmd.Wait() // killed
	}
	return told
}
