package pourplan

import (
	"math"
	"testing"
)

// 100 g of rubber at 1.3 J/(g·K), 0.0130 m² of surface at 10 W/(m²·K): τ is
// 1000 s. 1300 J warm it by 10 K; from 40 K over the room: 1000·ln(50/40) s.
func TestCoolingMold(t *testing.T) {
	m := coolingMold{mass: 100, heat: 1.3, surface: 13000, warm: 60, room: 20}
	near(t, "rise", m.rise(1300), 10, 1e-12)
	near(t, "rest", m.rest(1300), 1000*math.Log(1.25), 1e-12)
	if m.rest(0) != 0 {
		t.Error("no heat, no rest")
	}
	cold := m
	cold.warm = 20
	if !math.IsInf(cold.rest(1300), 1) {
		t.Error("a mold as cold as the room never cools back to it")
	}
	// Step by step instead of by the logarithm: Newton's law of cooling.
	over, seconds := 50.0, 0.0
	for ; over > 40; seconds += 0.01 {
		over -= over / 1000 * 0.01
	}
	near(t, "in small steps", m.rest(1300), seconds, 1e-4)
}

// 10 g of lead from 350 to 60 °C: 0.147·22.5 + 23.07 + 0.129·267.5 J/g.
func TestHeatOfShot(t *testing.T) {
	f := Freezing{Metal: caseLead, Rubber: caseRubber, Pour: 350, Mold: 60}
	near(t, "heat", f.heatOfShot(10), 10*(0.147*22.5+23.07+0.129*267.5), 1e-12)
}

func TestPlanRest(t *testing.T) {
	p := plan(t, read(t, swap("[rubber]", "latent = 25\n[rubber]")(shortJob)), measuredBalls(3))
	c := p.Casting
	// Both halves 120 ml of 1.35 g/cm³, 100 x 86 x 14 mm; mold 60, room 23 °C.
	mass, surface := 2*120*1.35, 2*(100*86+2*(100+86)*14)*1e-6
	q := p.Metal.ShotG * (30*(0.96*0.148+0.04*0.258) + 25 + 239*(0.96*0.129+0.04*0.207))
	near(t, "heat", c.HeatOfShotJ, q, 1e-9)
	near(t, "rise", c.MoldWarmsK, q/(mass*1.3), 1e-9)
	near(t, "rest", c.RestS, mass*1.3/(10*surface)*math.Log((37+c.MoldWarmsK)/37), 1e-9)
	cold := plan(t, read(t, shortJob+"[casting]\nmold = 20\n"), measuredBalls(3)).Casting
	if cold.RestS != 0 || cold.MoldWarmsK == 0 {
		t.Errorf("a mold colder than the room: %+v", cold)
	}
}
