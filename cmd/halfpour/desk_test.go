package main

import (
	"context"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"halfpour/cmd/halfpour/live"
	"halfpour/pourplan/desk"
)

// askingDesk is a desk's server and how a page asks it.
func askingDesk(t *testing.T) (path string, ask func(name, seen string, order map[string]string) (int, deskAnswer)) {
	t.Helper()
	dir := t.TempDir()
	if err := writeStarter(context.Background(), dir, false); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(dir, starterJob)
	s, err := live.Listen(map[string]live.Document{})
	if err != nil {
		t.Fatal(err)
	}
	(&deskJob{path: path, folder: deskFolder{dir}, opened: func(string) {}, building: func() bool { return false }}).handle(s)
	ctx, cancel := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() { served <- s.Serve(ctx) }()
	t.Cleanup(func() {
		cancel()
		if err := <-served; err != nil {
			t.Error(err)
		}
	})
	return path, func(name, seen string, order map[string]string) (int, deskAnswer) {
		method, body := http.MethodGet, ""
		if raw, ok := order["raw"]; ok {
			method, body = http.MethodPost, raw
		} else if order != nil {
			order["seen"] = seen
			data, err := json.Marshal(order)
			if err != nil {
				t.Error(err)
			}
			method, body = http.MethodPost, string(data)
		}
		r, err := http.NewRequest(method, s.URL()+name, strings.NewReader(body))
		if err != nil {
			t.Error(err)
			return 0, deskAnswer{}
		}
		if order != nil {
			r.Header.Set("Content-Type", "application/octet-stream")
			r.Header.Set("Origin", strings.TrimSuffix(s.URL()[:strings.LastIndex(s.URL()[:len(s.URL())-1], "/")], "/"))
		}
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Error(err)
			return 0, deskAnswer{}
		}
		defer answer.Body.Close()
		var a deskAnswer
		if err := json.NewDecoder(answer.Body).Decode(&a); err != nil {
			t.Errorf("%s: %d, %v", name, answer.StatusCode, err)
		}
		return answer.StatusCode, a
	}
}

// What the page sends goes into the file, and what an editor writes meanwhile
// stays.
func TestDeskChangesTheFile(t *testing.T) {
	path, ask := askingDesk(t)
	read := func() string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	first := read()
	_, a := ask("form", "", nil)
	if a.Form == nil || a.Form.Title != "Ball" || a.Form.Undo {
		t.Fatalf("the form: %+v", a)
	}
	code, a := ask("set", a.Form.Seen, map[string]string{"path": "title", "text": "Mine"})
	second := strings.Replace(first, `title = "Ball" `, `title = "Mine" `, 1)
	if code != 200 || read() != second || a.Form.Title != "Mine" || !a.Form.Undo {
		t.Errorf("set: %d %s", code, a.Message)
	}
	if code, _ := ask("try", a.Form.Seen, map[string]string{"path": "hook.wire", "text": "1"}); code != 200 || read() != second {
		t.Errorf("try: %d", code)
	}
	if code, b := ask("set", a.Form.Seen, map[string]string{"path": "hook.wire", "text": "77"}); code != 422 || b.Message == "" || read() != second {
		t.Errorf("a wrong value: %d %q", code, b.Message)
	}
	third := second + "# by an editor\n"
	if err := os.WriteFile(path, []byte(third), 0o666); err != nil {
		t.Fatal(err)
	}
	code, b := ask("set", a.Form.Seen, map[string]string{"path": "title", "text": "Lost"})
	if code != 409 || read() != third || b.Form.Seen != desk.NameOf("job.toml", third) {
		t.Errorf("over an editor's change: %d %s", code, b.Message)
	}
	for _, want := range []string{second, first} {
		if code, b = ask("undo", b.Form.Seen, map[string]string{}); code != 200 || read() != want {
			t.Errorf("undo: %d %s", code, b.Message)
		}
	}
	if code, _ = ask("undo", b.Form.Seen, map[string]string{}); code != 422 {
		t.Errorf("undo of nothing: %d", code)
	}
	if code, b = ask("redo", b.Form.Seen, map[string]string{}); code != 200 || read() != second {
		t.Errorf("redo: %d %s", code, b.Message)
	}
	if code, b = ask("add", b.Form.Seen, map[string]string{"table": "kit"}); code != 200 || read() != second+"\n[[kit]]\n" || len(b.Form.Problems) == 0 {
		t.Errorf("add: %d %s", code, b.Message)
	}
}

// A head that is dropped goes beside the job, and into it as it lies.
func TestDeskTakesAHead(t *testing.T) {
	path, ask := askingDesk(t)
	mesh, err := os.ReadFile("../../examples/minnow-tray/head.stl")
	if err != nil {
		t.Fatal(err)
	}
	ball, err := os.ReadFile(filepath.Join(filepath.Dir(path), starterHead))
	if err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, raw string }{
		{"..%2Fminnow.stl", string(mesh)}, {"a%5Cb.stl", string(mesh)}, {"job.toml", string(mesh)}, {"head.stl", string(mesh)}, {"minnow.stl", "solid nothing"}, {"", string(mesh)},
	} {
		if code, a := ask("head?which="+c.name, "", map[string]string{"raw": c.raw}); code != 422 || a.Message == "" {
			t.Errorf("%s: %d %s", c.name, code, a.Message)
		}
	}
	if now, err := os.ReadFile(path); err != nil || string(now) != string(before) {
		t.Errorf("a refused head changed the job: %v", err)
	}
	for range 2 { // again, it is there already
		code, a := ask("head?which=mine.stl", "", map[string]string{"raw": string(ball)})
		if code != 200 || len(a.Proposed) < 5 {
			t.Fatalf("%d %s, proposed %v", code, a.Message, a.Proposed)
		}
	}
	if wrote, err := os.ReadFile(filepath.Join(filepath.Dir(path), "mine.stl")); err != nil || string(wrote) != string(ball) {
		t.Errorf("the head's file: %v", err)
	}
	job, err := readJobFile(context.Background(), &terminal{quiet: true}, path)
	if err != nil || job.job.Head.File != "mine.stl" {
		t.Errorf("the job after it: %v", err)
	}
}

// Of pages that change the same text at once, one does it, and the others hear
// of it.
func TestDeskPagesAtOnce(t *testing.T) {
	_, ask := askingDesk(t)
	_, a := ask("form", "", nil)
	var all sync.WaitGroup
	codes := make([]int, 8)
	for i := range codes {
		all.Add(1)
		go func() {
			defer all.Done()
			codes[i], _ = ask("set", a.Form.Seen, map[string]string{"path": "title", "text": strings.Repeat("x", i+1)})
		}()
	}
	all.Wait()
	count := map[int]int{}
	for _, code := range codes {
		count[code]++
	}
	if count[200] != 1 || count[409] != len(codes)-1 {
		t.Errorf("answers: %v", count)
	}
}
