package head

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf16"
)

// What is no mesh is called what it is, whatever its name.
func TestKindsThatAreNoMesh(t *testing.T) {
	var picture, photo bytes.Buffer
	pixels := image.NewGray(image.Rect(0, 0, 40, 40))
	if err := errors.Join(png.Encode(&picture, pixels), jpeg.Encode(&photo, pixels, nil)); err != nil {
		t.Fatal(err)
	}
	random := make([]byte, 4000)
	rnd := rand.New(rand.NewPCG(1, 2))
	for i := range random {
		random[i] = byte(rnd.Uint32())
	}
	const text = "v 0 0 0\nv 5 0 0\nv 0 4 0\nv 0 0 3\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n"
	wide := func(bigFirst bool, mark string) (out []byte) {
		for _, u := range utf16.Encode([]rune(mark + text)) {
			low, high := byte(u), byte(u>>8)
			if bigFirst {
				low, high = high, low
			}
			out = append(out, low, high)
		}
		return out
	}
	rest := strings.Repeat(" 0", 99)
	for _, c := range []struct {
		name string
		data []byte
		rule string
		want string
		hint string
	}{
		{"one letter", []byte("v"), "short", "has only 1 byte, too short for a mesh", "export the head"},
		{"one byte", []byte{7}, "short", "has only 1 byte,", "export the head"},
		{"a mesh cut off", []byte(text[:40]), "short", "has only 40 bytes,", "export the head"},
		{"picture", picture.Bytes(), "unsupported", "is a PNG picture, not a mesh", "as STL, OBJ or 3MF"},
		{"photo", photo.Bytes(), "unsupported", "is a JPEG picture, not a mesh", "as STL, OBJ or 3MF"},
		{"random bytes", random, "unsupported", "is not an STL, OBJ or 3MF file", "as STL, OBJ or 3MF"},
		{"few random bytes", random[:100], "unsupported", "or only part of one", "as STL, OBJ or 3MF"},
		{"zeros", make([]byte, 5000), "unsupported", "is not an STL, OBJ or 3MF file", "as STL, OBJ or 3MF"},
		{"UTF-16", wide(false, "\ufeff"), "unsupported", "is text in UTF-16, not a mesh", "save it as UTF-8 text"},
		{"UTF-16, big end first", wide(true, "\ufeff"), "unsupported", "is text in UTF-16", "save it as UTF-8 text"},
		{"UTF-16 without a mark", wide(false, ""), "unsupported", "is text in UTF-16", "save it as UTF-8 text"},
		{"UTF-16 without a mark, big end first", wide(true, ""), "unsupported", "is text in UTF-16", "save it as UTF-8 text"},
		{"gzip", []byte("\x1f\x8b\x08" + rest), "unsupported", "is a gzip archive", "unpack it"},
		{"STEP", []byte("ISO-10303-21;\n" + rest), "unsupported", "is a STEP model", "as STL, OBJ or 3MF"},
		{"IGES", []byte(strings.Repeat(" ", 72) + "S      1\n" + rest), "unsupported", "is an IGES model", "as STL, OBJ or 3MF"},
		{"G-code", []byte("; a remark\n\nG28 ; home\nG1 X0\n" + rest), "unsupported", "is G-code", "as STL, OBJ or 3MF"},
		{"PLY", []byte("ply\nformat ascii 1.0\n" + rest), "unsupported", "is a PLY file", "as STL, OBJ or 3MF"},
		{"OFF", []byte("OFF\n4 4 6\n" + rest), "unsupported", "is an OFF file", "as STL, OBJ or 3MF"},
		{"XML", []byte("<?xml version='1.0'?>" + rest), "unsupported", "is XML or HTML text", "as STL, OBJ or 3MF"},
		{"a zip archive of something", zipOf(t, "head.stl", text), "missing", "is a zip archive, but not a 3MF file", "unpack it"},
	} {
		for _, ending := range []string{".stl", ".obj", ".3mf", ""} {
			_, err := Read(context.Background(), "head"+ending, c.data)
			var refused *Error
			if !errors.As(err, &refused) {
				t.Errorf("%s as %q: got %v, want an Error", c.name, ending, err)
				continue
			}
			if p := refused.Problems[0]; p.Rule != c.rule || !strings.Contains(p.Message, c.want) || !strings.Contains(strings.Join(p.Hints, "\n"), c.hint) {
				t.Errorf("%s as %q: got %+v", c.name, ending, p)
			}
		}
	}
}

// A BMP picture and a header of a binary STL file can begin alike.
func TestHeaderThatBeginsAsAnother(t *testing.T) {
	for _, start := range []string{"BM", "RIFF", "{", "<", "GIF8", "PLY\n", "solid"} {
		data := goodHead().binary(t)
		copy(data, start)
		if _, err := Read(context.Background(), "head.stl", data); err != nil {
			t.Errorf("%q: %v", start, err)
		}
	}
}

func zipOf(t *testing.T, name, text string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	w, err := z.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write([]byte(text)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A mesh that no mold can be made of is refused before it is looked at.
func TestTooManyFacets(t *testing.T) {
	h := &Head{Mesh: block(1, 1, 1)}
	var refused *Error
	if err := h.fits(11); !errors.As(err, &refused) || refused.Problems[0].Rule != "too-many-facets" {
		t.Errorf("12 facets, at most 11: %v", err)
	}
	if err := h.fits(12); err != nil {
		t.Errorf("12 facets, at most 12: %v", err)
	}
}
