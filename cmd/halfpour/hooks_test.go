package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/stl"
)

// A head and its hook in one file, the hook named in the file of hooks beside the job:
// both are understood, and both files are the job's.
func TestHookBesideItsHeadByName(t *testing.T) {
	job := writeJob(t)
	dir := filepath.Dir(job)
	hook, err := heads.Hook(context.Background(), heads.HookKind{Barbed: true}, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	both := united(coarseBall(), hook.Transform(geom.Move(heads.BallEye(starterBall)).Point, false))
	var data bytes.Buffer
	if err := stl.Write(&data, both, "head and hook"); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	inHook := false
	for _, line := range strings.Split(string(text), "\n") {
		if strings.HasPrefix(line, "[") {
			inHook = strings.HasPrefix(line, "[hook]")
		}
		if !inHook && !strings.HasPrefix(line, "eye = ") {
			lines = append(lines, line)
		}
	}
	for path, text := range map[string]string{
		job:                              strings.Join(lines, "\n") + "\n[hook]\nuse = \"club\"\n",
		filepath.Join(dir, starterHead):  data.String(),
		filepath.Join(dir, "hooks.toml"): "[club]\nfile = \"" + starterHead + "\"\n",
	} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	code, out, stderr := halfpour(context.Background(), "check", job)
	said := strings.Join(strings.Fields(out), " ")
	if code != 0 || !strings.Contains(said, starterHead+": the thin wire-like body with an eye is the hook: wire 1.") || !strings.Contains(said, "1 barb") {
		t.Fatalf("exit %d: %s%s", code, out, stderr)
	}
	f, err := readJobFile(context.Background(), newTerminal(nil, io.Discard, io.Discard, io.Discard), job)
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{job, filepath.Join(dir, "shelf.toml"), filepath.Join(dir, "hooks.toml"), filepath.Join(dir, starterHead)}; !slices.Equal(f.files(), want) {
		t.Errorf("files %v, want %v", f.files(), want)
	}
	if f.job.Placed()[0].Hook.Name != "club" {
		t.Errorf("the hook is called %q", f.job.Placed()[0].Hook.Name)
	}
	// A mistake in the file of hooks is told at its place, and that file is the job's too.
	if err := os.WriteFile(filepath.Join(dir, "hooks.toml"), []byte("[club]\nfiel = \"x\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, stderr = halfpour(context.Background(), "check", job)
	if code != int(exitJob) || !strings.Contains(stderr, "hooks.toml:2:1") {
		t.Errorf("exit %d: %s", code, stderr)
	}
	if f, err := readJobFile(context.Background(), newTerminal(nil, io.Discard, io.Discard, io.Discard), job); err == nil || !slices.Contains(f.files(), filepath.Join(dir, "hooks.toml")) {
		t.Errorf("files %v, %v", f.files(), err)
	}
}
