package obj

import (
	"context"
	"errors"
	"math"
	"runtime"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
)

func FuzzDecode(f *testing.F) {
	for _, s := range decodeSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryDecode(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangled(t *testing.T) { geomtest.Mangle(t, decodeSamples(t), tryDecode) }

func decodeSamples(t testing.TB) (samples [][]byte) {
	add := func(data []byte) { samples = append(samples, data) }
	add([]byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf 1 3 2\nf 1//1 2//1 4\nf -1 -3 -2\nf 1 4 3\n"))
	add([]byte("o a\ng b\nv 0 0 0\nv 2 0 0\nv 2 1 0\nv 1 1 0\nv 1 2 0\nv 0 2 0\nf 1 2 3 \\\n4 5 6\nl 1 2\n"))
	add([]byte("v 0 0 0\r\nv 1 0 0 #x\rv 1 1 .5\nv 0 1 0\nf 1/1 2/2/2 3 4\nsurf"))
	add([]byte("call x"))
	return samples
}

func tryDecode(t testing.TB, data []byte) {
	if len(data) > 4<<10 {
		return
	}
	m, info, err := Decode(context.Background(), data)
	if err != nil {
		var format *FormatError
		var unsupported *UnsupportedError
		if !errors.As(err, &format) && !errors.As(err, &unsupported) || err.Error() == "" {
			t.Fatalf("error of type %T: %v", err, err)
		}
		if format != nil && (format.Rule == "" || format.Line > 1+len(data)) {
			t.Fatalf("misplaced error %#v", format)
		}
		return
	}
	if len(m.Triangles) == 0 || !(info.Warp >= 0) || math.IsInf(info.Warp, 0) && info.WarpLine == 0 {
		t.Fatalf("%d triangles of %+v", len(m.Triangles), info)
	}
	for _, c := range m.Triangles {
		for k, v := range c {
			if v < 0 || int(v) >= len(m.Vertices) || v == c[(k+1)%3] || !m.Vertices[v].IsFinite() {
				t.Fatalf("triangle %v of %d vertices", c, len(m.Vertices))
			}
		}
	}
}

// The least text of a vertex takes 8 bytes ("v 0 0 0" and its line end), that
// of a face's further corner 2, for which there is a triangle of 12.
func TestMemoryBound(t *testing.T) {
	var circle strings.Builder
	for range 100 {
		circle.WriteString("f" + strings.Repeat(" 1 2 3 4", maxCorners/4) + "\n")
	}
	for name, text := range map[string]string{
		"boxes":           strings.Repeat(box, 2000),
		"vertices":        strings.Repeat("v 0 0 0\n", 1<<17),
		"large faces":     "v 0 0 0\nv 9 0 0\nv 9 9 0\nv 0 9 0\n" + circle.String(),
		"one long word":   "v " + strings.Repeat("1", 1<<20),
		"one long line":   "v" + strings.Repeat(" 1", 1<<20),
		"one long face":   "v 0 0 0\nf" + strings.Repeat(" 1", 1<<20),
		"words in a name": "o" + strings.Repeat(" a", 1<<20),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, _, err := Decode(context.Background(), []byte(text))
		runtime.ReadMemStats(&after)
		got := float64(after.TotalAlloc-before.TotalAlloc) / float64(len(text))
		t.Logf("%s: %.1f bytes for a byte of input", name, got)
		if most := 32.0; got > most {
			t.Errorf("%s (%v): %.1f bytes allocated for a byte of input, want at most %v", name, err, got, most)
		}
	}
}
