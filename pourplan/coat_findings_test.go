package pourplan

import (
	"strings"
	"testing"

	"halfpour/moldbox"
)

// A coat is baked only on metal that stays solid 20 K above the oven.
func TestCoatOnMetalThatMelts(t *testing.T) {
	for _, c := range []struct {
		metal, finish string
		want          moldbox.Severity // "" for nothing
		says          string
	}{
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1", moldbox.Stop, "bakes at 200 °C (392 °F), but bismuth-tin 58-42 begins to melt at 138 °C"},
		{`preset = "bismuth-tin 58-42"`, "", "", ""},
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1\nbake = 118", "", ""},
		{`preset = "bismuth-tin 58-42"`, "powder = 0.1\nbake = 119", moldbox.Stop, "bakes at 119 °C"},
		{`preset = "tin"`, "powder = 0.1", "", ""},
		{`preset = "tin"`, "powder = 0.1\nbake = 215", moldbox.Stop, "begins to melt at 232 °C"},
		{`preset = "lead-antimony 4"`, "powder = 0.1", "", ""},
		{`preset = "lead-tin 95-5"`, "powder = 0.1", moldbox.Stop, "begins to melt at 182 °C"},
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
