package page

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// A cut of two cells over each other and two moments, the upper one of metal: rows
// from above, temperatures between the ends, a bit for the metal.
func TestPackShot(t *testing.T) {
	cut := moldbox.HeatCut{Least: geom.Vec{}, Step: 0.8, NX: 1, NY: 2, Times: []float64{0.5, 2},
		C: [][]float32{{60, 300}, {80, 180}}, Solid: [][]float32{{-1, 0}, {-1, 0.6}}}
	text, err := packShot([]moldbox.HeatCut{cut})
	if err != nil {
		t.Fatal(err)
	}
	var p packedShot
	if err := json.Unmarshal([]byte(text), &p); err != nil {
		t.Fatal(err)
	}
	bytesOf := func(s string) []byte {
		b, err := base64.StdEncoding.DecodeString(s)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	if p.NX != 1 || p.NY != 2 || p.Low != 60 || p.High != 300 || !bytes.Equal(bytesOf(p.Warm), []byte{255, 0, 128, 21}) ||
		!bytes.Equal(bytesOf(p.Metal), []byte{1}) || !bytes.Equal(bytesOf(p.Solid), []byte{0, 150}) {
		t.Errorf("%s: %v %v %v", text, bytesOf(p.Warm), bytesOf(p.Metal), bytesOf(p.Solid))
	}
	if text, err := packShot(nil); text != "" || err != nil {
		t.Errorf("no cut: %q, %v", text, err)
	}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "shot", view{Shot: text}); err != nil || !strings.Contains(out.String(), `id="shot-time"`) || !strings.Contains(out.String(), `"nx":1`) {
		t.Errorf("%v: %s", err, out.String())
	}
}
