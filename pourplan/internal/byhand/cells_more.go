package byhand

import (
	"fmt"
	"math"
)

// handShot is the metal of a shot: heads, and sprues of 1300 mm³.
func handShot() (heads, runners float64) {
	return handHead(handMetal, 0.98, 980, 0.004, 0.008, handGrown) + handHead(handMetal, 0.98, 680, 0.004, 0.008, handGrown), handMetal * 1.3
}

func (c Cells) metalByHand() {
	heads, runners := handShot()
	shot := heads + runners
	// 100 good ones of 90 % are 112 cast, 56 shots of two: 12 heads come back.
	melt := 56 * shot / 0.96
	perMelt := math.Floor(2800 * 0.96 / shot)
	c.span("metal.density_g_cm3", 11, handMetal, 11.1)
	c.span("metal.shrink_percent", 0.7, 0.8, 1)
	c.span("metal.fed_factor", handFed, handFed, handFed)
	for key, v := range map[string]float64{
		"fill_factor": 0.98, "fill_low_factor": 0.97, "fill_high_factor": 0.99, "heads_per_shot_g": heads, "runners_per_shot_g": runners, "shot_g": shot, "dross_percent": 4, "heel_g": 200, "shots": 56,
		"heads_wanted": 100, "yield_percent": 90, "melt_g": melt + 200, "returns_g": 56*runners + 12*heads/2, "used_up_g": 0.04*melt + 50*heads,
		"molds_low": 3, "molds_high": 3, "account_factor": math.Pow(1+handGrown, 3) * handFed, // 56 shots over 25, and over 20
		"pot_g": 3000, "shots_per_melt": perMelt, "melts": math.Ceil(56 / perMelt),
	} {
		c["metal."+key] = v
	}
	c["metal.name"], c["metal.composition"] = "lead 96 %, antimony 4 %", "lead 96 %, antimony 4 %"

	eMetal, eRubber := math.Sqrt(handConduct*handMelt*handFluidC*1e6), math.Sqrt(0.27*handDensity*1.3*1e6)
	heat := shot * (40*handFluidC + handLatent + 240*handSolidC)
	capacity := handDensity * 190 * 1.3 // J/K of both halves
	open := 1.5 * plateByHand(60+heat/capacity)
	surface := 0.08*0.07*2 + 2*(0.08+0.07)*(0.014+0.015)
	for key, v := range map[string]float64{
		"liquidus_c": 300, "pour_c": 340, "mold_c": 60, "rubber_over_mm": 8, "contact_c": (eMetal*340 + eRubber*60) / (eMetal + eRubber),
		"rubber_continuous_c": 250, "rubber_short_c": 320, "solidus_c": 251.7, "open_after_s": open, "heat_of_shot_j": heat, "mold_warms_k": heat / capacity,
		"rest_between_shots_s": capacity / (10 * surface) * math.Log((47+heat/capacity)/47), "life_low_shots": 20, "life_high_shots": 25,
	} {
		c["casting."+key] = v
	}
	c["casting.verdict"], c["casting.pour_verdict"] = "shortens life", "do not" // 314 and 340 against 250 and 320 °C
}

// A room of 13 °C doubles times. Two mixes: 20 min a half.
func (c Cells) timesByHand() {
	for key, v := range map[string]float64{
		"pot_life_s": 2400, "demold_s": 72000, "rest_s": 345600, "room_c": 13, "room_factor": 2, "pot_life_room_s": 4800, "demold_room_s": 144000,
		"post_cure_s": 7200, "post_cure_c": 45,
	} {
		c["times."+key] = v
	}
	c["times.start"] = "2026-11-27 18:30"
	for i, e := range []struct {
		after float64 // min
		at    string
	}{
		{0, "2026-11-27 18:30"}, {5, "2026-11-27 18:35"}, {80, "2026-11-27 19:50"},
		{20, "2026-11-27 18:50"}, {25, "2026-11-27 18:55"}, {100, "2026-11-27 20:10"},
		{40 + 40*60, "2026-11-29 11:10"}, {40 + (40+96)*60, "2026-12-03 11:10"},
		{40 + (40+96)*60, "2026-12-03 11:10"}, {40 + (40+96+2)*60, "2026-12-03 13:10"}, {40 + (40+96+2)*60, "2026-12-03 13:10"},
	} {
		c[fmt.Sprintf("times.events[%d].after_s", i)], c[fmt.Sprintf("times.events[%d].at", i)] = 60*e.after, e.at
	}
}

