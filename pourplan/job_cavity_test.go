package pourplan

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// A count stands for as many tables, and errors of each find its one table.
func TestCavityCount(t *testing.T) {
	text := strings.Replace(shortJob, "cavities = 3\n", "", 1) + `
[[cavity]]
name = "small"
count = 2
target = 5
[[cavity]]
target = 9
`
	job := read(t, text)
	var got []string
	for _, c := range job.Placed() {
		got = append(got, fmt.Sprintf("%s/%g", c.Name, float64(c.Weight.Target)))
	}
	if want := "small 1/5,small 2/5,/9"; strings.Join(got, ",") != want {
		t.Errorf("got %v, want %s", got, want)
	}
	for _, c := range []struct{ old, with, key string }{
		{"count = 2", "count = 0", "cavity[0].count"},
		{"count = 2", "count = 64", "cavity"},
		{"target = 9", "target = 9\nturn = 700", "cavity[1].turn"},
	} {
		_, err := ReadJob("job.toml", []byte(strings.Replace(text, c.old, c.with, 1)))
		var list JobErrors
		if !errors.As(err, &list) || len(list) != 1 || list[0].Key != c.key || list[0].Line == 0 {
			t.Errorf("%s: %v, want one error of %s with its line", c.with, err, c.key)
		}
	}
}

// A table wants a table, a list of tables lists, and each says where.
func TestTablesOfAnotherKind(t *testing.T) {
	for text, key := range map[string]string{
		"frame = 3\n" + shortJob: "frame", "keeper = 3\n" + shortJob: "keeper", "keeper = [3]\n" + shortJob: "keeper",
		"runner = true\n" + shortJob: "runner", "cavity = [{}, 3]\n" + strings.Replace(shortJob, "cavities = 3\n", "", 1): "cavity",
		shortJob + "[[cavity]]\nhook = 3\n":                                           "cavity[0].hook",
		strings.Replace(shortJob, "cavities = 3\n", "", 1) + "[[cavity]]\nhook = 3\n": "cavity[0].hook",
	} {
		_, err := ReadJob("job.toml", []byte(text))
		list, ok := err.(JobErrors)
		found := false
		for _, e := range list {
			found = found || e.Key == key && e.Rule == RuleValue && e.Line > 0
		}
		if !ok || !found {
			t.Errorf("%.30q: got %v, want an error of %s", text, err, key)
		}
	}
}
