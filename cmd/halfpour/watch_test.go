package main

import (
	"bufio"
	"context"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"
)

// A watching build serves figures, tells of a save that does not read while
// the figures stay, of one that does, and leaves quietly with the port closed
// and nothing half-written.
func TestBuildWatches(t *testing.T) {
	t.Chdir(t.TempDir())
	if code, _, stderr := halfpour(context.Background(), "new", "."); code != 0 {
		t.Fatal(stderr)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	said, out := io.Pipe()
	var stderr strings.Builder
	left := make(chan int, 1)
	go func() {
		left <- run(ctx, []string{"halfpour", "build", "--watch", "--tolerance", "0.3", "job.toml"}, strings.NewReader(""), out, &stderr)
		out.Close()
	}()
	lines := bufio.NewScanner(said)
	lines.Scan()
	page := regexp.MustCompile(`http:\S+`).FindString(lines.Text())
	if page == "" {
		t.Fatalf("no address in %q", lines.Text())
	}
	go func() { _, _ = io.Copy(io.Discard, said) }()
	next := hear(ctx, t, page+"events")
	figure := func() string {
		m := regexp.MustCompile(`data-figure="rubber.total_a_g">([^<]*)<`).FindStringSubmatch(get(t, page+"figures"))
		if m == nil {
			return ""
		}
		return m[1]
	}

	next("figures")
	first := figure()
	if first == "" || !strings.Contains(get(t, page), first) {
		t.Errorf("the page shows %q g of A", first)
	}
	job, err := os.ReadFile("job.toml")
	if err != nil {
		t.Fatal(err)
	}
	save(t, "job.toml", strings.Replace(string(job), "\ntarget =", "\ntarkte =", 1))
	for !strings.Contains(next("trouble"), "tarkte") { // before it, that nothing is wrong
	}
	if got := figure(); got != first {
		t.Errorf("with a fault in the job the page shows %s, before it %s", got, first)
	}
	save(t, "job.toml", strings.Replace(string(job), `target = "1/4 oz"`, `target = "3/8 oz"`, 1))
	next("figures")
	if got := figure(); got == first || got == "" {
		t.Errorf("a heavier head takes %s of A, as before", got)
	}
	cancel()
	if code := <-left; code != 0 {
		t.Errorf("exit %d: %s", code, stderr.String())
	}
	at, err := url.Parse(page)
	if err != nil {
		t.Fatal(err)
	}
	if c, err := net.Dial("tcp", at.Host); err == nil {
		c.Close()
		t.Error("the port is still open")
	}
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".tmp") {
			t.Errorf("%s was left behind", e.Name())
		}
	}
}

// After a stop at the start the page says that there is no model; after a stop
// later, that its model is from the last good save.
func TestWatchedPageAfterAStop(t *testing.T) {
	job := writeJob(t)
	const good, bad = "\neye = [-1.22, 8.95, 0]", "\neye = [0, 0, 0]" // in the head
	editJob(t, job, good, bad)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	said, out := io.Pipe()
	left := make(chan int, 1)
	go func() {
		left <- run(ctx, []string{"halfpour", "build", "--watch", "--tolerance", "0.4", job}, strings.NewReader(""), out, io.Discard)
		out.Close()
	}()
	lines := bufio.NewScanner(said)
	lines.Scan()
	page := regexp.MustCompile(`http:\S+`).FindString(lines.Text())
	go func() { _, _ = io.Copy(io.Discard, said) }()
	next := hear(ctx, t, page+"events")
	note := func() string {
		return regexp.MustCompile(`id="model-note"[^>]*>([^<]*)<`).FindStringSubmatch(get(t, page+"figures"))[1]
	}
	status := func(of string) {
		t.Helper()
		for !strings.Contains(next("status"), of) {
		}
	}
	status("there is no model.")
	if got := note(); !strings.Contains(got, "There is no model: no trays were made from these figures.") {
		t.Errorf("after a stop at the start the page says %q", got)
	}
	editJob(t, job, bad, good)
	status("Built at")
	if got := note(); got != "" {
		t.Errorf("when all is built the page says %q", got)
	}
	editJob(t, job, good, bad)
	status("the model is from the last good save")
	if got := note(); !strings.Contains(got, "This model is from the last good save") {
		t.Errorf("after a stop the page says %q", got)
	}
	cancel()
	<-left
}

func get(t *testing.T, address string) string {
	t.Helper()
	answer, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("%s: %v", answer.Status, err)
	}
	return string(data)
}

// hear returns what waits for the next event of a kind, and gives its text.
func hear(ctx context.Context, t *testing.T, address string) func(kind string) string {
	t.Helper()
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { answer.Body.Close() })
	lines := bufio.NewScanner(answer.Body)
	return func(kind string) string {
		t.Helper()
		for lines.Scan() {
			if lines.Text() == "event: "+kind && lines.Scan() {
				return strings.TrimPrefix(lines.Text(), "data: ")
			}
		}
		t.Fatalf("no event %s: %v", kind, lines.Err())
		return ""
	}
}

func TestWatchIsRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	for args, want := range map[string]string{
		"build --watch -":               "--watch needs a job file, not standard input",
		"build --watch --json job.toml": "--watch runs until you stop it and prints no document",
	} {
		code, stdout, stderr := halfpour(context.Background(), strings.Fields(args)...)
		if code != 3 || stdout != "" || !strings.Contains(stderr, want) {
			t.Errorf("%s: exit %d, %q, %q", args, code, stdout, stderr)
		}
	}
}
