package main

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"time"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/cmd/halfpour/system"
)

// mineFolder is the folder in a person's documents that a double click on the
// program opens.
const mineFolder = "halfpour"

// deskNote is what a desk of that folder leaves for a second start to find. Who
// can read it can use the desk.
type deskNote struct {
	Address string `json:"address"`
	Folder  string `json:"folder"`
}

// runMine opens the desk that is running already, or serves one until ctx ends.
// notes is the folder of the note.
func runMine(ctx context.Context, t *terminal, folder deskFolder, notes string, browse func(string)) error {
	if err := os.MkdirAll(notes, 0o700); err != nil {
		return err
	}
	path := filepath.Join(notes, "desk.json")
	lock, _, err := fileset.OpenLocked(ctx, filepath.Join(notes, "desk.lock"), os.O_RDWR|os.O_CREATE)
	if err != nil {
		return err
	}
	release := func() { _ = lock.Close() }
	defer release()
	if address := runningDesk(ctx, path, folder.dir); address != "" {
		t.say("The desk is open already: %s", address)
		browse(address)
		return nil
	}
	start := deskStart{browse: browse, endWhenLeft: t.outWidth == 0}
	start.listening = func(address string) error {
		defer release()
		t.say("Your jobs are in %s. Leave this window open while you work; close it to stop.", folder.dir)
		return writeNote(path, deskNote{address, folder.dir})
	}
	start.ended = func(address string) {
		if note := readNote(context.WithoutCancel(ctx), path); note.Address == address {
			_ = os.Remove(path)
		}
	}
	_, job, err := deskOf(folder.dir)
	if err != nil {
		return err
	}
	return runDesk(ctx, t, folder, job, start)
}

// mine is the folder that a double click opens, and that of the note.
func mine() (folder deskFolder, notes string, err error) {
	documents, err := system.Documents()
	if err != nil {
		return deskFolder{}, "", err
	}
	cache, err := os.UserCacheDir()
	return deskFolder{filepath.Join(documents, mineFolder)}, filepath.Join(cache, "halfpour"), err
}

// writeNote writes the note for this user alone, whole or not at all.
func writeNote(path string, note deskNote) error {
	data, err := json.Marshal(note)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), "desk-*.tmp") // mode 0600
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}

func readNote(ctx context.Context, path string) (note deskNote) {
	data, err := fileset.ReadFile(ctx, path, 1<<12)
	if err != nil || json.Unmarshal(data, &note) != nil {
		return deskNote{}
	}
	return note
}

// deskAddress is one that a desk of this computer can have. No other is opened,
// whatever a note says.
var deskAddress = regexp.MustCompile(`^http://127\.0\.0\.1:\d{1,5}/[0-9a-f]{32}/$`)

// runningDesk is the address of the desk of a folder that a note names, if it
// answers; "" if not. A note of one that was killed is of no use.
func runningDesk(ctx context.Context, path, folder string) string {
	note := readNote(ctx, path)
	if note.Folder != folder || !deskAddress.MatchString(note.Address) {
		return ""
	}
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, note.Address+"jobs", nil)
	if err != nil {
		return ""
	}
	client := http.Client{Timeout: 3 * time.Second, Transport: &http.Transport{DisableKeepAlives: true}} // by no proxy
	answer, err := client.Do(r)
	if err != nil {
		return ""
	}
	defer answer.Body.Close()
	var list deskList
	if err := json.NewDecoder(io.LimitReader(answer.Body, 1<<20)).Decode(&list); err != nil || answer.StatusCode != http.StatusOK || list.Folder != folder {
		return ""
	}
	return note.Address
}

// leftFor is how many minutes a desk without a window goes on with no page open.
const leftFor = 10

// endWhenLeft waits until nobody has used the desk for so many ticks in a row.
func endWhenLeft(ctx context.Context, ticks <-chan time.Time, used func() bool) {
	for left := 0; left < leftFor; left++ {
		select {
		case <-ctx.Done():
			return
		case <-ticks:
		}
		if used() {
			left = -1
		}
	}
}
