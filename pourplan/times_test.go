package pourplan

import (
	"strings"
	"testing"
)

// Doubling per 10 K round 23 °C, from memory.
func TestRoomFactor(t *testing.T) {
	for room, want := range map[float64]float64{23: 1, 13: 2, 33: 0.5, 18: 1.41421356, 3: 4} {
		near(t, "factor", RoomFactor(room), want, 1e-8)
	}
}

const minute, hour, day = 60.0, 3600.0, 86400.0

// Two mixes of 5 + 8 min at a pot life of 20 min; by hand.
func TestScheduleOfTwoMixes(t *testing.T) {
	b := bench{mix: 5 * minute, pour: 8 * minute, potLife: 20 * minute, demold: 24 * hour, rest: 5 * day, restFirst: true, postCure: 4 * hour}
	if d := b.decide(0, 300); d.one || !strings.Contains(d.reason, "would take 21 min, the pot life is 20 min") {
		t.Errorf("got %+v", d)
	}
	demold := 26*minute + 24*hour
	checkEvents(t, b.schedule(false), []event{
		{"mix", 0, false}, {"mixed_by", 5 * minute, true}, {"pour_by", 20 * minute, true},
		{"second_mix", 13 * minute, false}, {"second_mixed_by", 18 * minute, true}, {"second_pour_by", 33 * minute, true},
		{"demold", demold, false}, {"rest_over", demold + 5*day, false},
		{"post_cure", demold + 5*day, false}, {"post_cure_over", demold + 5*day + 4*hour, false}, {"first_casting", demold + 5*day + 4*hour, false},
	})
}

// One mix, de-aired, of a rubber that is warmed at once.
func TestScheduleOfOneMix(t *testing.T) {
	b := bench{mix: 5 * minute, deair: 6 * minute, pour: 8 * minute, potLife: 40 * minute, demold: 16 * hour, rest: day, postCure: 2 * hour}
	if d := b.decide(0, 300); !d.one || d.reason != "it takes 27 min of the pot life of 40 min" {
		t.Errorf("got %+v", d)
	}
	if d := b.decide(250, 300); d.one || d.reason != "one mix needs a cup of 300 ml, the largest holds 250 ml" {
		t.Errorf("got %+v", d)
	}
	demold := 27*minute + 16*hour
	checkEvents(t, b.schedule(true), []event{
		{"mix", 0, false}, {"mixed_by", 5 * minute, true}, {"second_half", 19 * minute, false}, {"pour_by", 40 * minute, true},
		{"demold", demold, false}, {"post_cure", demold, false}, {"post_cure_over", demold + 2*hour, false},
		{"rest_over", demold + day, false}, {"first_casting", demold + day, false},
	})
}

func checkEvents(t *testing.T, got, want []event) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("event %d: got %v, want %v", i, got, want)
		}
	}
}

// The clock of a job: by hand on a calendar. At 13 °C times double.
func TestPlanTimes(t *testing.T) {
	text := "[evening]\nstart = \"2026-11-27 18:30\"\nroom = 13\nmix = \"5 min\"\npour = \"10 min\"\n"
	p := plan(t, read(t, shortJob+text), measuredBalls(3)).Times
	if p.RoomFactor != 2 || p.PotLifeRoomS != 2*30*minute || p.DemoldRoomS != 2*24*hour || p.PotLifeS != 30*minute || p.RestS != 5*day {
		t.Errorf("got %+v", p)
	}
	got := ""
	for _, e := range p.Events {
		got += e.Code + " " + e.At + "; "
	}
	const want = "mix 2026-11-27 18:30; mixed_by 2026-11-27 18:35; second_half 2026-11-27 18:45; pour_by 2026-11-27 19:30; " +
		"demold 2026-11-29 18:55; rest_over 2026-12-04 18:55; first_casting 2026-12-04 18:55; "
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	// Without a start there are times after it, and no clock.
	for _, e := range plan(t, read(t, shortJob), measuredBalls(3)).Times.Events {
		if e.At != "" {
			t.Errorf("%s at %s", e.Code, e.At)
		}
	}
}

// What softens is kept out of the warmth; what does not is not warned of.
func TestCautionsOfPlasticAndTime(t *testing.T) {
	warm := func(plastic, at string) string {
		return shortJob + "[evening]\npost_cure = \"4 h\"\npost_cure_at = \"" + at + "\"\n[plastic]\nname = \"" + plastic + "\"\n"
	}
	for _, c := range []struct{ name, job, has, not string }{
		{"PLA at 60", warm("PLA", "60 C"), "plastic-softens", "warm-cure"},
		{"PLA just below its margin", warm("PLA", "49 C"), "warm-cure", "plastic-softens"},
		{"PETG at 60", warm("PETG", "60 C"), "warm-cure", "plastic-softens"},
		{"ABS at 90.1", warm("ABS", "90.1 C"), "plastic-softens", "warm-cure"},
		{"own plastic", warm("PC\"\nsoftens = 110\ndensity = \"1.2 g/cm3", "90 C"), "warm-cure", "plastic-softens"},
		{"no time", shortJob + "[evening]\nmix = \"30 min\"\n", "too-slow", "cup-too-small"},
		{"a small cup", shortJob + "[evening]\ncup = \"100 ml\"\n", "cup-too-small", "too-slow"},
		{"a cold room", shortJob + "[evening]\nroom = 12\n", "cold-room", "too-slow"},
		{"a small pot", shortJob + "[casting]\npot = \"200 g\"\n", "pot-too-small", "too-slow"},
		{"resin and platinum", swap("tin-cure 100:3", "platinum 1:1")(shortJob) + "[plastic]\nname = \"resin\"\n", "resin-stops-cure", "tin-rest"},
		{"PLA and platinum", swap("tin-cure 100:3", "platinum 1:1")(shortJob) + "[plastic]\nname = \"PLA\"\n", "inhibition", "resin-stops-cure"},
	} {
		p := plan(t, read(t, c.job), measuredBalls(3))
		got := codes(p)
		if !strings.Contains(got, " "+c.has+" ") || strings.Contains(got, " "+c.not+" ") {
			t.Errorf("%s: want %s and no %s: %s", c.name, c.has, c.not, got)
		}
	}
}

