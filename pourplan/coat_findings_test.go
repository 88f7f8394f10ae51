package pourplan

import (
	"strings"
	"testing"

	"halfpour/moldbox"
)

// A coat is baked only on metal that stays solid 20 K above the oven, and stiff 40 K
// above it (common practice, no source).
func TestCoatOnMetalThatMelts(t *testing.T) {
	for _, c := range []struct {
		metal, finish string
		want          moldbox.Severity // "" for nothing
		says          string
	}{
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1", moldbox.Stop, "bakes at 200 °C (392 °F), but bismuth-tin 58-42 begins to melt at 138 °C"},
		{`preset = "bismuth-tin 58-42"`, "", "", ""},
		{`preset = "bismuth-tin 58-42"`, "bake = 180", moldbox.Stop, "bakes at 180 °C"},
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1\nbake = 97.9", "", ""},
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1\nbake = 98", moldbox.Warn, "it is soft in the oven"},
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1\nbake = 117.9", moldbox.Warn, "it is soft in the oven"},
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1\nbake = 118", moldbox.Stop, "bakes at 118 °C"},
		{`preset = "tin"`, "powder = 0.1\nbake = 180", "", ""},
		{`preset = "tin"`, "powder = 0.1", moldbox.Warn, "tin begins to melt at 232 °C"},
		{`preset = "tin"`, "powder = 0.1\nbake = 215", moldbox.Stop, "begins to melt at 232 °C"},
		{`preset = "lead-antimony 4"`, "powder = 0.1", "", ""},
		{`preset = "lead-tin 95-5"`, "powder = 0.1", moldbox.Stop, "begins to melt at 182 °C"},
		{"density = 10\nliquidus = 219\nshrink = 0.5", "powder = 0.1", moldbox.Stop, "begins to melt at 219 °C"},
		{"density = 10\nliquidus = 300\nshrink = 0.5", "powder = 0.1", moldbox.Warn, "nothing says where metal of the job begins to melt"},
		{"density = 10\nliquidus = 300\nshrink = 0.5\nsolidus = 250", "powder = 0.1", "", ""},
	} {
		job := read(t, swap(`preset = "lead-antimony 4"`, c.metal)(shortJob)+"[finish]\n"+c.finish+"\n")
		list := job.CoatFindings()
		if c.want == "" && len(list) == 0 {
			continue
		}
		if len(list) != 1 || list[0].Severity != c.want || !strings.Contains(list[0].Message, c.says) {
			t.Errorf("%s, %s: got %+v, want %s: %s", c.metal, c.finish, list, c.want, c.says)
		}
	}
}

// What to cast instead stands the oven, by its solidus, and brings no lead to a person
// who casts without.
func TestMetalsThatStandTheOven(t *testing.T) {
	for _, c := range []struct {
		metal string
		bake  float64
		want  string
	}{
		{`preset = "bismuth-tin 58-42"`, 180, "a metal that melts higher, such as tin, pewter 92, pewter 91"}, // solid to 232 and 227 °C
		{`preset = "bismuth-tin 58-42"`, 200, "a metal that melts higher, such as tin, pewter 92, pewter 91"},
		{`preset = "bismuth-tin 58-42"`, 215, "a metal that melts higher"},
		{`preset = "lead-tin 95-5"`, 200, "a metal that melts higher, such as lead, lead-antimony 2, lead-antimony 4"},
	} {
		m, err := read(t, swap(`preset = "lead-antimony 4"`, c.metal)(shortJob)).Metal.resolve()
		if err != nil {
			t.Fatal(err)
		}
		if got := standBake(m, c.bake); got != c.want {
			t.Errorf("%s at %g °C: %q, want %q", c.metal, c.bake, got, c.want)
		}
	}
}
