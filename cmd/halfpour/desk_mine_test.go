package main

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// startMine starts the desk of a folder as a double click does, and returns what
// it shows in the browser, and how it ended.
func startMine(ctx context.Context, folder, notes string) (shown chan string, ended chan error) {
	shown, ended = make(chan string, 1), make(chan error, 1)
	var out bytes.Buffer
	go func() {
		ended <- runMine(ctx, &terminal{out: &out, err: &out, outWidth: 80}, deskFolder{folder}, notes, func(address string) { shown <- address })
	}()
	return shown, ended
}

func await[T any](t *testing.T, what string, c <-chan T) T {
	t.Helper()
	select {
	case v := <-c:
		return v
	case <-time.After(20 * time.Second):
		t.Fatalf("no %s", what)
		panic("unreachable")
	}
}

// A second start shows the first one's page; the note goes with the desk, and is
// for this user alone.
func TestSecondStartFindsTheFirst(t *testing.T) {
	notes, folder := filepath.Join(t.TempDir(), "notes"), filepath.Join(t.TempDir(), "größe 1")
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	shown, ended := startMine(ctx, folder, notes)
	first := await(t, "page", shown)
	for range 2 {
		again, done := startMine(ctx, folder, notes)
		if got := await(t, "page", again); got != first {
			t.Errorf("a second start shows %s, want %s", got, first)
		}
		if err := await(t, "end", done); err != nil {
			t.Error(err)
		}
	}
	info, err := os.Stat(filepath.Join(notes, "desk.json"))
	if err != nil || filepath.Separator == '/' && info.Mode().Perm() != 0o600 {
		t.Errorf("the note: %v, %v", info.Mode(), err)
	}
	if _, err := os.Stat(folder); err == nil {
		t.Error("a folder is made before there is a job")
	}
	cancel()
	if err := await(t, "end", ended); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(filepath.Join(notes, "desk.json")); err == nil {
		t.Error("the note is still there")
	}
}

// Notes of desks that were killed, or that somebody else has written, are of no use.
func TestNotesOfNoDesk(t *testing.T) {
	path, asked := filepath.Join(t.TempDir(), "desk.json"), 0
	folder := t.TempDir()
	token := strings.Repeat("0a", 16)
	other := serveJobs(t, token, folder, &asked)
	for _, c := range []struct {
		address, folder string
		want            bool
	}{
		{other + token + "/", folder, true},
		{other + token + "/", folder + "x", false},              // of another folder
		{other + strings.Repeat("0b", 16) + "/", folder, false}, // another program has the port now
		{"http://127.0.0.1:1/" + token + "/", folder, false},    // nobody
		{"http://localhost:80/" + token + "/", folder, false},
		{"https://shop.example/" + token + "/", folder, false},
		{other + token + "/?x", folder, false},
		{"file:///etc/passwd", folder, false},
	} {
		if err := writeNote(path, deskNote{c.address, c.folder}); err != nil {
			t.Fatal(err)
		}
		if got := runningDesk(context.Background(), path, folder); (got != "") != c.want {
			t.Errorf("%s of %s: %q", c.address, c.folder, got)
		}
	}
	if asked != 2 {
		t.Errorf("asked %d times, want 2", asked)
	}
	for _, text := range []string{"", "{", strings.Repeat(" ", 1<<13)} {
		writeText(t, path, text)
		if got := runningDesk(context.Background(), path, folder); got != "" {
			t.Errorf("%q: %s", text, got)
		}
	}
}

// serveJobs answers as a desk does.
func serveJobs(t *testing.T, token, folder string, asked *int) string {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		*asked++
		if r.URL.Path != "/"+token+"/jobs" {
			http.NotFound(w, r)
			return
		}
		_ = json.NewEncoder(w).Encode(deskList{Folder: folder})
	}))
	t.Cleanup(server.Close)
	return server.URL + "/"
}

// A desk without a window ends when it was left for long, and not before.
func TestDeskEndsWhenLeft(t *testing.T) {
	ticks := make(chan time.Time)
	ended := make(chan bool)
	uses := make(chan bool, 1)
	go func() {
		endWhenLeft(context.Background(), ticks, func() bool { return <-uses })
		close(ended)
	}()
	tick := func(used bool) {
		ticks <- time.Time{}
		uses <- used
	}
	for range leftFor - 1 {
		tick(false)
	}
	tick(true)
	for range leftFor - 1 {
		tick(false)
	}
	select {
	case <-ended:
		t.Fatal("it ends too early")
	default:
	}
	tick(false)
	await(t, "end", ended)
}
