package pourplan

import (
	"math"
	"strings"
	"testing"

	"halfpour/moldbox"
)

const finishTable = "[finish]\nseal_coat = 0.08\npowder = 0.1\nsocket = 4.5\nstick_eye = 4\n"

// A coat of 0.1 mm over 470 mm² of cavity surface, 1.0135 larger than the cold
// head's, at 1.5 g/cm³: by hand.
func TestPowderCoat(t *testing.T) {
	p := plan(t, read(t, shortJob+finishTable), measuredBalls(3))
	c := p.Heads[0].Coat
	if c == nil {
		t.Fatal("no coat")
	}
	near(t, "adds", c.AddsG, 0.1*1.5*470/(1.0135*1.0135)/1000, 1e-12)
	near(t, "coated", c.CoatedG.Best, p.Heads[0].FinishedG.Best+c.AddsG, 1e-12)
	near(t, "hook's eye", c.HookEyeMM, 2.2-0.2, 1e-12)
	near(t, "socket", c.SocketMM, 1.02*4.5-0.2, 1e-12)
	near(t, "play", c.SocketPlayMM, 1.02*4.5-0.2-4, 1e-12)
	if !c.StickEyeFits || p.SealMM != 0.08 || !strings.Contains(strings.Join(p.Typical, " "), "finish.powder_density") {
		t.Errorf("got %+v, seal %g, typical %v", c, p.SealMM, p.Typical)
	}
	near(t, "target", c.TargetG, 10.631071171875-c.AddsG, 1e-9) // 3/8 oz with the coat on
	want := "powder, 0.1 mm: +0.07 g, 10.51 g (0.371 oz) (9.54 to 11.03 g); to weigh 10.63 g (3/8 oz) with it, set weight.target to 10.56 g; mask the hook's eye: coated it keeps 2 mm; the eye socket keeps 4.39 mm, 0.39 mm of play"
	if got := FormatCoat(c); got != want {
		t.Errorf("got %q, want %q", got, want)
	}

	p = plan(t, read(t, shortJob+"[finish]\npowder = \"10 mil\"\npowder_density = 1.8\nsocket = 4\nstick_eye = 4\n"), measuredBalls(3))
	c = p.Heads[0].Coat
	near(t, "denser and thicker", c.AddsG, 0.254*1.8*470/(1.0135*1.0135)/1000, 1e-12)
	if c.StickEyeFits || !strings.Contains(FormatCoat(c), "0.43 mm too little: draw it wider") || strings.Contains(strings.Join(p.Typical, " "), "finish.powder_density") {
		t.Errorf("got %+v: %s", c, FormatCoat(c))
	}
	if p = plan(t, read(t, shortJob), measuredBalls(3)); p.Heads[0].Coat != nil || FormatCoat(nil) != "" {
		t.Error("a coat that nobody asked for")
	}
}

func TestFinishErrors(t *testing.T) {
	for _, c := range []struct{ table, key, says string }{
		{"[finish]\npowder = 1.1\n", "finish.powder", "must be at most 1 mm"},
		{"[finish]\nsocket = 4\n", "finish.stick_eye", "needs finish.socket, and finish.socket needs it"},
		{"[finish]\nseal_coat = 0.4\n", "finish.seal_coat", "must be at most 0.25 mm"},
		{"[finish]\nseal_coat = 0.2\n[frame]\nwall = 1.1\n", "frame.wall", "must be at least 1.2 mm"},
	} {
		_, err := ReadJob("job.toml", []byte(shortJob+c.table))
		list, ok := err.(JobErrors)
		if !ok || len(list) != 1 || list[0].Key != c.key || !strings.Contains(list[0].Err.Error(), c.says) {
			t.Errorf("%q: got %v", c.table, err)
		}
	}
	narrow := strings.Replace(shortJob, "eye_inside = 2.2", "eye_inside = 0.5", 1)
	if _, err := ReadJob("job.toml", []byte(narrow+"[finish]\npowder = 0.25\n")); err == nil || !strings.Contains(err.Error(), "finish.powder: must leave the hook's eye of 0.5 mm open") {
		t.Errorf("got %v", err)
	}
	spec, err := read(t, shortJob+finishTable).Spec(balls(t, map[string]int{}))
	if err != nil || math.Abs(spec.Finish.SealCoat-0.08) > 1e-12 {
		t.Errorf("got %+v, %v", spec.Finish, err)
	}
}