// An event as one says it on the clock: by hand on a calendar. Where no day is
// known, days are counted from the start.
func TestClockOfAnEvent(t *testing.T) {
	for _, c := range []struct {
		start string
		event EventPlan
		want  string
	}{
		{"2026-11-27 18:30", EventPlan{Code: "demold", AfterS: 13 * minute, At: "2026-11-27 18:43"}, "18:43"},
		{"2026-11-27 18:30", EventPlan{Code: "demold", AfterS: day, At: "2026-11-28 18:30"}, "Sat 28 Nov 18:30"},
		{"18:30", EventPlan{Code: "demold", AfterS: 90, At: "18:32"}, "18:32"},
		{"18:30", EventPlan{Code: "demold", AfterS: 90, Deadline: true, At: "18:31"}, "18:31"},
		{"18:30", EventPlan{Code: "demold", AfterS: day, At: "18:30 +1 d"}, "next day 18:30"},
		{"", EventPlan{Code: "demold", AfterS: day}, ""},
		{"some day", EventPlan{Code: "demold", At: "18:30"}, "18:30"},
		{"2026-11-27 18:30", EventPlan{Code: "demold", At: "late"}, "late"},
	} {
		p := TimesPlan{Start: c.start, Events: []EventPlan{{Code: "mix", At: "17:00"}, c.event}}
		if got := p.When("demold"); got != c.want {
			t.Errorf("%s, %+v: got %q, want %q", c.start, c.event, got, c.want)
		}
		if p.When("lunch") != "" {
			t.Error("a time for what is not planned")
		}
	}
	if got := (TimesPlan{}).Clock(EventPlan{AfterS: 90}, "in 90 s"); got != "in 90 s" {
		t.Errorf("without a clock: %q", got)
	}
}

// Each mix in the time it has: a pot life just long enough for one mix, and a cup
// just large enough.
func TestOneMixBounds(t *testing.T) {
	b := bench{mix: 300, deair: 200, pour: 400, potLife: 1300}
	if b.oneHalf() != 900 || b.oneMix() != 1300 {
		t.Errorf("a half takes %g s, both %g s", b.oneHalf(), b.oneMix())
	}
	late := b
	late.potLife = 1299
	for i, c := range []struct {
		b          bench
		cup, needs float64
		want       bool
	}{{b, 0, 500, true}, {late, 0, 500, false}, {b, 500, 500, true}, {b, 499, 500, false}, {b, 501, 500, true}, {late, 501, 500, false}} {
		if d := c.b.decide(c.cup, c.needs); d.one != c.want || d.reason == "" {
			t.Errorf("case %d: %+v", i, d)
		}
	}
	// A bench of a job: times with the room's factor, the chamber's with vacuum
	// alone, tin-cure rubber rests before it is warmed.
	table := EveningTable{Room: 13, Mix: 300, Deair: 200, Pour: 400, PostCure: 7200}
	for cure, vacuum := range map[string]bool{"tin": true, "platinum": false} {
		got := newBench(table, Rubber{Cure: cure, Vacuum: vacuum, PotLife: 1000, Demold: 5000, Rest: 6000})
		want := bench{mix: 300, pour: 400, potLife: 2000, demold: 10000, rest: 6000, postCure: 7200, restFirst: cure == "tin"}
		if vacuum {
			want.deair = 200
		}
		if got != want {
			t.Errorf("%s: got %+v, want %+v", cure, got, want)
		}
	}
	// The first casting waits for rest and post-cure, whichever is later.
	for rest, first := range map[float64]float64{1000: 2000, 3000: 3000} {
		warm := bench{demold: 0, rest: rest, postCure: 2000}
		list := warm.schedule(true)
		if last := list[len(list)-1]; last.code != "first_casting" || last.after != first {
			t.Errorf("rest %g s, post-cure 2000 s: %+v", rest, last)
		}
	}
	cold := bench{rest: 1000, restFirst: true}
	for _, e := range cold.schedule(false) {
		if e.code == "post_cure" || e.code == "first_casting" && e.after != 1000 {
			t.Errorf("without a post-cure: %+v", e)
		}
	}
}

// A post-cure is no colder than the room, where there is one.
func TestPostCureBounds(t *testing.T) {
	for text, ok := range map[string]bool{
		"room = 20\npost_cure = \"2 h\"\npost_cure_at = 20\n":   true,
		"room = 20\npost_cure = \"2 h\"\npost_cure_at = 19.9\n": false,
		"room = 20\npost_cure_at = 19.9\n":                      true,
	} {
		_, err := ReadJob("job.toml", []byte(shortJob+"[evening]\n"+text))
		list, _ := err.(JobErrors)
		if (err == nil) != ok || !ok && (len(list) != 1 || list[0].Key != "evening.post_cure_at" || list[0].Rule != RuleRange) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
