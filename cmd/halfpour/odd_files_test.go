//go:build unix

package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
)

// Whatever stands in a file's place, a command says so and ends: a pipe that
// nobody writes to, a device without an end.
func TestFilesThatAreNone(t *testing.T) {
	job := writeJob(t)
	planBeside(t, job, "")
	dir := filepath.Dir(job)
	account := strings.TrimSuffix(job, ".toml") + "-castings.csv"
	out := strings.TrimSuffix(job, ".toml") + "-out"
	pipe := func(path string) error { return syscall.Mkfifo(path, 0o644) }
	zero := func(path string) error { return os.Symlink("/dev/zero", path) }
	huge := func(path string) error { return errors.Join(os.WriteFile(path, nil, 0o644), os.Truncate(path, 1<<40)) }
	for _, c := range []struct {
		place string
		args  []string
		want  string
	}{
		{filepath.Join(dir, "odd.toml"), []string{"check", filepath.Join(dir, "odd.toml")}, "odd.toml: "},
		{account, []string{"log", job, "--shots", "1", "--good", "1"}, account + ": "},
		{account, []string{"build", job, "--weighed"}, account + ": "},
		{filepath.Join(out, planFile), []string{"compare", out, out}, planFile + ": "},
		{filepath.Join(out, fileset.JournalName), []string{"compare", out, out}, fileset.JournalName + ": "},
		{filepath.Join(dir, starterHead), []string{"check", job}, starterHead + ": "},
	} {
		for kind, make := range map[string]func(string) error{"is no regular file": pipe, "is no regular file ": zero, "is too large: more than": huge} {
			was, err := os.ReadFile(c.place)
			if err == nil {
				err = os.Remove(c.place)
			}
			if err != nil && !errors.Is(err, os.ErrNotExist) {
				t.Fatal(err)
			}
			if err := make(c.place); err != nil {
				t.Fatal(err)
			}
			ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
			code, _, stderr := halfpour(ctx, c.args...)
			cancel()
			if want := c.want + strings.TrimSpace(kind); code == 0 || code == int(exitInterrupted) || !strings.Contains(stderr, want) {
				t.Errorf("%v: exit %d, %q, want %q", c.args, code, stderr, want)
			}
			if err := os.Remove(c.place); err != nil {
				t.Fatal(err)
			}
			if was != nil {
				if err := os.WriteFile(c.place, was, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// A job from standard input may be waited for, until Ctrl-C.
func TestJobThatNeverComes(t *testing.T) {
	silent, other := io.Pipe()
	defer other.Close()
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(20*time.Millisecond, cancel)
	done := make(chan int)
	go func() { done <- run(ctx, []string{"halfpour", "check", "-"}, silent, io.Discard, io.Discard) }()
	select {
	case code := <-done:
		if code != int(exitInterrupted) {
			t.Errorf("exit %d", code)
		}
	case <-time.After(30 * time.Second):
		t.Error("it goes on waiting")
	}
}

// A line that a disk without locks takes in part only stays: what is behind it
// may be another program's.
func TestLogWithoutLocks(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job-castings.csv")
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	casting := pourplan.Casting{Date: "2026-01-31", Mold: 1, Shots: 1, Good: 5}
	more := func(data []byte) ([]byte, error) { return pourplan.Append(data, casting) }
	if err := growOpen(context.Background(), f, path, more, false); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	read, err := os.Open(path) // which takes no writing
	if err != nil {
		t.Fatal(err)
	}
	defer read.Close()
	if err := growOpen(context.Background(), read, path, more, false); err == nil {
		t.Error("written to what is open for reading")
	}
	if now, _ := os.ReadFile(path); string(now) != string(whole) {
		t.Errorf("%q became %q", whole, now)
	}
}

// What closes its terminal ends a program as Ctrl-C does, unless it was started
// to outlive that.
func TestHangUp(t *testing.T) {
	if signal.Ignored(syscall.SIGHUP) {
		t.Skip("these tests were started to outlive their terminal")
	}
	for _, ignored := range []bool{false, true} {
		cmd := played("program", "check", "-")
		if ignored {
			cmd = exec.Command("nohup", append([]string{os.Args[0]}, "check", "-")...)
			cmd.Env = append(os.Environ(), playVariable+"=program")
		}
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Skip("no nohup here:", err)
		}
		defer time.AfterFunc(20*time.Second, func() { _ = cmd.Process.Kill() }).Stop()
		time.Sleep(300 * time.Millisecond)
		if err := cmd.Process.Signal(syscall.SIGHUP); err != nil {
			t.Fatal(err)
		}
		if ignored {
			time.Sleep(100 * time.Millisecond)
			_ = in.Close() // an empty job, which is at fault
		}
		_ = cmd.Wait()
		_ = in.Close()
		want := int(exitInterrupted)
		if ignored {
			want = int(exitJob)
		}
		if got := cmd.ProcessState.ExitCode(); got != want {
			t.Errorf("ignored %v: exit %d, want %d", ignored, got, want)
		}
	}
}
