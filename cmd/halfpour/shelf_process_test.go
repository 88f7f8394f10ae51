package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"halfpour/pourplan"
)

func playShelfAppender(shelf, name string) {
	t := newTerminal(nil, io.Discard, io.Discard, io.Discard)
	for i := range 30 {
		w := &shelfWork{path: shelf}
		note := fmt.Sprintf("%s, %d", name, i)
		if err := w.add(context.Background(), t, pourplan.ShelfLine{Date: "2026-01-31", Event: pourplan.CanUsed, Can: "can 1", AG: 1, BG: 0.03, Note: note}); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Println(note)
	}
	time.Sleep(time.Minute)
}

// Programs that take from a can are killed at any point, two at a time, and 16 more write
// at once behind them; in between a spreadsheet saves the account its own way. All that
// was said to be recorded is taken off the can, once.
func TestShelfKilledAndCrowded(t *testing.T) {
	const seed, programs = 5, 16
	rounds := 8
	if testing.Short() {
		rounds = 3
	}
	rnd := rand.New(rand.NewSource(seed))
	dir := t.TempDir()
	path := filepath.Join(dir, "shelf.toml")
	account := shelfAccountPath(path)
	if code, _, stderr := halfpour(context.Background(), "shelf", dir, "--open", "can 1", "--rubber", "tin-cure 100:3", "--a", "1kg", "--b", "30g"); code != 0 {
		t.Fatal(stderr)
	}
	done := map[string]bool{}
	hold := func(when string) {
		t.Helper()
		a, err := readShelfAccount(context.Background(), path)
		if err != nil || len(a.Faults) > 0 {
			t.Fatalf("%s: %v, %v", when, err, a)
		}
		seen := map[string]int{}
		for _, s := range a.Lines[1:] {
			seen[s.Note]++
		}
		for note := range done {
			if seen[note] != 1 {
				t.Fatalf("%s: %q was recorded, and stands there %d times", when, note, seen[note])
			}
		}
		if can := a.Cans()[0]; can.AG != float64(1000-len(seen)) {
			t.Fatalf("%s: %g g left after %d lines of 1 g", when, can.AG, len(seen))
		}
	}
	for round := range rounds {
		for _, note := range killedAppenders(t, "shelf appender", path, round, time.Duration(rnd.Intn(10_000))*time.Microsecond) {
			done[note] = true
		}
		hold(fmt.Sprint("round ", round))
		if round == 1 { // LibreOffice's way in a country with decimal commas
			data, err := os.ReadFile(account)
			if err != nil {
				t.Fatal(err)
			}
			text := strings.NewReplacer(",0.03,", ";0,03;", ", ", ", ", ",", ";", "\r\n", "\n").Replace(string(data))
			if err := os.WriteFile(account, append([]byte("\ufeff"), text...), 0o644); err != nil {
				t.Fatal(err)
			}
			hold("after a spreadsheet")
		}
	}
	var running []*exec.Cmd
	for i := range programs {
		cmd := played("program", "shelf", dir, "--use", "can 1", "--a", "1g", "--b", "0.03g", "--quiet", "--note", fmt.Sprintf("program %d", i))
		cmd.Stderr = os.Stderr
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
		done[fmt.Sprintf("program %d", i)] = true
	}
	for i, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Errorf("program %d: %v", i, err)
		}
	}
	hold("after 16 at once")
	data, err := os.ReadFile(account)
	if err != nil || bytes.Count(data, []byte("\ufeff")) != 1 || len(done) < 2*rounds+programs {
		t.Errorf("%v, %d recorded", err, len(done))
	}
}
