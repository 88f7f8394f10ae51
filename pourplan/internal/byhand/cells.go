package byhand

import (
	"fmt"
	"math"
)

// Cells are the figures of a plan by their paths in plan.json.
type Cells map[string]any

// span puts the three figures of a range.
func (c Cells) span(path string, low, best, high float64) {
	c[path+".low"], c[path+".best"], c[path+".high"] = low, best, high
}

// NewCells computes the plan of Measured.
func NewCells() Cells {
	c := Cells{"schema": 1.0, "title": "by hand"}
	c.rubberByHand()
	c.headsByHand()
	c.layoutByHand()
	c.metalByHand()
	c.timesByHand()
	c.swapsByHand()
	c.buyingByHand()
	c.costByHand()
	c.printByHand()
	for i, f := range [][]float64{{80, 70, 14, 86, 76, 19.4, 2.4, 17, 5000, 30009, 30000}, {80, 70, 15, 86, 76, 20.6, 2.6, 18, 6000, 31969, 32000}} {
		at := fmt.Sprintf("frames[%d].", i)
		for j := range 3 {
			c[fmt.Sprintf("%sinside_mm[%d]", at, j)], c[fmt.Sprintf("%soutside_mm[%d]", at, j)] = f[j], f[3+j]
		}
		c[at+"floor_mm"], c[at+"rim_over_floor_mm"] = f[6], f[7]
		c[at+"mesh.triangles"], c[at+"mesh.mesh_mm3"] = f[8], f[9]
		c.span(at+"mesh.solid_mm3", f[10]-10, f[10], f[10]+10)
		c[at+"mesh.off_percent"], c[at+"mesh.within_certified_range"] = 100*(f[9]-f[10])/f[10], i == 0
	}
	c["frames[0].rubber_bracket_percent"], c["frames[1].rubber_bracket_percent"] = 0.3, 20.0/90
	c["findings[0].value"], c["findings[0].limit"] = 2.0, 3.0
	c["findings[1].value"], c["findings[1].limit"] = 0.0, 0.0 // of figures that are typical ones
	c["findings[1].message"] = "using typical values for 2 figures of [rubber] and [metal]"
	// 56 shots of two heads, each with a hook and a spike.
	c["supplies.cast_heads"], c["supplies.good_heads"], c["supplies.parts[0].count"], c["supplies.parts[1].count"] = 112.0, 100.0, 112.0, 112.0
	for i, x := range []float64{1, 2, 3} {
		c[fmt.Sprintf("findings[0].at_mm[%d]", i)], c[fmt.Sprintf("findings[0].head_at_mm[%d]", i)] = x, x
	}
	return c
}

// handDensity is the mix's: 103 g of it are 100 g of A and 3 g of B.
const handDensity = 103 / (100/1.36 + 3/1.02)

func (c Cells) rubberByHand() {
	c["rubber.ratio"], c["rubber.ratio_a"], c["rubber.ratio_b"], c["rubber.density_g_cm3"] = "100:3", 100.0, 3.0, handDensity
	c["rubber.waste_percent"], c["rubber.scale_step_g"], c["rubber.vacuum"] = 5.0, 0.1, true
	const floz = 29.5735295625
	// A is the exact mass over 1.03, up to 0.1 g: 147.02 and 133.29 g; B is 3 %
	// of it to 0.1 g: 4.413 and 3.999 g.
	for i, h := range []struct{ low, ml, high, a, b, floor, rim float64 }{
		{99.9, 100, 100.2, 147.1, 4.4, 14, 3}, {89.9, 90, 90.1, 133.3, 4.0, 15, 3},
	} {
		at := fmt.Sprintf("rubber.halves[%d].", i)
		frame := handDensity * h.ml
		lineA, lineMix := h.a/1.36, (h.a+h.b)/handDensity
		c.span(at+"volume_ml", h.low, h.ml, h.high)
		for key, v := range map[string]float64{
			"volume_us_fl_oz": h.ml / floz, "frame_mass_g": frame, "waste_g": 0.05 * frame, "residue_g": 10, "exact_mass_g": 1.05*frame + 10,
			"brush_coat_g": handDensity * 0.05 * (8*7 + (4.8+3.8)/4), // 0.5 mm on floor and heads, in cm
			"a_g":          h.a, "b_g": h.b, "mix_g": h.a + h.b, "b_error_percent": 100 * (h.b - 0.03*h.a) / (0.03 * h.a),
			"line_a_ml": lineA, "line_a_us_fl_oz": lineA / floz, "line_mix_ml": lineMix, "line_mix_us_fl_oz": lineMix / floz,
			"cup_ml": 4 * lineMix, "cup_us_fl_oz": 4 * lineMix / floz, "fill_from_floor_mm": h.floor, "fill_from_rim_mm": h.rim,
		} {
			c[at+key] = v
		}
		c[at+"line_a_estimated"] = false
	}
	// One mix: 1.05·190 ml and 10 g are 278.71 g, of A 270.59 up to 270.6; of B 8.118.
	for key, v := range map[string]float64{
		"a_g": 270.6, "b_g": 8.1, "mix_g": 278.7, "line_a_ml": 270.6 / 1.36, "line_mix_ml": 278.7 / handDensity,
		"cup_ml": 4 * 278.7 / handDensity, "largest_cup_at_hand_ml": 700, "takes_s": 60 * (5 + 6 + 9 + 9), "half_takes_s": 60 * (5 + 6 + 9),
	} {
		c["rubber.one_mix."+key] = v
	}
	c["rubber.one_mix.advised"] = false
	c["rubber.one_mix.reason"] = "one mix needs a cup of 828 ml, the largest holds 700 ml"
	c["rubber.total_ml"], c["rubber.total_g"], c["rubber.total_a_g"], c["rubber.total_b_g"] = 190.0, 147.1+4.4+133.3+4.0, 147.1+133.3, 4.4+4.0
}