// handAlloys are all presets but the job's: percent of lead, tin, bismuth,
// antimony, zinc and copper, liquidus and solidus.
var handAlloys = []struct {
	name                   string
	pb, sn, bi, sb, zn, cu float64
	liquidus, solidus      float64
}{
	{"lead", 100, 0, 0, 0, 0, 0, 327.46, 327.46},
	{"lead-antimony 2", 98, 0, 0, 2, 0, 0, 313, 251.7},
	{"lead-antimony 6", 94, 0, 0, 6, 0, 0, 285, 251.7},
	{"lead-tin-antimony 92-4-4", 92, 4, 0, 4, 0, 0, 290, 182.2},
	{"lead-tin-antimony 92-2-6", 92, 2, 0, 6, 0, 0, 285, 239},
	{"lead-tin-antimony 84-4-12", 84, 4, 0, 12, 0, 0, 242, 240},
	{"lead-tin 95-5", 95, 5, 0, 0, 0, 0, 312, 182.2},
	{"lead-tin 90-10", 90, 10, 0, 0, 0, 0, 302, 182.2},
	{"lead-tin 70-30", 70, 30, 0, 0, 0, 0, 257, 182.2},
	{"tin-lead 50-50", 50, 50, 0, 0, 0, 0, 212, 182.2},
	{"tin-lead 60-40", 40, 60, 0, 0, 0, 0, 190, 182.2},
	{"tin-lead 63-37", 37, 63, 0, 0, 0, 0, 183, 182.2},
	{"tin", 0, 100, 0, 0, 0, 0, 231.93, 231.93},
	{"bismuth-tin 58-42", 0, 42, 58, 0, 0, 0, 139, 138},
	{"bismuth-tin 50-50", 0, 50, 50, 0, 0, 0, 155, 138},
	{"bismuth-tin 88-12", 0, 12, 88, 0, 0, 0, 229, 138},
	{"tin-bismuth 60-40", 0, 60, 40, 0, 0, 0, 170, 138},
	{"tin-zinc 91-9", 0, 91, 0, 0, 9, 0, 198.5, 198.5},
	{"pewter 92", 0, 92, 0, 7.5, 0, 0.5, 295, 227},
	{"pewter 91", 0, 91, 0, 7, 0, 2, 300, 227},
}

