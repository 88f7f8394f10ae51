package head

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"path/filepath"
	"regexp"
	"strings"

	"halfpour/geom/obj"
	"halfpour/geom/stl"
)

// formatOf tells the format of a file by its content. The name decides only for
// text that could be of more than one.
func formatOf(name string, data []byte) (Format, error) {
	ending := strings.ToLower(filepath.Ext(name))
	switch {
	case len(data) == 0:
		return "", refuse(name, "empty", "the file is empty", "export the head from your CAD program again")
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return ThreeMF, nil
	case stl.IsBinary(data):
		return STL, nil
	}
	if what, hint := foreign(data); what != "" {
		return "", refuse(name, "unsupported", "is "+what+", not a mesh", hint)
	}
	switch {
	case len(data) < leastBytes:
		return "", refuse(name, "short", fmt.Sprintf("has only %s, too short for a mesh", counted(len(data), "byte", "bytes")),
			"export the head from your CAD program again")
	case obj.Likely(data):
		return OBJ, nil
	case stl.Likely(data):
		return STL, nil
	case !isText(data) || ending == ".3mf":
		return "", refuse(name, "unsupported", "is not an STL, OBJ or 3MF file, or only part of one", exportHint)
	case ending == ".obj":
		return OBJ, nil
	}
	return STL, nil
}

// leastBytes is the length of the shortest file that can hold a mesh: an OBJ file
// of four vertices and four faces.
const leastBytes = len("v 0 0 0\n")*4 + len("f 1 2 3\n")*4 - 1

const exportHint = "export the head from your CAD program as STL, OBJ or 3MF"

// foreign names other kinds of file that are taken for meshes, and says what to
// do with one; "" for none that it knows.
func foreign(data []byte) (what, hint string) {
	for _, k := range foreignKinds {
		if bytes.HasPrefix(data, []byte(k.start)) && (k.also == nil || k.also(data)) {
			return k.what, k.hint
		}
	}
	switch {
	case isIGES(data):
		return "an IGES model", exportHint
	case gcodeStart.Match(data):
		return "G-code, made for a printer", exportHint
	}
	if isUTF16(data) {
		return "text in UTF-16", "save it as UTF-8 text, or export the head as binary STL"
	}
	return "", ""
}

// isIGES reports whether the first line is a card of the start section: S in column 73,
// then its number (from memory).
func isIGES(data []byte) bool {
	return len(data) >= 80 && data[72] == 'S' && strings.TrimLeft(string(data[73:80]), " 0") == "1"
}

// gcodeStart is remarks, then a command (from memory).
var gcodeStart = regexp.MustCompile(`^(\s*(;[^\n]*)?\n)*\s*[GM][0-9]+[ .;\r\n]`)

// foreignKinds are told by their first bytes, as the formats define them (from
// memory).
var foreignKinds = []struct {
	start, what, hint string
	also              func(data []byte) bool // nil where the start is enough
}{
	{"\x89PNG\r\n\x1a\n", "a PNG picture", exportHint, nil},
	{"\xff\xd8\xff", "a JPEG picture", exportHint, nil},
	{"GIF8", "a GIF picture", exportHint, nil},
	{"BM", "a BMP picture", exportHint, func(data []byte) bool { // it states its own size
		return len(data) >= 10 && uint64(binary.LittleEndian.Uint32(data[2:])) == uint64(len(data))
	}},
	{"II*\x00", "a TIFF picture", exportHint, nil},
	{"MM\x00*", "a TIFF picture", exportHint, nil},
	{"RIFF", "a picture, sound or film", exportHint, nil},
	{"%PDF-", "a PDF document", exportHint, nil},
	{"\x1f\x8b", "a gzip archive", "unpack it, and name the mesh inside", nil},
	{"7z\xbc\xaf\x27\x1c", "a 7z archive", "unpack it, and name the mesh inside", nil},
	{"Rar!\x1a\x07", "a RAR archive", "unpack it, and name the mesh inside", nil},
	{"ISO-10303-21", "a STEP model", exportHint, nil},
	{"ply\n", "a PLY file", exportHint, nil},
	{"ply\r\n", "a PLY file", exportHint, nil},
	{"OFF\n", "an OFF file", exportHint, nil},
	{"OFF\r\n", "an OFF file", exportHint, nil},
	{"glTF", "a glTF model", exportHint, nil},
	{"<", "XML or HTML text", exportHint, nil},
	{"\ufeff<", "XML or HTML text", exportHint, nil},
	{"{", "JSON text", exportHint, nil},
	{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a document of another program", exportHint, nil},
	{"\x7fELF", "a program", exportHint, nil},
}

// isUTF16 tells by the mark at the start, or without one by the zero bytes
// beside each plain character.
func isUTF16(data []byte) bool {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return true
	}
	const enough = 32
	if len(data) < enough {
		return false
	}
	zeros := [2]int{}
	for i, c := range data[:enough] {
		if c == 0 {
			zeros[i%2]++
		} else if c >= 0x80 || !isText(data[i:i+1]) {
			return false
		}
	}
	return zeros == [2]int{enough / 2, 0} || zeros == [2]int{0, enough / 2}
}

// isText reports whether data begins without control characters, but for those
// that text has between words.
func isText(data []byte) bool {
	const most = 512
	for _, c := range data[:min(len(data), most)] {
		if c < ' ' && (c < '\t' || c > '\r') || c == 0x7f {
			return false
		}
	}
	return true
}
