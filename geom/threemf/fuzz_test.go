package threemf

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
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
	m := newModel(context.Background(), &part{ReadCloser: io.NopCloser(strings.NewReader(text)), name: modelPart})
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

// What a small archive can cost: the text that it may unpack to, which here is
// as much as any file may have, and what parsing makes of it.
func TestMemoryBound(t *testing.T) {
	one := `<object id="1">` + tetraXML + `</object>`
	item := `<item objectid="1"/>`
	fill := func(piece string) string { return strings.Repeat(piece, (spareUnpacked-1000)/len(piece)) }
	for name, data := range map[string][]byte{
		"a mesh":            written(t, Package{Objects: []Object{{Mesh: grid(60)}}}),
		"bomb of vertices":  fileOf(t, "", `<object id="1"><mesh><vertices>`+fill(`<vertex x="0" y="0" z="0"/>`)+`</vertices></mesh></object>`, item),
		"bomb of objects":   fileOf(t, "", numbered(`<object id="%d"/>`, 1<<15), item),
		"bomb of text":      fileOf(t, "", fill(" "), item),
		"bomb of tags":      fileOf(t, "", fill("<a/>"), item),
		"bomb of depth":     fileOf(t, "", fill("<a>"), item),
		"bomb of copies":    fileOf(t, "", doubling(30), `<item objectid="30"/>`),
		"bomb of relations": archive(t, relsPart, "<Relationships>"+strings.Repeat(`<Relationship/>`, mostRels/16)),
		"bomb of shared":    fileOf(t, "", one, fill(`<item objectid="1" transform="1 0 0 0 1 0 0 0 1 9 0 0"/>`)),
		"bomb of items":     fileOf(t, "", one, fill(`<item objectid="1" transform="2 0 0 0 1 0 0 0 1 0 0 0"/>`)),
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

// A bomb is known by the size that its archive states, before any of it is
// unpacked; one that states less is unpacked no further.
func TestBombsStayPacked(t *testing.T) {
	bomb := fileOf(t, "", `<object id="1"><mesh><vertices>`+strings.Repeat(`<vertex x="0" y="0" z="0"/>`, 1<<19)+`</vertices></mesh></object>`, `<item objectid="1"/>`)
	lying := bytes.Clone(bomb)
	entry := bytes.LastIndex(lying, []byte("PK\x01\x02")) // the model's, in the archive's directory
	binary.LittleEndian.PutUint32(lying[entry+24:], 1000) // its unpacked size
	for name, c := range map[string]struct {
		data []byte
		rule Rule
	}{"stated": {bomb, RuleSize}, "lying": {lying, RuleArchive}} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := read(c.data)
		runtime.ReadMemStats(&after)
		var got *FormatError
		if !errors.As(err, &got) || got.Rule != c.rule {
			t.Errorf("%s: got %v, want the rule %s", name, err, c.rule)
		}
		if n := after.TotalAlloc - before.TotalAlloc; n > 1<<20 {
			t.Errorf("%s: %d kB allocated", name, n>>10)
		}
	}
}

// What the items on the plate come to is bounded whether or not they share a
// mesh: whoever puts them together makes it all.
func TestItemsAreBounded(t *testing.T) {
	plate := func(items int) (Package, error) {
		return readModel(`<model xmlns="` + namespace + `"><resources><object id="1">` + tetraXML + `</object></resources><build>` +
			strings.Repeat(`<item objectid="1" transform="1 0 0 0 1 0 0 0 1 9 0 0"/>`, items) + `</build></model>`)
	}
	const each = 4 + 4                          // vertices and triangles of a tetrahedron
	const most = (mostCopies*each + 256) / each // 256 is what readModel spares
	if pkg, err := plate(most); err != nil || len(pkg.Objects) != most {
		t.Errorf("%d items: got %d objects, %v", most, len(pkg.Objects), err)
	}
	var got *FormatError
	if _, err := plate(most + 1); !errors.As(err, &got) || got.Rule != RuleSize {
		t.Errorf("%d items: got %v, want the rule %s", most+1, err, RuleSize)
	}
}

// Parsing ends with its context, and so does putting together what was parsed.
func TestReadEndsWithItsContext(t *testing.T) {
	over, cancel := context.WithCancel(context.Background())
	cancel()
	data := written(t, Package{Objects: []Object{{Mesh: grid(60)}}})
	if _, err := Read(over, bytes.NewReader(data), int64(len(data))); !errors.Is(err, context.Canceled) {
		t.Errorf("reading: %v", err)
	}
	text := `<model xmlns="` + namespace + `"><resources>` + numbered(`<object id="%d"/>`, 1<<13)
	m := newModel(over, &part{ReadCloser: io.NopCloser(strings.NewReader(text)), name: modelPart})
	if err := m.parse(); !errors.Is(err, context.Canceled) {
		t.Errorf("parsing: %v", err)
	}
	m = newModel(over, &part{name: modelPart})
	m.items = []component{{&object{}, identity}}
	if _, err := m.pack(); !errors.Is(err, context.Canceled) {
		t.Errorf("putting together: %v", err)
	}
}
