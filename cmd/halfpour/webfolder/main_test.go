package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

func folderOf(t *testing.T, engine string) map[string]string {
	t.Helper()
	dir := t.TempDir()
	in, runtime := filepath.Join(dir, "in.wasm"), filepath.Join(dir, "runtime.js")
	for path, text := range map[string]string{in: engine, runtime: "// starts it"} {
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(dir, "out")
	if err := run([]string{in, runtime, out}); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(out, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(data)
	}
	return files
}

// The folder has all that its scripts name, the same engine gives the same bytes,
// and another engine another version: a browser takes a new one only then.
func TestFolder(t *testing.T) {
	files, again, other := folderOf(t, "an engine"), folderOf(t, "an engine"), folderOf(t, "another engine")
	for name, text := range files {
		if again[name] != text {
			t.Errorf("%s is not the same again", name)
		}
	}
	if files["sw.js"] == other["sw.js"] {
		t.Error("another engine is kept under the same version")
	}
	packed, err := gzip.NewReader(bytes.NewReader([]byte(files["halfpour.wasm.gz"])))
	if err != nil {
		t.Fatal(err)
	}
	if data, err := io.ReadAll(packed); err != nil || string(data) != "an engine" {
		t.Errorf("the engine unpacks to %q, %v", data, err)
	}
	named := regexp.MustCompile(`"([a-z_]+\.(?:js|html|wasm\.gz))"`)
	for name, text := range files {
		for _, m := range named.FindAllStringSubmatch(text, -1) {
			if files[m[1]] == "" {
				t.Errorf("%s names %s, which is not there", name, m[1])
			}
		}
	}
	for name := range files {
		if name != "sw.js" && !strings.Contains(files["sw.js"], `"`+name+`"`) {
			t.Errorf("sw.js does not keep %s", name)
		}
	}
	if !strings.Contains(files["index.html"], `new Worker("engine.js")`) || strings.Contains(files["index.html"], "EventSource") {
		t.Error("the page asks a server, not the worker")
	}
}

func TestMissingFiles(t *testing.T) {
	for _, args := range [][]string{nil, {"a", "b"}, {"nothing.wasm", "nothing.js", t.TempDir()}} {
		if run(args) == nil {
			t.Errorf("%q: no fault", args)
		}
	}
}
