package fileset

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
)

// No bytes lead out of the folder, and what is read as a journal can be written
// and reads as the same.
func FuzzJournal(f *testing.F) {
	for _, s := range journalSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryJournal(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledJournal(t *testing.T) { geomtest.Mangle(t, journalSamples(t), tryJournal) }

func journalSamples(t testing.TB) (samples [][]byte) {
	digest := strings.Repeat("0123456789abcdef", 4)
	j := newJournal([]pendingFile{
		{"plan.json", ".plan.json.123.tmp", 22452, digest},
		{"left.stl", ".left.stl.4.tmp", 0, digest},
		{"small/left.stl", "small/.left.stl.6.tmp", 1, digest},
		{"grün & Co.pdf", ".grün & Co.pdf.5.tmp", 7, digest},
	})
	for _, list := range []*journal{j, newJournal(nil)} {
		data, err := json.Marshal(list)
		if err != nil {
			t.Fatal(err)
		}
		samples = append(samples, data)
	}
	return append(samples, []byte(`{"schema":1,"files":[{"name":"a","temp":".a.1.tmp","bytes":1,"sha256":"`+digest+`"}]}`))
}

func tryJournal(t testing.TB, data []byte) {
	j, err := decodeJournal(data)
	if err != nil {
		if j != nil || err.Error() == "" {
			t.Errorf("%v with %+v", err, j)
		}
		return
	}
	for _, f := range j.Files {
		for _, name := range []string{f.Name, f.Temp} {
			if inner := strings.Count(name, "/"); inner > 1 || strings.Count(filepath.ToSlash(filepath.Join("out", name)), "/") != inner+1 || strings.ContainsAny(name, `\:`) || !filepath.IsLocal(name) {
				t.Errorf("%q leads out of the folder", name)
			}
		}
	}
	out, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := decodeJournal(out); err != nil || !reflect.DeepEqual(again, j) {
		t.Errorf("%v\nread %+v\nagain %+v", err, j, again)
	}
}
