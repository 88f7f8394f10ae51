package pourplan

import (
	"math"
	"testing"

	"halfpour/moldbox"
)

// Metal that meets the rubber above its short-term limit is a warning, above the
// 350 °C at which silicone comes apart (Clarson & Semlyen, Polymer 27 (1986) 91) a
// stop; up to the limit it is neither, nor where the limit is above 350 °C.
func TestRubberThatMetalBurns(t *testing.T) {
	contact := func(j *Job) float64 {
		metal, err := j.Metal.resolve()
		if err != nil {
			t.Fatal(err)
		}
		rubber, err := j.Rubber.resolve()
		if err != nil {
			t.Fatal(err)
		}
		return planCasting(j.Casting, metal, rubber).ContactC
	}
	for _, c := range []struct {
		meet, limit float64 // °C
		want        moldbox.Severity
	}{
		{314.9, 315, ""}, {315.1, 315, moldbox.Warn}, {349.9, 315, moldbox.Warn}, {350.1, 315, moldbox.Stop},
		{250.1, 250, moldbox.Warn}, {359.9, 360, ""}, {360.1, 360, moldbox.Stop},
	} {
		job := read(t, shortJob)
		short := Celsius(c.limit)
		pour := Celsius(400)
		job.Rubber.Short, job.Casting.Pour = &short, &pour
		// Where they meet goes straight with the pour.
		at400 := contact(job)
		pour = 500
		pour = Celsius(400 + (c.meet-at400)/(contact(job)-at400)*100)
		if got := contact(job); math.Abs(got-c.meet) > 1e-6 {
			t.Fatalf("they meet at %g °C, want %g", got, c.meet)
		}
		list := job.RubberFindings()
		switch {
		case c.want == "" && len(list) == 0:
		case len(list) != 1 || list[0].Severity != c.want || math.Abs(list[0].Value-c.meet) > 1e-6 || list[0].Limit != c.limit || list[0].Code != "metal-too-hot":
			t.Errorf("metal and rubber meet at %g °C, limit %g °C: got %+v, want %q", c.meet, c.limit, list, c.want)
		}
	}
}
