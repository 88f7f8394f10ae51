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
	"halfpour/pourplan/making"
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
	job := &deskJob{path: path, folder: deskFolder{dir}, opened: func(string) {}, building: func() bool { return false }}
	job.handle(s)
	lying := &deskLying{job: job, server: s}
	lying.handle(s)
	f, err := readJobFile(context.Background(), &terminal{quiet: true}, path)
	if err != nil {
		t.Fatal(err)
	}
	lying.take(context.Background(), making.New(f.job, f.readHead))
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

// What is pointed at goes into the file as one change, and a table can be taken out
// again with all that an editor wrote beside it left.
func TestDeskPointsAndRemoves(t *testing.T) {
	path, ask := askingDesk(t)
	first, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, a := ask("form", "", nil)
	pointing := func(seen, key, rays string) map[string]string {
		return map[string]string{"raw": `{"seen":"` + seen + `","head":0,"key":"` + key + `","item":-1,"rays":` + rays + `}`}
	}
	const side = `[{"from":[-2,9.5,80],"way":[0,0,-2]}]`
	for _, raw := range []map[string]string{pointing("old", "head.eye", side), {"raw": `{"seen":"` + a.Form.Seen + `","head":1,"key":"head.eye","item":-1,"rays":` + side + `}`}} {
		if code, _ := ask("point", "", raw); code != 409 {
			t.Errorf("%s: %d", raw, code)
		}
	}
	if code, b := ask("point", "", pointing(a.Form.Seen, "head.nose", `[{"from":[0,0,80],"way":[0,0,1]}]`)); code != 422 || !strings.Contains(b.Message, "beside the head") {
		t.Errorf("beside the head: %d %s", code, b.Message)
	}
	code, a := ask("point", "", pointing(a.Form.Seen, "head.eye", side))
	want := strings.Replace(string(first), "eye = [-1.22, 8.95, 0]", "eye = [-2, 9.5, 0]", 1)
	now := func() string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	if code != 200 || now() != want {
		t.Errorf("the eye: %d %s", code, a.Message)
	}
	code, a = ask("point", "", pointing(a.Form.Seen, "keeper", `[{"from":[5,0.5,80],"way":[0,0,-1]},{"from":[12,1,80],"way":[0,0,-1]}]`))
	if code != 200 || now() != want+"\n[[keeper]]\nwire = 0.9\npoints = [[5, 0.5, 0], [12, 1, 0]]\n" {
		t.Errorf("a keeper: %d %s", code, a.Message)
	}
	if err := os.WriteFile(path, []byte(now()+"# mine\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	_, a = ask("form", "", nil)
	if code, a = ask("remove", a.Form.Seen, map[string]string{"table": "keeper[0]"}); code != 200 || now() != want+"\n# mine\n" {
		t.Errorf("without it: %d %s", code, a.Message)
	}
	if code, _ := ask("remove", a.Form.Seen, map[string]string{"table": "hook"}); code != 422 {
		t.Errorf("the hook: %d", code)
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
