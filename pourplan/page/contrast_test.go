package page

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Text stands out from what it stands on, light and dark: by 4.5 to 1, and what
// is no text by 3 to 1 (Web Content Accessibility Guidelines 2.2, success
// criteria 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	css := asset("page.css")
	_, dark, found := strings.Cut(css, "@media (prefers-color-scheme: dark)")
	if !found {
		t.Fatal("no dark colours")
	}
	light := colours(css)
	for name, schemes := range map[string]map[string]float64{"light": light, "dark": colours(dark)} {
		for _, c := range []struct {
			text, ground string
			least        float64
		}{
			{"ink", "card", 4.5}, {"ink", "ground", 4.5}, {"soft", "card", 4.5}, {"soft", "ground", 4.5},
			{"accent", "card", 4.5}, {"accent", "ground", 4.5}, {"accent-ink", "accent", 4.5},
			{"stop", "card", 4.5}, {"warn", "card", 4.5}, {"note", "card", 4.5},
			{"focus", "card", 3}, {"focus", "stand", 3}, {"soft", "stand", 3},
		} {
			if got := contrast(schemes[c.text], schemes[c.ground]); !(got >= c.least) {
				t.Errorf("%s: %s on %s has a contrast of %.2f, want %.1f", name, c.text, c.ground, got, c.least)
			}
		}
	}
	// Black on white, by definition.
	if got := contrast(luminance("#000000"), luminance("#ffffff")); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white has a contrast of %g, want 21", got)
	}
}

// colours reads the first block of variables as luminances.
func colours(css string) map[string]float64 {
	block, _, _ := strings.Cut(css[strings.Index(css, ":root"):], "}")
	out := map[string]float64{}
	for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6})`).FindAllStringSubmatch(block, -1) {
		out[m[1]] = luminance(m[2])
	}
	return out
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(hex string) float64 {
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		if err != nil {
			return math.NaN()
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func contrast(a, b float64) float64 { return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05) }

// Numbers and letters of the drawings have a halo of their own, painted below
// them, and read on a dark hook as on white paper.
func TestLettersOfDrawingsHaveAHalo(t *testing.T) {
	css := asset("page.css")
	text := rule(t, css, ".drawing text")
	full := func(hex string) float64 { // of #abc, as #aabbcc
		if len(hex) != 4 {
			t.Fatalf("%q is no colour of three digits", hex)
		}
		return luminance("#" + strings.Repeat(hex[1:2], 2) + strings.Repeat(hex[2:3], 2) + strings.Repeat(hex[3:4], 2))
	}
	if got := contrast(full(text["fill"]), full(text["stroke"])); !(got >= 4.5) {
		t.Errorf("letters on their halo have a contrast of %.2f", got)
	}
	if text["paint-order"] != "stroke" {
		t.Error("the halo is painted over the letters")
	}
	size, _ := strconv.ParseFloat(strings.TrimSuffix(text["font-size"], "px"), 64)
	if width, _ := strconv.ParseFloat(text["stroke-width"], 64); width < size/5 || size == 0 {
		t.Errorf("a halo of %g round letters of %g is too thin", width, size)
	}
	for _, class := range []string{".big", ".small", ".beside"} {
		for _, part := range []string{"fill", "stroke", "stroke-width", "paint-order"} {
			if value, ok := rule(t, css, ".drawing "+class)[part]; ok {
				t.Errorf("%s has a %s of its own: %s", class, part, value)
			}
		}
	}
}

// rule reads what a style says of a selector that stands alone; nothing where it
// has none.
func rule(t *testing.T, css, selector string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^`+regexp.QuoteMeta(selector)+` \{([^}]*)\}`).FindAllStringSubmatch(css, -1) {
		for _, part := range strings.Split(m[1], ";") {
			if name, value, ok := strings.Cut(part, ":"); ok {
				out[strings.TrimSpace(name)] = strings.TrimSpace(value)
			}
		}
	}
	return out
}
