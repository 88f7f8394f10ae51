package pourplan

import (
	"errors"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
	"halfpour/pourplan/internal/plantest"
)

// Whatever the bytes: a job or errors, each with a place within the file that
// can be rendered; and a job that passes makes a plan or says why not.
func FuzzReadJob(f *testing.F) {
	for _, s := range jobSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryJob(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledJob(t *testing.T) { geomtest.Mangle(t, jobSamples(t), tryJob) }

func jobSamples(t testing.TB) (samples [][]byte) {
	add := func(data []byte) { samples = append(samples, data) }
	add([]byte(shortJob))
	add([]byte(plantest.ByHand))
	add([]byte(plantest.Job(5, "vacuum = true\n"+plantest.Rich)))
	for _, c := range jobErrorCases {
		add([]byte(c.edit(shortJob)))
	}
	for _, s := range []string{"", "\ufeff", "\xff\xfe", "a = '''\n''''", "[[cavity]]\n[cavity.hook]\n[[cavity]]", "cavity = [{}, {turn = 1}]",
		"cavity = [1]", "[head]\neye = [[1]]", "title = \"\"\"\n\\\"\"\"\"\"", "\"a.b\".'c' = 1 # x", "x = 1979-05-27T07:32:00Z", "[a.b]\n[[a.b.c]]",
		"hook = { points = [[1, 2], [\"3 mm\", -4]], }", "cavities = 9223372036854775807"} {
		add([]byte(s))
	}
	return samples
}

func tryJob(t testing.TB, data []byte) {
	job, err := ReadJob("job.toml", data)
	if err == nil {
		if _, err := job.Spec(balls(t, map[string]int{})); err != nil {
			err = job.Explain(err)
			if list := (JobErrors{}); !errors.As(err, &list) {
				t.Errorf("not explained: %v", err)
			}
		}
		if p, err := NewPlan(job, measuredBalls(len(job.Placed()))); err == nil {
			if _, err := p.JSON(); err != nil {
				t.Errorf("a plan that cannot be written: %v", err)
			}
		}
		return
	}
	var list JobErrors
	if !errors.As(err, &list) || len(list) == 0 || job != nil {
		t.Fatalf("got job %v, error %v", job, err)
	}
	lines := strings.Count(string(data), "\n") + 1
	for _, e := range list {
		if e.Line > lines || e.Line < 0 || (e.Line > 0) != (e.Col > 0) || e.Rule == "" {
			t.Errorf("place %d:%d of %d lines, rule %q", e.Line, e.Col, lines, e.Rule)
		}
		if strings.ContainsRune(e.Excerpt(), '\r') || e.Error() == "" {
			t.Errorf("rendered %q", e.Excerpt())
		}
	}
}

// Places by path, for every way of writing a key.
func TestFindPlaces(t *testing.T) {
	text := `a = 1
"b" . c = "x # y"  # note
[d]
e = [1, [2, 3], # in between
  'four']
f = { g = 1, h.i = """
two "" lines""" }
[[j]]
[j.k]
l = 2
[[j]]
l = 1979-05-27 07:32:00
`
	places := findPlaces(text)
	for path, want := range map[string]string{
		"a": "1", "b": `"b"`, "b.c": `"x # y"`, "d.f.h": "h", "d": "[d]", "d.e": "[1, [2, 3], # in between\n  'four']", "d.e[1][0]": "2", "d.e[2]": "'four'",
		"d.f.g": "1", "d.f.h.i": "\"\"\"\ntwo \"\" lines\"\"\"", "j[0].k": "[j.k]", "j[0].k.l": "2", "j[1]": "[[j]]", "j[1].l": "1979-05-27 07:32:00",
	} {
		p, ok := places[path]
		if !ok {
			t.Errorf("%s: no place", path)
			continue
		}
		if got := text[p.value.from:p.value.to]; got != want {
			t.Errorf("%s: got %q, want %q", path, got, want)
		}
	}
	if n := len(places); n != 19 {
		t.Errorf("got %d places: %v", n, places)
	}
}

func TestNearest(t *testing.T) {
	names := []string{"floor", "wall", "draft", "to_wall", "freeboard"}
	for got, want := range map[string]string{"flor": "floor", "wal": "wall", "towall": "to_wall", "drfat": "draft", "freebord": "freeboard",
		"sprocket": "", strings.Repeat("wall", 50): "", "": "", "x": ""} {
		if near := Nearest(got, names); near != want {
			t.Errorf("%q: got %q, want %q", got, near, want)
		}
	}
}

// Distances counted by hand.
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"a", "", 1}, {"", "abc", 3}, {"kitten", "sitting", 3}, {"flaw", "lawn", 2}, {"ab", "ba", 1}, {"biuld", "build", 1}} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: got %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
