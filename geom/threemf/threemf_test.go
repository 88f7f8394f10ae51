package threemf

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
)

// tetra is the tetrahedron of Mirtich's companion data (J. Graphics Tools
// 1(2), 1996): volume 10.
func tetra() *geom.TriMesh {
	return &geom.TriMesh{
		Vertices:  []geom.Vec{{}, {X: 5}, {Y: 4}, {Z: 3}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

func written(t testing.TB, pkg Package) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, pkg); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// archive packs parts, given as name and content in turn.
func archive(t testing.TB, parts ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
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

const tetraXML = `<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="5" y="0" z="0"/><vertex x="0" y="4" z="0"/><vertex x="0" y="0" z="3"/></vertices>` +
	`<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles></mesh>`

// fileOf packs a model with the given attributes, resources and build.
func fileOf(t testing.TB, attrs, resources, build string) []byte {
	return archive(t, relsPart, relsContent, modelPart,
		`<model xmlns="`+namespace+`" `+attrs+`><resources>`+resources+`</resources><build>`+build+`</build></model>`)
}

func read(data []byte) (Package, error) {
	return Read(context.Background(), bytes.NewReader(data), int64(len(data)))
}

func TestWriteParts(t *testing.T) {
	data := written(t, Package{Title: `3/8 oz "A" & <B>`, Objects: []Object{
		{Name: "left", Mesh: tetra(), Offset: geom.Vec{X: -2.5, Y: 1, Z: 0.1}},
		{Name: "right", Mesh: tetra(), Offset: geom.Vec{X: 30, Y: -0.7}},
	}})
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	parts := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, f.Name)
		parts[f.Name] = string(body)
		if f.ModifiedDate != 0 || f.ModifiedTime != 0 {
			t.Errorf("%s carries a time", f.Name)
		}
	}
	if got, want := strings.Join(names, " "), "[Content_Types].xml _rels/.rels 3D/3dmodel.model"; got != want {
		t.Errorf("parts %s, want %s", got, want)
	}
	for part, want := range map[string][]string{
		typesPart: {`Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"`},
		relsPart:  {`Target="/3D/3dmodel.model"`, `Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"`},
		modelPart: {
			`<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">`,
			`<metadata name="Title">3/8 oz &#34;A&#34; &amp; &lt;B&gt;</metadata>`,
			`<metadata name="Application">halfpour</metadata>`,
			`<object id="1" type="model" name="left">`,
			`<vertex x="5" y="0" z="0"/>`,
			`<triangle v1="0" v2="2" v3="1"/>`,
			`<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 1.7 0.1"/>`,
			`<item objectid="2" transform="1 0 0 0 1 0 0 0 1 32.5 0 0"/>`,
		},
	} {
		for _, w := range want {
			if !strings.Contains(parts[part], w) {
				t.Errorf("%s lacks %s:\n%s", part, w, parts[part])
			}
		}
	}
}

func TestWriteIsReproducible(t *testing.T) {
	pkg := Package{Title: "jig", Objects: []Object{{Name: "left", Mesh: tetra()}}}
	if !bytes.Equal(written(t, pkg), written(t, pkg)) {
		t.Error("the same package gave different bytes")
	}
}

func TestRoundTrip(t *testing.T) {
	odd := tetra().Transform(func(p geom.Vec) geom.Vec { return p.Mul(0.1).Add(geom.Vec{X: -123.456, Y: 1e-7, Z: -2.4}) }, false)
	pkg := Package{Title: "<jig> & co", Objects: []Object{
		{Name: `the "left" one`, Mesh: tetra(), Offset: geom.Vec{X: -50, Z: 0.3}}, {Name: "right", Mesh: odd},
	}}
	got, err := read(written(t, pkg))
	if err != nil {
		t.Fatal(err)
	}
	if got.Title != pkg.Title || len(got.Objects) != 2 {
		t.Fatalf("got %+v", got)
	}
	shift := got.Objects[0].Offset.Sub(pkg.Objects[0].Offset)
	for i, o := range got.Objects {
		want := pkg.Objects[i]
		if o.Name != want.Name || fmt.Sprint(o.Mesh.Triangles) != fmt.Sprint(want.Mesh.Triangles) {
			t.Errorf("object %d: got %q %v", i, o.Name, o.Mesh.Triangles)
		}
		if d := o.Offset.Sub(want.Offset).Dist(shift); d > 1e-6 {
			t.Errorf("object %d moved by %g mm against the first", i, d)
		}
		for n, v := range o.Mesh.Vertices {
			if w := want.Mesh.Vertices[n]; float32(v.X) != float32(w.X) || float32(v.Y) != float32(w.Y) || float32(v.Z) != float32(w.Z) {
				t.Errorf("object %d, vertex %d: got %v, want %v", i, n, v, w)
			}
			if p := v.Add(o.Offset); p.Min(geom.Vec{}).Norm() > 1e-8 {
				t.Errorf("object %d, vertex %d lies at %v, outside the positive octant", i, n, p)
			}
		}
	}
}

func TestWriteRefuses(t *testing.T) {
	bad := tetra()
	bad.Vertices[2].X = math.NaN()
	beyond := tetra()
	beyond.Triangles[1][1] = 4
	for name, pkg := range map[string]Package{
		"no objects":   {},
		"no mesh":      {Objects: []Object{{Name: "x"}}},
		"no triangles": {Objects: []Object{{Mesh: &geom.TriMesh{}}}},
		"NaN":          {Objects: []Object{{Mesh: bad}}},
		"index":        {Objects: []Object{{Mesh: beyond}}},
		"offset":       {Objects: []Object{{Mesh: tetra(), Offset: geom.Vec{Y: math.Inf(1)}}}},
	} {
		var out bytes.Buffer
		if err := Write(&out, pkg); err == nil || out.Len() > 0 {
			t.Errorf("%s: got error %v after %d bytes", name, err, out.Len())
		}
	}
}

func TestReadPlacesObjects(t *testing.T) {
	one := `<object id="1" type="model" name="t">` + tetraXML + `</object>`
	const quarter = "0 1 0 -1 0 0 0 0 1 " // 90° about Z
	for _, tt := range []struct {
		name, attrs, resources, build string
		objects                       int
		volume                        float64 // of all
		box                           geom.Box
	}{
		{"as it is", "", one, `<item objectid="1"/>`, 1, 10, geom.BoxOf(geom.Vec{}, geom.Vec{X: 5, Y: 4, Z: 3})},
		{"inches", `unit="inch"`, one, `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 1 0 0"/>`, 1, 10 * 25.4 * 25.4 * 25.4,
			geom.BoxOf(geom.Vec{X: 25.4}, geom.Vec{X: 6 * 25.4, Y: 4 * 25.4, Z: 3 * 25.4})},
		{"turned, then moved", "", one, `<item objectid="1" transform="` + quarter + `10 20 30"/>`, 1, 10,
			geom.BoxOf(geom.Vec{X: 6, Y: 20, Z: 30}, geom.Vec{X: 10, Y: 25, Z: 33})},
		{"mirrored", "", one, `<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>`, 1, 10,
			geom.BoxOf(geom.Vec{X: -5}, geom.Vec{Y: 4, Z: 3})},
		{"twice", "", one, `<item objectid="1"/><item objectid="1" transform="1 0 0 0 1 0 0 0 1 6 0 0"/>`, 2, 20,
			geom.BoxOf(geom.Vec{}, geom.Vec{X: 11, Y: 4, Z: 3})},
		{"components of components", "",
			one + `<object id="2"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 1 1 0 0"/></components></object>` +
				`<object id="3"><components><component objectid="1"/><component objectid="2" transform="` + quarter + `0 0 7"/></components></object>`,
			`<item objectid="3"/>`, 1, 20, geom.BoxOf(geom.Vec{X: -4}, geom.Vec{X: 5, Y: 6, Z: 10})},
		{"a support left out", "", one + `<object id="2" type="support">` + tetraXML + `</object>`,
			`<item objectid="2"/><item objectid="1"/>`, 1, 10, geom.BoxOf(geom.Vec{}, geom.Vec{X: 5, Y: 4, Z: 3})},
		{"what it does not know", `xmlns:x="urn:x"`, `<x:basematerials id="9"><x:base><x:object id="1"/></x:base></x:basematerials>` + one,
			`<x:item objectid="7"/><item objectid="1"/>`, 1, 10, geom.BoxOf(geom.Vec{}, geom.Vec{X: 5, Y: 4, Z: 3})},
	} {
		t.Run(tt.name, func(t *testing.T) {
			pkg, err := read(fileOf(t, tt.attrs, tt.resources, tt.build))
			if err != nil {
				t.Fatal(err)
			}
			volume, box := 0.0, geom.EmptyBox()
			for _, o := range pkg.Objects {
				volume += o.Mesh.Volume()
				b := o.Mesh.BoundingBox()
				box = box.Union(geom.Box{Min: b.Min.Add(o.Offset), Max: b.Max.Add(o.Offset)})
				if f := geom.Audit(o.Mesh); len(f) > 0 && !f[0].IsNote() {
					t.Error(f)
				}
			}
			if len(pkg.Objects) != tt.objects || math.Abs(volume-tt.volume) > 1e-9*tt.volume {
				t.Errorf("%d objects, volume %v, want %d, %v", len(pkg.Objects), volume, tt.objects, tt.volume)
			}
			if box.Min.Dist(tt.box.Min)+box.Max.Dist(tt.box.Max) > 1e-9 {
				t.Errorf("box %v, want %v", box, tt.box)
			}
		})
	}
}

// doubling returns objects of which each holds the one before twice.
func doubling(levels int) string {
	s := `<object id="1">` + tetraXML + `</object>`
	for i := 2; i <= levels; i++ {
		c := fmt.Sprintf(`<component objectid="%d"/>`, i-1)
		s += fmt.Sprintf(`<object id="%d"><components>%s%s</components></object>`, i, c, c)
	}
	return s
}

func numbered(format string, n int) string {
	var s strings.Builder
	for i := range n {
		fmt.Fprintf(&s, format, i)
	}
	return s.String()
}

func TestReadRefuses(t *testing.T) {
	one := `<object id="1">` + tetraXML + `</object>`
	item := `<item objectid="1"/>`
	broken := func(old, new string) []byte { return fileOf(t, "", strings.Replace(one, old, new, 1), item) }
	valid := fileOf(t, "", one, item)
	for _, tt := range []struct {
		name   string
		data   []byte
		rule   Rule
		detail string
	}{
		{"not a zip archive", []byte("solid x"), RuleArchive, "not a 3MF file"},
		{"cut short", valid[:len(valid)/2], RuleArchive, "not a 3MF file"},
		{"no relationships", archive(t, modelPart, "<model/>"), RuleMissing, "no such part"},
		{"no model relationship", archive(t, relsPart, "<Relationships/>"), RuleMissing, "no relationship"},
		{"relationships not XML", archive(t, relsPart, "<"), RuleXML, "not well-formed"},
		{"no model part", archive(t, relsPart, relsContent), RuleMissing, "no such part"},
		{"another namespace", archive(t, relsPart, relsContent, modelPart, `<model xmlns="urn:x"/>`), RuleMissing, "root element"},
		{"model not closed", archive(t, relsPart, relsContent, modelPart, `<model xmlns="`+namespace+`"><resources>`), RuleXML, "not well-formed"},
		{"two parts of one name", archive(t, relsPart, relsContent, modelPart, "<model/>", strings.ToUpper(modelPart), "<model/>"), RuleDuplicate, "two parts of this name"},
		{"two models", archive(t, relsPart, strings.Replace(relsContent, "</Rel", `<Relationship Target="/b" Type="`+modelRel+`"/></Rel`, 1)), RuleDuplicate, `two models, "3D/3dmodel.model" and "b"`},
		{"two objects of one id", fileOf(t, "", one+one, item), RuleDuplicate, `two objects with the id "1"`},
		{"an object without an id", fileOf(t, "", one+`<object>`+tetraXML+`</object>`, item), RuleReference, "an object has no id"},
		{"a coordinate of another namespace", fileOf(t, `xmlns:x="urn:x"`, strings.Replace(one, `x="5"`, `x:x="5"`, 1), item), RuleNumber, `got ""`},
		{"document type", archive(t, relsPart, relsContent, modelPart, `<!DOCTYPE model><model/>`), RuleXML, "document type"},
		{"empty model", archive(t, relsPart, relsContent, modelPart, ``), RuleNoTriangles, "no object"},
		{"unknown unit", fileOf(t, `unit="cubit"`, one, item), RuleUnit, `"cubit"`},
		{"nothing on the plate", fileOf(t, "", one, ""), RuleNoTriangles, "no object"},
		{"an object that is not there", fileOf(t, "", one, `<item objectid="2"/>`), RuleReference, `"2"`},
		{"an object in itself", fileOf(t, "", `<object id="1"><components><component objectid="1"/></components></object>`, item), RuleReference, `"1"`},
		{"NaN", broken(`x="5"`, `x="NaN"`), RuleNumber, `"NaN"`},
		{"no coordinate", broken(`x="5"`, ``), RuleNumber, `""`},
		{"index too high", broken(`v1="1"`, `v1="4"`), RuleIndex, `v1 is "4", the object has 4 vertices`},
		{"index negative", broken(`v1="1"`, `v1="-1"`), RuleIndex, `"-1"`},
		{"short transform", fileOf(t, "", one, `<item objectid="1" transform="1 0 0"/>`), RuleNumber, "3 numbers, expected 12"},
		{"doubled beyond measure", fileOf(t, "", doubling(30), `<item objectid="30"/>`), RuleSize, "repeat what the file holds"},
		{"nested beyond measure", fileOf(t, "", doubling(40), item), RuleSize, "32 deep"},
		{"a zip bomb", fileOf(t, "", strings.Repeat("<a>  </a>", 1<<19), item), RuleSize, "unpacks from 0.00931 to 4.72 MB"},
		{"a bomb of one text", fileOf(t, "", strings.Repeat(" ", 1<<18), item), RuleSize, "more than 65536 bytes"},
		{"a bomb of one tag", fileOf(t, "", "<a "+strings.Repeat("x='' ", 1<<16)+"/>", item), RuleSize, "more than 65536 bytes"},
		{"elements in elements", fileOf(t, "", strings.Repeat("<a>", 1<<10), item), RuleSize, "64 deep"},
		{"objects without number", fileOf(t, "", numbered(`<object id="%d"/>`, mostObjects+1), item), RuleSize, "16384 objects"},
		{"items without number", stored(t, relsPart, relsContent, modelPart,
			`<model xmlns="`+namespace+`"><resources>`+one+`</resources><build>`+strings.Repeat(item, mostPlaced+1)), RuleSize, "65536 items"},
		{"a model outside the archive", archive(t, relsPart, strings.Replace(relsContent, "/"+modelPart, "../../etc/passwd", 1)), RuleMissing, "etc/passwd: the archive has no such part"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			pkg, err := read(tt.data)
			var got *FormatError
			if !errors.As(err, &got) {
				t.Fatalf("got %v, %v; want a FormatError", pkg, err)
			}
			if got.Rule != tt.rule || !strings.Contains(got.Error(), tt.detail) {
				t.Errorf("got %s, %q; want %s, %q", got.Rule, got, tt.rule, tt.detail)
			}
		})
	}
	for name, data := range map[string][]byte{
		"extension": fileOf(t, `requiredextensions="b"`, one, item),
		"external":  archive(t, relsPart, strings.Replace(relsContent, "Target=", `TargetMode="External" Target=`, 1)),
		"path":      fileOf(t, `xmlns:p="urn:p"`, one, `<item objectid="1" p:path="/3D/other.model"/>`),
	} {
		var got *UnsupportedError
		if _, err := read(data); !errors.As(err, &got) {
			t.Errorf("%s: got %v, want an UnsupportedError", name, err)
		}
	}
}

func grid(side int) *geom.TriMesh {
	m := &geom.TriMesh{}
	for i := range side * side {
		x, y := float64(i%side)*0.137, float64(i/side)*0.211
		m.Vertices = append(m.Vertices, geom.Vec{X: x, Y: y, Z: math.Sin(x) * math.Cos(y)})
		if n, s := int32(i), int32(side); i%side > 0 && i/side > 0 {
			m.Triangles = append(m.Triangles, [3]int32{n - s - 1, n - s, n}, [3]int32{n - s - 1, n, n - 1})
		}
	}
	return m
}

func BenchmarkWrite(b *testing.B) {
	pkg := Package{Objects: []Object{{Mesh: grid(388)}}} // 300 k triangles
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, pkg); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	data := written(b, Package{Objects: []Object{{Mesh: grid(388)}}})
	b.ReportAllocs()
	b.Logf("%d bytes", len(data))
	for b.Loop() {
		if _, err := read(data); err != nil {
			b.Fatal(err)
		}
	}
}