// An oven for powder is taken as one of 200 °C and a coat as 1.5 g/cm³ where the
// job does not say (common practice, no source); a hook's eye stays open with
// less than half of it on each side.
func TestFinishBounds(t *testing.T) {
	bake, dense := Celsius(180), Density(1.8)
	if t0, own := (FinishTable{}), (FinishTable{Bake: &bake, PowderDensity: &dense}); t0.bake() != 200 || own.bake() != 180 || t0.powderDensity() != 1.5 || own.powderDensity() != 1.8 {
		t.Error("oven and coat")
	}
	for want, f := range map[string]FinishTable{"": {}, "finish.powder_density finish.bake": {Powder: 0.1}, "finish.bake": {Powder: 0.1, PowderDensity: &dense},
		"finish.powder_density": {Powder: 0.1, Bake: &bake}} {
		if got := strings.Join(f.typical(), " "); got != want {
			t.Errorf("typical %q, want %q", got, want)
		}
	}
	for _, c := range []struct {
		powder MM
		eye    float64
		ok     bool
	}{{0.25, 0.5, false}, {0.2499, 0.5, true}, {0.3, 0.5, false}, {0, 0.5, true}, {0.3, 0, true}} {
		if err := (&Job{Finish: FinishTable{Powder: c.powder}}).coatsLeaveOpen(moldbox.Hook{EyeInside: c.eye}); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c, err)
		}
	}
	m := measuredBalls(1).Cavities[0]
	for play, fits := range map[float64]bool{0: true, 1e-6: true, -1e-6: false} {
		f := FinishTable{Powder: 0.1, Socket: MM((4.2 + play) / m.Scale), StickEye: 4}
		if c := planCoat(&Job{Finish: f}, CavityTable{}, m, HeadPlan{FinishedG: Range{1, 2, 3}}); math.Abs(c.SocketPlayMM-play) > 1e-12 || play != 0 && c.StickEyeFits != fits || c.HookEyeMM != 0 {
			t.Errorf("%g mm of play: %+v", play, c)
		}
	}
	for _, c := range []struct {
		area, shrink float64
		powder       MM
		coat         bool
	}{{470, 1.01, 0.1, true}, {0, 1.01, 0.1, false}, {470, 0, 0.1, false}, {470, 1.01, 0, false}} {
		m.Area, m.Shrink = c.area, c.shrink
		if got := planCoat(&Job{Finish: FinishTable{Powder: c.powder}}, CavityTable{}, m, HeadPlan{}); (got != nil) != c.coat {
			t.Errorf("%+v: %+v", c, got)
		}
	}
}

// By hand: two coats of clear of 0.1 mm at 1.1 g/cm³ on powder of 0.08 mm at 1.5, on a
// surface of 470 mm² that is 1.0135 larger in the mold. The eyes are glued in between:
// the clear takes no room from their sockets. A coat by hand is off by a third.
func TestCoatOnCoat(t *testing.T) {
	p := plan(t, read(t, shortJob+"[[coat]]\n[[coat]]\nkind = \"clear\"\ncoats = 2\nafter_eyes = true\n[finish]\nsocket = 4.5\nstick_eye = 4\n"), measuredBalls(3))
	h := p.Heads[0]
	c := h.Coat
	if c == nil || len(c.Coats) != 2 {
		t.Fatalf("got %+v", c)
	}
	area := 470 / (1.0135 * 1.0135) / 1000
	first, second := 0.08*1.5*area, 2*0.1*1.1*area
	near(t, "powder", c.Coats[0].AddsG, first, 1e-12)
	near(t, "clear", c.Coats[1].AddsG, second, 1e-12)
	near(t, "after the powder", c.Coats[0].CoatedG.Best, h.FinishedG.Best+first, 1e-12)
	near(t, "after the clear", c.CoatedG.Best, h.FinishedG.Best+first+second, 1e-12)
	near(t, "at least", c.CoatedG.Low, h.FinishedG.Low+2.0/3*(first+second), 1e-12)
	near(t, "at most", c.CoatedG.High, h.FinishedG.High+4.0/3*(first+second), 1e-12)
	near(t, "density", c.DensityGCM3, (0.08*1.5+0.2*1.1)/0.28, 1e-12)
	near(t, "hook's eye", c.HookEyeMM, 2.2-2*0.28, 1e-12)
	near(t, "socket", c.SocketMM, 1.02*4.5-2*0.08, 1e-12)
	if c.BakeC != 200 || c.Coats[0].BakeS != 900 || c.Coats[1].BakeC != 0 {
		t.Errorf("ovens: %+v", c)
	}
	var steps []string
	for _, s := range finishSteps(p) {
		steps = append(steps, s.Do)
	}
	if got := strings.Join(steps, ", "); got != "Finish and weigh, Mask, Coat, Glue the eyes in, Coat" {
		t.Errorf("steps: %s", got)
	}
	codes := ""
	for _, k := range p.Cautions {
		codes += k.Code + " "
	}
	for _, want := range []string{"coat-oven", "coat-fumes", "lead-sanding"} {
		if !strings.Contains(codes, want) {
			t.Errorf("no caution %s: %s", want, codes)
		}
	}
}

// By hand: a shot of three alike, 12 heads at a yield of 100 %: 12 hooks, 24 eyes,
// and of paint three times what stays, at 30 %, of 0.03 mm at 1.3 g/cm³.
func TestSupplies(t *testing.T) {
	p := plan(t, read(t, shortJob+"[[coat]]\nkind = \"paint\"\n[finish]\nsocket = 4.5\nstick_eye = 4\n[casting]\nheads = 12\nyield = 100\n"), measuredBalls(3))
	b := p.Supplies
	if b == nil || b.CastHeads != 12 || b.GoodHeads != 12 || len(b.Coats) != 1 {
		t.Fatalf("got %+v", b)
	}
	on := 12 * 0.03 * 1.3 * 470 / (1.0135 * 1.0135) / 1000
	near(t, "on the heads", b.Coats[0].OnHeadsG, on, 1e-12)
	near(t, "at hand", b.Coats[0].HaveG, on/0.3, 1e-12)
	if n := b.Parts[len(b.Parts)-1]; n != (SupplyPart{"eye", "4 mm", 24}) {
		t.Errorf("eyes: %+v", n)
	}
	if text := b.Text(); !strings.Contains(text, "24 eyes, 4 mm; 1 g of paint, if 30 % of it stays") {
		t.Errorf("got %q", text)
	}
}
