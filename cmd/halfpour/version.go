package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"
)

// version is set at link time for a release: -ldflags "-X main.version=1.2.3".
var version string

// versionText names the program, its version and the Go it was built with.
func versionText() string {
	v := version
	if v == "" {
		v = "development version"
		if b, ok := debug.ReadBuildInfo(); ok && b.Main.Version != "" && b.Main.Version != "(devel)" {
			v = b.Main.Version
		}
	}
	return fmt.Sprintf("halfpour %s (%s, %s/%s)", v, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}

// commit is what the program was built from. All of it is empty when the build
// did not see a repository.
type commit struct {
	hash, time string // time: as in RFC 3339
	changed    bool   // files differed from the commit
}

func builtFrom() commit {
	b, ok := debug.ReadBuildInfo()
	if !ok {
		return commit{}
	}
	var c commit
	for _, s := range b.Settings {
		switch s.Key {
		case "vcs.revision":
			c.hash = s.Value
		case "vcs.time":
			c.time = s.Value
		case "vcs.modified":
			c.changed = s.Value == "true"
		}
	}
	return c
}

// day is the day of the commit, "" when it is not known.
func (c commit) day() string {
	day, _, _ := strings.Cut(c.time, "T")
	return day
}

// String is the line that follows the version, "" for an unknown commit.
func (c commit) String() string {
	if c.hash == "" {
		return ""
	}
	text := "\nbuilt from commit " + c.hash
	if c.day() != "" {
		text += " of " + c.day()
	}
	if c.changed {
		text += ", with changes"
	}
	return text
}
