package main

import (
	"bufio"
	"context"
	"io"
	"regexp"
	"strings"
	"testing"
)

// A watched job with sizes has a page for each, that leads to the others and
// follows a save; the terminal tells the figures of all.
func TestBuildWatchesSizes(t *testing.T) {
	job := writeSizes(t, twoSizes)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	said, out := io.Pipe()
	var stderr strings.Builder
	left := make(chan int, 1)
	go func() {
		left <- run(ctx, []string{"halfpour", "build", "--watch", "--tolerance", "0.3", job}, strings.NewReader(""), out, &stderr)
		out.Close()
	}()
	lines := bufio.NewScanner(said)
	line := func() string { lines.Scan(); return lines.Text() }
	page := regexp.MustCompile(`http:\S+`).FindString(line())
	if first, second := line(), line(); !strings.Contains(first, "s: 1/4 oz: A ") || !strings.HasPrefix(second, "          Trial: A ") {
		t.Errorf("told %q and %q", first, second)
	}
	go func() { _, _ = io.Copy(io.Discard, said) }()
	next := hear(ctx, t, page+"events")
	next("figures")
	// The figure, and the links to the sizes with the mark of the one shown.
	heavy := regexp.MustCompile(`data-figure="heads\.0\.finished_g\.best">([^<]*)<`)
	links := regexp.MustCompile(`<a href="(\?which=[^"]*)"( aria-current="page")?>([^<]*)</a>`)
	shows := func(which string) string {
		text := get(t, page+"figures"+which)
		found := ""
		for _, m := range links.FindAllStringSubmatch(text, -1) {
			if m[2] != "" {
				found += "*"
			}
			found += m[3] + " " + m[1] + ", "
		}
		if m := heavy.FindStringSubmatch(text); m != nil {
			found += m[1]
		}
		return strings.ReplaceAll(found, "\u00a0", " ") // the page keeps numbers and units on one line
	}
	for which, want := range map[string]string{
		"":               "*1/4 oz ?which=1-4-oz, Trial ?which=trial, 7.09 g (0.250 oz)",
		"?which=1-4-oz":  "*1/4 oz ?which=1-4-oz, Trial ?which=trial, 7.09 g (0.250 oz)",
		"?which=trial":   "1/4 oz ?which=1-4-oz, *Trial ?which=trial, 10.63 g (0.375 oz)",
		"?which=../gone": "*1/4 oz ?which=1-4-oz, Trial ?which=trial, 7.09 g (0.250 oz)",
	} {
		if got := shows(which); got != want {
			t.Errorf("%s shows %q, want %q", which, got, want)
		}
	}
	save(t, job, strings.Replace(readText(t, job), `name = "Trial"`, `name = "Heavy"`, 1))
	next("figures")
	if got, want := shows("?which=heavy"), "1/4 oz ?which=1-4-oz, *Heavy ?which=heavy, 10.63 g (0.375 oz)"; got != want {
		t.Errorf("after a save it shows %q, want %q", got, want)
	}
	cancel()
	if code := <-left; code != 0 {
		t.Errorf("exit %d: %s", code, stderr.String())
	}
}
