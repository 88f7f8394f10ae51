package pourplan

import (
	"math"
	"testing"
)

// A wire of 1 mm, 20 mm of it in lead: 15.707963268 mm³, 0.123308 g of steel
// for 0.178285 g of lead (derived).
func TestSteelDisplacesLead(t *testing.T) {
	inHead := math.Pi / 4 * 20
	steel := (&HookTable{Density: 7.85}).steelMass(inHead)
	near(t, "steel", steel, 0.123308, 1e-5)
	net := FinishedMass(11.35, 1, 1000-inHead, steel) - FinishedMass(11.35, 1, 1000, 0)
	near(t, "net change", net, -0.054978, 1e-5)
	if got := (&HookTable{Density: 7.85, Mass: 0.2}).steelMass(inHead); got != 0.2 {
		t.Errorf("a weighed hook: got %g g", got)
	}
	if got := (*HookTable)(nil).steelMass(0); got != 0 {
		t.Errorf("no hook: got %g g", got)
	}
}

// Spheres of a fraction weight without a hook (derived): volume in mm³.
func TestMetalFor(t *testing.T) {
	for _, c := range []struct{ oz, density, want float64 }{
		{1.0 / 16, 11.35, 156.11}, {1.0 / 8, 11.35, 312.22}, {1.0 / 4, 11.35, 624.44},
		{1.0 / 2, 11.35, 1248.88}, {1, 11.35, 2497.76},
	} {
		near(t, "volume", MetalFor(c.oz*GramPerOz, c.density, 1, 0), c.want, 1e-5)
	}
	// Diameters in tin-bismuth.
	for oz, want := range map[float64]float64{1.0 / 16: 7.3405, 1.0 / 8: 9.2484, 1: 18.4968} {
		near(t, "diameter", math.Cbrt(6/math.Pi*MetalFor(oz*GramPerOz, 8.5557, 1, 0)), want, 1e-5)
	}
	// There and back.
	v := MetalFor(10.63, 11.04, 0.985, 0.4)
	near(t, "round trip", FinishedMass(11.04, 0.985, v, 0.4), 10.63, 1e-12)
	if MetalFor(0.3, 11, 1, 0.4) > 0 {
		t.Error("steel over the target must leave no metal")
	}
}

// fedByHand is what heads of lead-antimony 4 weigh when half of each is cut off
// as melt of 299 °C and shrinks to metal at 251.7 °C.
func fedByHand() float64 {
	melt := 100 / (96/(10.66+1.22e-3*28.46) + 4/(6.53+0.67e-3*331.63))
	return 0.5 + 0.5*melt/(100/(96/11.35+4/6.68)*math.Pow(1-shrinkByHand(), 3))
}

// shrinkByHand is lead-antimony 4 from 251.7 to 25 °C: 0.63 %.
func shrinkByHand() float64 {
	return 226.7 / 100 * (96/11.35*0.87/302.46 + 4/6.68*0.67/605.63) / (96/11.35 + 4/6.68)
}

func TestShrinkFactor(t *testing.T) {
	near(t, "0.4 % and 0.87 %, grown by 1 %", ShrinkFactor(0.4, 0.87, 0.01), 1/(0.996*0.9913*1.01), 1e-15)
	if ShrinkFactor(0, 0, 0) != 1 {
		t.Error("no shrinkage must give 1")
	}
}

func TestPredictRange(t *testing.T) {
	m := Metal{Density: Span{11.30, 11.34, 11.35}, Shrink: Span{0.8, 0.87, 0.95}, FillFactor: 0.98}
	r := Rubber{Shrink: Span{0.2, 0.5, 1.0}}
	got := predict(headVolumes{1000, 20}, m, r, 23)
	near(t, "best", got.Best, 11.34*0.98*0.980, 1e-12)
	if !(got.Lo < got.Best && got.Best < got.Hi) {
		t.Errorf("got %+v", got)
	}
	// 0.5 % more rubber shrinkage and 0.08 % more metal's take some 1.75 % of
	// the volume, the wire stays.
	f := 0.99 * 0.9905 / (0.995 * 0.9913)
	near(t, "low", got.Lo, 11.30*0.98*(f*f*f-0.020), 1e-12)
	sure := predict(headVolumes{1000, 20}, Metal{Density: exactly(11.34), Shrink: exactly(0.87), FillFactor: 1}, Rubber{Shrink: exactly(0.5)}, 60)
	if sure.Lo != sure.Hi {
		t.Errorf("figures without a range must give none: %+v", sure)
	}
}
