package pourplan

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
)

func TestReadWeights(t *testing.T) {
	const oz = 28.349523125 // g, NIST Handbook 44 appendix C
	for _, c := range []struct {
		text string
		want []float64
	}{
		{"10.61 10.58 10.7", []float64{10.61, 10.58, 10.7}},
		{" 10.61, 10.58; 10.7 ", []float64{10.61, 10.58, 10.7}},
		{"0.374oz 0.371oz", []float64{0.374 * oz, 0.371 * oz}},
		{"0.374 0.371 oz", []float64{0.374 * oz, 0.371 * oz}},
		{"3/8 oz", []float64{0.375 * oz}},
		{"164 gr 10.6 G", []float64{164 * 0.06479891, 10.6}},
		{"7", []float64{7}},
	} {
		got, err := ReadWeights(c.text)
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%q: got %v, %v", c.text, got, err)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%q: got %v, want %v", c.text, got, c.want)
			}
		}
	}
	for text, want := range map[string]string{
		"":                         "got none",
		"10,61 10,58":              "the decimal sign is a point",
		"g 10":                     `got "g"`,
		"0.374oz 0.371":            "got a mix",
		"10.61 oz 10.58 10.7":      "got a mix",
		"10 mm":                    `want a mass such as "3/8 oz" or "14 g", got "10"`,
		"10 -3":                    `want weights above 0 and at most 100000 g, got "-3"`,
		"0 3":                      `want weights above 0 and at most 100000 g, got "0"`,
		"10 troy oz":               `got "oz"`,
		strings.Repeat("7 ", 1001): "want at most 1000 weights at a time, got 1001",
	} {
		if got, err := ReadWeights(text); err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%.20q: got %v, %v, want %s", text, got, err, want)
		}
	}
}

// No text panics, and what is read is a weight.
func FuzzReadWeights(f *testing.F) {
	for _, s := range weightsSamples() {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryWeights(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledWeights(t *testing.T) { geomtest.Mangle(t, weightsSamples(), tryWeights) }

func weightsSamples() (samples [][]byte) {
	for _, s := range []string{"10.61 10.58", "0.374 0.371 oz", "3/8 oz; 1 1/2oz", "1e308kg", "10,6",
		strings.Repeat("7 ", maxWeights), "164 gr 10.6 G\t.5 lb", "½ oz 1½oz"} {
		samples = append(samples, []byte(s))
	}
	return samples
}

func tryWeights(t testing.TB, data []byte) {
	got, err := ReadWeights(string(data))
	if err != nil {
		if len(got) > 0 || err.Error() == "" {
			t.Errorf("%v with %v", err, got)
		}
		return
	}
	if len(got) == 0 || len(got) > maxWeights {
		t.Errorf("%d weights and no error", len(got))
	}
	for _, g := range got {
		if !(g > 0 && g <= maxWeight) {
			t.Errorf("read %g g", g)
		}
	}
	// Written in grams they are the same weights.
	var text strings.Builder
	for _, g := range got {
		text.WriteString(strconv.FormatFloat(g, 'f', -1, 64) + " ")
	}
	if again, err := ReadWeights(text.String()); err != nil || !slices.Equal(again, got) {
		t.Errorf("%v written and read again are %v, %v", got, again, err)
	}
}