func (c Cells) swapsByHand() {
	eRubber := math.Sqrt(0.27 * handDensity * 1.3 * 1e6)
	for i, a := range handAlloys {
		// Volumes of lead, tin, bismuth, antimony, zinc and copper in 100 g.
		v := []float64{a.pb / 11.35, a.sn / 7.287, a.bi / 9.79, a.sb / 6.68, a.zn / 7.134, a.cu / 8.96}
		volume := v[0] + v[1] + v[2] + v[3] + v[4] + v[5]
		density := 100 / volume
		shrink := (a.solidus - 25) / volume * (v[0]*0.87/302.46 + v[1]*0.46/206.93 + v[2]*0.33/246.41 + v[3]*0.67/605.63 + v[4]*1.19/394.53 + v[5]*1.75/1059.62)
		conduct := (v[0]*15.8 + v[1]*30 + v[2]*12.5 + v[3]*22 + v[4]*50 + v[5]*165) / volume
		heat := (a.pb*0.148 + a.sn*0.245 + a.bi*0.146 + a.sb*0.258 + a.zn*0.48 + a.cu*0.49) / 100
		t := a.liquidus
		melt := 100 / (a.pb/(10.66-1.22e-3*(t-327.46)) + a.sn/(6.979-0.652e-3*(t-231.93)) + a.bi/(10.05-1.35e-3*(t-271.41)) +
			a.sb/(6.53-0.67e-3*(t-630.63)) + a.zn/(6.57-1.1e-3*(t-419.53)) + a.cu/(7.997-0.819e-3*(t-1084.62)))
		e := math.Sqrt(conduct * melt * heat * 1e6)
		larger := math.Pow((1-shrink/100)/0.992, 3)
		fed := 0.5 + 0.5*melt/(density*math.Pow(1-shrink/100, 3))
		one, two := density*0.98*fed*(980*larger-14)/1000, density*0.98*fed*(680*larger-14)/1000
		at := fmt.Sprintf("swaps[%d].", i)
		c[at+"metal"], c[at+"density_g_cm3"], c[at+"pour_c"] = a.name, density, a.liquidus+40
		c[at+"finished_g[0]"], c[at+"finished_g[1]"], c[at+"shot_g"] = one+handSteel, two+handSteel, one+two+1.3*density
		contact := (e*(a.liquidus+40) + eRubber*60) / (e + eRubber)
		c[at+"contact_c"], c[at+"verdict"] = contact, "do not"
		if contact <= 250 {
			c[at+"verdict"] = "fine"
		} else if contact <= 320 {
			c[at+"verdict"] = "shortens life"
		}
	}
}

// 288.8 g a mold: 866.4 g for three, less 100 g. Three kits of 250 g of A with
// 7.5 g of B hold 772.5 g and cost 43.50; a can costs 45.
func (c Cells) buyingByHand() {
	for key, v := range map[string]float64{
		"molds": 3, "need_g": 866.4, "have_g": 100, "buy_g": 766.4, "bought_g": 772.5, "price_money": 43.5, "left_over_g": 6.1, "left_over_molds": 0,
		"shelf_life_s": 9 * 30 * 86400, "cash_per_mold_money": 14.5, "pro_rata_per_mold_money": 43.5 / 772.5 * 288.8,
		"kits[0].count": 0, "kits[0].mass_g": 1000, "kits[0].price_money": 45, "kits[1].count": 3, "kits[1].mass_g": 257.5, "kits[1].price_money": 14.5,
	} {
		c["buying."+key] = v
	}
	c["buying.kits[1].name"] = "250 g of A"
}

// printByHand counts with 0.8 of 30 and 32 ml of plastic of 1.25 g/cm³, a filament of
// 1.75 mm, 2 to 8 mm³/s, and heads whose normals have a cosine of 0.38 on average.
func (c Cells) printByHand() {
	for i, ml := range []float64{24, 25.6} {
		at := fmt.Sprintf("print.frames[%d].", i)
		c[at+"half"], c[at+"plastic_ml"], c[at+"plastic_g"] = [2]string{"left", "right"}[i], ml, ml*1.25
		c[at+"filament_mm"] = 1000 * ml / (math.Pi * 0.875 * 0.875)
		c[at+"way_up"], c[at+"supports"] = "floor down", false
	}
	hanging := "print.frames[0].hanging[0]."
	c[hanging+"cavity"], c[hanging+"area_mm2"], c[hanging+"steepest_deg"], c[hanging+"bridge_mm"], c[hanging+"support"] = "a", 2.5, 90.0, 6.0, false
	for i, x := range []float64{20, 30, 4} {
		c[fmt.Sprintf("%sat_mm[%d]", hanging, i)] = x
	}
	c["print.supports"], c["print.overhang_limit_deg"] = false, 55.0
	c["print.wanted_step_mm"], c["print.asked_layer_mm"], c["print.advised_layer_mm"] = 0.08, 0.2, 0.2
	c.bedByHand()
	c["print.least_time_s"], c["print.most_time_s"] = 6200.0, 24800.0
	for i, l := range [][3]float64{{0.08, 0.0304, 0}, {0.12, 0.0456, 1}, {0.16, 0.0608, 2}, {0.2, 0.076, 3}, {0.28, 0.1064, 5}} {
		at := fmt.Sprintf("print.layers[%d].", i)
		c[at+"layer_mm"], c[at+"step_mm"], c[at+"wide_steps_percent"] = l[0], l[1], l[2]
	}
}