// The alloy: 100 g of it are 96 g of lead and 4 g of antimony.
const (
	handMetal  = 100 / (96/11.35 + 4/6.68)
	handMelt   = 100 / (96/(10.660+1.22e-3*27.46) + 4/(6.53+0.67e-3*330.63)) // at 300 °C
	handSolidC = 0.96*0.129 + 0.04*0.207
	handFluidC = 0.96*0.148 + 0.04*0.258
	handLatent = 25.0
	// Melts by volume: 96/11.35 of lead to 4/6.68 of antimony.
	handConduct = (96/11.35*15.8 + 4/6.68*22) / (96/11.35 + 4/6.68)
	// Half is solid when a head is cut off, the rest is melt; solid metal has grown
	// by 0.8 % each way at its solidus.
	handFed = 0.5 + 0.5*handMelt/(handMetal*0.992*0.992*0.992)
	// A mold of 60 °C is 37 K warmer than the room, at 200, 270 and 340e-6/K.
	handSlow, handGrown, handFast = 37 * 200e-6, 37 * 270e-6, 37 * 340e-6
	handTension                   = 0.96*0.458 + 0.04*0.37
)

// handSteel is a hook of 50 mm³ at 7.85 and a keeper that was weighed.
const handSteel = 50*7.85e-3 + 0.05

// handHead is a head in g: density and volume in cm³, the head grown by what
// shrinkages and the warm mold come out other than planned, less 14 mm³ of wire.
func handHead(density, fill, head, rubber, metal, warm float64) float64 {
	grown := math.Pow((1-rubber)*(1-metal)*(1+warm)/(0.996*0.992*(1+handGrown)), 3)
	return density * fill * handFed * (head*grown - 14) / 1000
}

func (c Cells) headsByHand() {
	for i, h := range []struct{ head, area, runner, funnel float64 }{{980, 480, 700, 20}, {680, 380, 600, 22}} {
		at := fmt.Sprintf("heads[%d].", i)
		low, high := handHead(11, 0.97, h.head, 0.006, 0.01, handSlow), handHead(11.1, 0.99, h.head, 0.002, 0.007, handFast)
		best := handHead(handMetal, 0.98, h.head, 0.004, 0.008, handGrown)
		c.span(at+"metal_g", low, best, high)
		c.span(at+"finished_g", low+handSteel, best+handSteel, high+handSteel)
		for j, one := range [5][2]float64{ // fill, density, rubber, metal, warm mold, each alone
			{handHead(handMetal, 0.97, h.head, 0.004, 0.008, handGrown), handHead(handMetal, 0.99, h.head, 0.004, 0.008, handGrown)},
			{handHead(11, 0.98, h.head, 0.004, 0.008, handGrown), handHead(11.1, 0.98, h.head, 0.004, 0.008, handGrown)},
			{handHead(handMetal, 0.98, h.head, 0.006, 0.008, handGrown), handHead(handMetal, 0.98, h.head, 0.002, 0.008, handGrown)},
			{handHead(handMetal, 0.98, h.head, 0.004, 0.01, handGrown), handHead(handMetal, 0.98, h.head, 0.004, 0.007, handGrown)},
			{handHead(handMetal, 0.98, h.head, 0.004, 0.008, handSlow), handHead(handMetal, 0.98, h.head, 0.004, 0.008, handFast)},
		} {
			c[fmt.Sprintf("%srange_from[%d].low_g", at, j)], c[fmt.Sprintf("%srange_from[%d].high_g", at, j)] = one[0]-best, one[1]-best
		}
		for key, v := range map[string]float64{
			"scale": 1.02, "shrink": 1.01, "volume_mm3": h.head, "metal_mm3": h.head - 14, "wire_length_mm": 63, "target_g": 10.631071171875,
			"steel_g": handSteel, "steel_in_head_g": 12*7.85e-3 + 0.05*2/5, "runner_g": handMetal * h.runner / 1000,
			"wires[0].count": 1, "wires[0].diameter_mm": 1, "wires[0].length_mm": 63, "wires[0].steel_g": 50 * 7.85e-3, "wires[0].steel_in_head_g": 12 * 7.85e-3,
			"wires[0].stretches[0].straight_mm": 20, "wires[0].stretches[0].bend_deg": 90, "wires[0].stretches[0].inside_radius_mm": 2,
			"wires[0].stretches[1].straight_mm": 38, "wires[0].stretches[1].bend_deg": 0, "wires[0].stretches[1].inside_radius_mm": 0,
			"wires[1].count": 1, "wires[1].diameter_mm": 0.8, "wires[1].length_mm": 10, "wires[1].steel_g": 0.05, "wires[1].steel_in_head_g": 0.02,
			"wires[1].stretches[0].straight_mm": 10, "wires[1].stretches[0].bend_deg": 0, "wires[1].stretches[0].inside_radius_mm": 0,
		} {
			c[at+key] = v
		}
		c.fillingByHand(at+"filling.", (h.head-14)*1.01*1.01*1.01, h.area, h.funnel)
	}
}

