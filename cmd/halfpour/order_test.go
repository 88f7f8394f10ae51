package main

import (
	"io"
	"slices"
	"strings"
	"testing"
)

func TestOptionsFirst(t *testing.T) {
	app := newApp(newTerminal(nil, io.Discard, io.Discard, io.Discard))
	for _, c := range []struct{ in, want string }{
		{"halfpour", "halfpour"},
		{"halfpour --version", "halfpour --version"},
		{"halfpour nosuch a --b", "halfpour nosuch a --b"},
		{"halfpour build job.toml --out x", "halfpour build --out x -- job.toml"},
		{"halfpour build job.toml --out=x", "halfpour build --out=x -- job.toml"},
		{"halfpour build --anyway job.toml -o x", "halfpour build --anyway -o x -- job.toml"},
		{"halfpour build -o x -- --odd.toml", "halfpour build -o x -- --odd.toml"},
		{"halfpour build job.toml --anyway -h", "halfpour build -h"},
		{"halfpour check -", "halfpour check -- -"},
		{"halfpour build job.toml --out", "halfpour build --out"},
	} {
		if got := strings.Join(optionsFirst(app, strings.Fields(c.in)), " "); got != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.in, got, c.want)
		}
	}
}

func TestWantsColour(t *testing.T) {
	env := func(pairs ...string) func(string) string {
		return func(name string) string {
			if i := slices.Index(pairs, name); i >= 0 {
				return pairs[i+1]
			}
			return ""
		}
	}
	for _, c := range []struct {
		terminal bool
		env      func(string) string
		want     bool
	}{
		{true, env(), true},
		{false, env(), false},
		{true, env("NO_COLOR", "1"), false},
		{true, env("NO_COLOR", ""), true},
		{true, env("TERM", "dumb"), false},
	} {
		if got := wantsColour(c.terminal, c.env); got != c.want {
			t.Errorf("%+v: got %v", c, got)
		}
	}
}