// bedByHand lays two frames of 86 x 76 mm beside each other, 5 mm apart, in the middle of
// a bed of 220 mm: 177 mm of it along x. Two rows of two fit.
func (c Cells) bedByHand() {
	c["print.bed.gap_mm"], c["print.bed.pairs"] = 5.0, 2.0
	all := "print.bed.prints[0]."
	c[all+"plastic_ml"], c[all+"plastic_g"], c[all+"least_time_s"], c[all+"most_time_s"] = 49.6, 62.0, 6200.0, 24800.0
	for i, x := range []float64{21.5, 112.5} {
		c[fmt.Sprintf("print.bed.size_mm[%d]", i)] = 220.0
		at := fmt.Sprintf("%sframes[%d].", all, i)
		c[at+"half"], c[at+"turned"] = [2]string{"left", "right"}[i], false
		c[at+"at_mm[0]"], c[at+"at_mm[1]"], c[at+"size_mm[0]"], c[at+"size_mm[1]"] = x, 72.0, 86.0, 76.0
	}
}

func (c Cells) costByHand() {
	heads, runners := handShot()
	shot := heads + runners
	const rubber, plastic = 43.5 / 772.5 * 288.8, (30 + 32) * 1.25 * 0.8
	mold := rubber + plastic*20/1000 + 1.5
	// A shot has 1.8 good heads; what is not good comes back but for the dross.
	metal := heads/2 + (shot/0.96-shot)/1.8
	running := metal*8/1000 + (0.3+0.09)/0.9
	for key, v := range map[string]float64{
		"rubber_money": rubber, "plastic_g": plastic, "plastic_money": plastic * 20 / 1000, "other_money": 1.5, "mold_money": mold,
		"metal_per_head_g": metal, "metal_money": metal * 8 / 1000, "hook_money": 0.3 / 0.9, "keeper_money": 0.1, "running_money": running,
		"mold_cash_money": 14.5 + plastic*20/1000 + 1.5, "break_even_cash_heads": math.Ceil((16 + plastic*20/1000) / (1.9 - running)),
		"shop_money": 1.9, "break_even_heads": math.Ceil(mold / (1.9 - running)),
	} {
		c["cost."+key] = v
	}
	c.span("cost.life_heads", 36, 40.5, 45)
	c.span("cost.head_money", running+mold/45, running+mold/40.5, running+mold/36)
	c["cost.break_even_in_life"] = mold/(1.9-running) <= 36
}

// plateByHand is when a plate of half thickness 2.5 mm has cooled from 340 to
// 251.7 °C, its latent heat coming free from 300 °C on, in rubber of 0.2 W/(m·K)
// and 1.2 J/(g·K) that was at mold °C: the flow into a half-space whose surface
// goes in straight steps, by Duhamel's integral (Carslaw & Jaeger, sections 1.14
// and 2.4), s.
func plateByHand(mold float64) float64 {
	effusivity := math.Sqrt(0.2 * handDensity * 1000 * 1200)
	mass := handMetal * 1e6 * 0.0025
	const dt = 0.05
	at := []float64{340}
	heat := handLatent + 88.3*handFluidC
	for n := 1; ; n++ {
		t := float64(n) * dt
		flow := (at[0] - mold) / math.Sqrt(math.Pi*(t-dt/2))
		for j := 1; j < len(at); j++ {
			since := t - dt/2 - float64(j-1)*dt
			flow += 2 * (at[j] - at[j-1]) / dt / math.Sqrt(math.Pi) * (math.Sqrt(since) - math.Sqrt(math.Max(0, since-dt)))
		}
		heat -= effusivity * flow * dt / mass
		if heat <= 0 {
			return t
		}
		full := handLatent + 48.3*handFluidC
		if heat > full {
			at = append(at, 300+(heat-full)/handFluidC)
		} else {
			at = append(at, 251.7+48.3*heat/full)
		}
	}
}
