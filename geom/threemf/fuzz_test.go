package threemf

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
)

// readModel reads a model's text by itself. Components may make little of it,
// so that no input takes long.
func readModel(text string) (Package, error) {
	size := int64(len(text))
	m := newModel(&part{ReadCloser: io.NopCloser(strings.NewReader(text)), name: modelPart, left: size + 1})
	m.spare = 256
	if err := m.parse(); err != nil {
		return Package{}, err
	}
	return m.pack()
}

// checkRead asks for an error of ours, or for objects that are fit to be used.
func checkRead(t testing.TB, pkg Package, err error) {
	t.Helper()
	if err != nil {
		var format *FormatError
		var unsupported *UnsupportedError
		if !errors.As(err, &format) && !errors.As(err, &unsupported) || err.Error() == "" {
			t.Fatalf("error of type %T: %v", err, err)
		}
		return
	}
	if len(pkg.Objects) == 0 {
		t.Fatal("neither objects nor an error")
	}
	for _, o := range pkg.Objects {
		for _, c := range o.Mesh.Triangles {
			if p := o.Mesh.Vertices[c[0]]; !p.IsFinite() || len(o.Mesh.Triangles) == 0 {
				t.Fatalf("object %q has a corner at %v", o.Name, p)
			}
		}
	}
}

// FuzzModel feeds models, past the archive, and writes what it read.
func FuzzModel(f *testing.F) {
	for _, s := range modelSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryModel(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledModel(t *testing.T) { geomtest.Mangle(t, modelSamples(t), tryModel) }

func modelSamples(t testing.TB) (samples [][]byte) {
	add := func(text string) { samples = append(samples, []byte(text)) }
	const head = `<model xmlns="` + namespace + `"`
	add(head + `><resources><object id="1" name="a">` + tetraXML + `</object></resources><build><item objectid="1"/></build></model>`)
	add(head + ` unit="inch"><metadata name="Title">x</metadata><resources>` + doubling(3) +
		`</resources><build><item objectid="3" transform="0 1 0 -1 0 0 0 0 1 1 2 3"/></build></model>`)
	add(head + `><metadata name="Title"/><resources/><build/></model>`)
	return samples
}

func tryModel(t testing.TB, data []byte) {
	text := string(data)
	if len(text) > 4<<10 {
		return
	}
	pkg, err := readModel(text)
	checkRead(t, pkg, err)
	if err != nil || writable(pkg) != nil { // units and transforms may exceed float32
		return
	}
	var out bytes.Buffer
	b := bufio.NewWriter(&out)
	writeModel(b, pkg)
	if err := b.Flush(); err != nil {
		t.Fatal(err)
	}
	back, err := readModel(out.String())
	if err != nil {
		// What components made of little text is spelt out now, and more
		// than spare; a place may be past float32 in the file's own unit.
		var format *FormatError
		if errors.As(err, &format) && (format.Rule == RuleSize || format.Rule == RuleNumber) {
			return
		}
		t.Fatal(err)
	}
	if len(back.Objects) != len(pkg.Objects) {
		t.Fatalf("%d objects after a round trip of %d", len(back.Objects), len(pkg.Objects))
	}
	for i, o := range back.Objects {
		if !slices.Equal(o.Mesh.Triangles, pkg.Objects[i].Mesh.Triangles) {
			t.Fatalf("object %d changed in a round trip", i)
		}
	}
}

// stored packs parts without compressing them, so that damage reaches the text.
func stored(t testing.TB, parts ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.CreateHeader(&zip.FileHeader{Name: parts[i], Method: zip.Store})
		if err != nil {
			t.Fatal(err)
		}
		io.WriteString(w, parts[i+1])
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// FuzzArchive feeds damaged archives.
func FuzzArchive(f *testing.F) {
	for _, s := range archiveSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryArchive(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledArchive(t *testing.T) { geomtest.Mangle(t, archiveSamples(t), tryArchive) }

func archiveSamples(t testing.TB) (samples [][]byte) {
	add := func(data []byte) { samples = append(samples, data) }
	const model = `<model xmlns="` + namespace + `"><resources><object id="1">` + tetraXML + `</object></resources><build><item objectid="1"/></build></model>`
	add(stored(t, relsPart, relsContent, modelPart, model))
	add(archive(t, relsPart, relsContent, modelPart, model))
	add(stored(t, relsPart, strings.Replace(relsContent, "/"+modelPart, "../x", 1), "x", model))
	add(stored(t, modelPart, model))
	add([]byte("PK\x05\x06"))
	return samples
}

func tryArchive(t testing.TB, data []byte) {
	if len(data) > 4<<10 {
		return
	}
	pkg, err := read(data)
	checkRead(t, pkg, err)
}

// What a small archive can cost: the text that it may unpack to, at most so
// many bytes for each of its own, and what any file may have.
func TestMemoryBound(t *testing.T) {
	one := `<object id="1">` + tetraXML + `</object>`
	item := `<item objectid="1"/>`
	for name, data := range map[string][]byte{
		"a mesh":            written(t, Package{Objects: []Object{{Mesh: grid(60)}}}),
		"bomb of vertices":  fileOf(t, "", `<object id="1"><mesh><vertices>`+strings.Repeat(`<vertex x="0" y="0" z="0"/>`, 1<<18)+`</vertices></mesh></object>`, item),
		"bomb of objects":   fileOf(t, "", strings.Repeat(`<object id="1"/>`, 1<<18), item),
		"bomb of text":      fileOf(t, "", strings.Repeat(" ", 4<<20), item),
		"bomb of tags":      fileOf(t, "", strings.Repeat("<a/>", 4<<20), item),
		"bomb of depth":     fileOf(t, "", strings.Repeat("<a>", 4<<20), item),
		"bomb of copies":    fileOf(t, "", doubling(30), `<item objectid="30"/>`),
		"bomb of relations": archive(t, relsPart, "<Relationships>"+strings.Repeat(`<Relationship/>`, 1<<20)),
		"bomb of items":     fileOf(t, "", one, strings.Repeat(`<item objectid="1" transform="2 0 0 0 1 0 0 0 1 0 0 0"/>`, mostPlaced)),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		pkg, err := read(data)
		runtime.ReadMemStats(&after)
		got, most := after.TotalAlloc-before.TotalAlloc, uint64(100<<20+100*len(data))
		t.Logf("%s, %d bytes: %d kB allocated, %d objects, %v", name, len(data), got>>10, len(pkg.Objects), err)
		if got > most {
			t.Errorf("%s: %d kB allocated for %d bytes, want at most %d kB", name, got>>10, len(data), most>>10)
		}
	}
}
