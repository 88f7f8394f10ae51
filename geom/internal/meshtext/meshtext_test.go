package meshtext

import (
	"bytes"
	"errors"
	"math"
	"runtime"
	"strings"
	"testing"
)

func TestNumber(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "-1.5": -1.5, "+.25": 0.25, "2.": 2, "1e3": 1000, "1E-3": 1e-3, "3.4028234663852886e38": math.MaxFloat32, "1e-400": 0,
	} {
		if got, err := Number([]byte(text)); err != nil || got != want {
			t.Errorf("%s: got %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"nan", "NaN", "inf", "-Infinity", "1e999", "3.5e38", "-1e39"} {
		if _, err := Number([]byte(text)); !errors.Is(err, ErrNotFinite) {
			t.Errorf("%s: got %v", text, err)
		}
	}
	for text, want := range map[string]string{
		"":                      `expected a number, got ""`,
		"1,5":                   `expected a number, got "1,5"; export with a decimal point`,
		"0x10p0":                `expected a number, got "0x10p0"`,
		"1_000":                 `expected a number, got "1_000"`,
		"1.2.3":                 `expected a number, got "1.2.3"`,
		"--1":                   `expected a number, got "--1"`,
		strings.Repeat("x", 99): `expected a number, got "` + strings.Repeat("x", 24) + `"...`,
	} {
		if _, err := Number([]byte(text)); err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
}

func TestName(t *testing.T) {
	for raw, want := range map[string]string{
		"ball\x00\x00 head\r": "ball head",
		"  a \t b ":           "a b",
		"gr\u00fcn \xff\xfe.": "grün .",
		"\x1b[31mred":         "[31mred",
	} {
		if got := Name([]byte(raw)); got != want {
			t.Errorf("%q: got %q, want %q", raw, got, want)
		}
	}
}

// A line of any length costs no more than a name.
func TestLongName(t *testing.T) {
	long := bytes.Repeat([]byte("a "), 1<<20)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	name := Name(long)
	runtime.ReadMemStats(&after)
	if got := after.TotalAlloc - before.TotalAlloc; got > 64<<10 || len(name) > 256 {
		t.Errorf("%d bytes allocated, a name of %d", got, len(name))
	}
}