// fillingByHand: Torricelli at 0.7 through an ellipse of 3 x 2 mm, Chvorinov
// and its ball in SI units, Young-Laplace.
func (c Cells) fillingByHand(at string, volume, area, funnel float64) {
	gate := math.Pi * 1.5 * 1.0
	around := math.Pi * (3*2.5 - math.Sqrt((3*1.5+1)*(1.5+3))) // Ramanujan
	plane := func(modulus float64) float64 {                   // m
		k := math.Pi / 4 * math.Pow(handVolumeHeat/240, 2) / (0.27 * handDensity * 1000 * 1300)
		return k * modulus * modulus
	}
	last := math.Pow(handLastHeat/handVolumeHeat*240/(251.7-60), 2)
	modulus := volume / area
	c[at+"estimate"], c[at+"modulus_mm"] = true, modulus
	c[at+"fill_s"] = volume / (0.7 * gate * math.Sqrt(2*9806.65*funnel))
	c[at+"gate_freezes_s"] = plane(gate / around / 1000)
	c[at+"freezes_high_s"] = last * plane(modulus/1000)
	c[at+"freezes_low_s"] = ballByHand(modulus / 1000)
	c[at+"finest_radius_mm"] = 2 * handTension / (handMelt * 1000 * 9.80665 * funnel / 1000) * 1000
	c[at+"heat_reaches_mm"] = math.Sqrt(math.Pi*0.27/(handDensity*1000*1300)*last*plane(modulus/1000)) * 1000
}

// layoutByHand: 190 ml instead of 200, and the larger head is the slower one,
// with the lower funnel.
func (c Cells) layoutByHand() {
	for key, v := range map[string]any{
		"layout.rows": 2.0, "layout.runner.diameter_mm": 5.0, "layout.runner.down_mm": 6.0,
		"layout.search.turned_deg": 90.0, "layout.search.alternate": true, "layout.search.tried": 12.0, "layout.search.plain_ml": 200.0,
		"layout.search.found_ml": 190.0, "layout.search.saved_ml": 10.0, "layout.search.saved_g": 10 * handDensity * 1.05,
		"gate.width_mm": 3.0, "gate.thickness_mm": 2.0, "gate.snips_to_mm": 3.0, "gate.snips": true, "gate.fills": true,
		"gate.fills_from_mm": 1.5 * 2 * c["heads[0].filling.finest_radius_mm"].(float64),
		"gate.fill_s":        c["heads[0].filling.fill_s"], "gate.freezes_s": c["heads[0].filling.gate_freezes_s"],
	} {
		c[key] = v
	}
}

// handVolumeHeat is what the metal gives off from 340 to 300 °C and frozen,
// J/m³; the mold is 240 K below.
const handVolumeHeat = handMetal * 1e6 * (handLatent + 40*handFluidC)

// handLastHeat is the same down to where the last liquid freezes, 251.7 °C.
const handLastHeat = handMetal * 1e6 * (handLatent + (340-251.7)*handFluidC)

// ballByHand finds when a ball of that modulus has given off its heat, m and s,
// by halving: V/A · heat = rise · (2√(kρc·t/π) + k·t/r).
func ballByHand(modulus float64) float64 {
	kRhoC, r := 0.27*handDensity*1000*1300, 3*modulus
	low, high := 0.0, 1e6
	for range 200 {
		t := (low + high) / 2
		if 240*(2*math.Sqrt(kRhoC*t/math.Pi)+0.27*t/r) < modulus*handVolumeHeat {
			low = t
		} else {
			high = t
		}
	}
	return high
}
