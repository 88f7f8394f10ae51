package pourplan

// CoatTable is one [[coat]]: what goes on the castings, in the order of work.
type CoatTable struct {
	Kind      string
	Thickness *MM // of each coat; nil: typical of the kind
	Coats     int
	Density   *Density // dry; nil: typical
	Bake      *Celsius // of the oven; nil: typical, or no oven
	BakeTime  *Seconds // nil: typical, or no oven
	Stays     *Percent // of what is weighed out, what stays on the heads; nil: typical
	AfterEyes bool     // goes on when the eyes are glued in
}

func (t *CoatTable) keys() []key {
	return []key{
		{"kind", &t.Kind, "powder", oneOf("powder", "paint", "clear", "other"), "powder is baked; paint, clear and other dry without an oven unless you give bake", ""},
		{"thickness", &t.Thickness, nil, in(0.005, 0.5), "of each coat, dry; left out: powder 0.08, paint 0.03, clear 0.1, other 0.05", "a baked coat has about 0.05 to 0.15 mm"},
		{"coats", &t.Coats, 1, in(1, 10), "number of coats of this kind, one on the other", ""},
		{"density", &t.Density, nil, in(0.8, 4), "of the dry coat; left out: powder 1.5, paint 1.3, clear 1.1, other 1.3", "1.1 to 1.8 is usual"},
		{"bake", &t.Bake, nil, in(40, 400), "oven temperature, from the product's data sheet; left out: 200 for powder, no oven for others", "most powders bake at 160 to 200"},
		{"bake_time", &t.BakeTime, nil, in(60, 86400), "in the oven, once the heads are hot; left out: 15 min for powder", "from the product's data sheet"},
		{"stays", &t.Stays, nil, in(1, 100), "share of what you weigh out that stays on the heads when dry; left out: powder 70, paint 30, clear 80, other 50", ""},
		{"after_eyes", &t.AfterEyes, nil, nil, "goes on after the eyes are glued in, and takes no room from their sockets", ""},
	}
}

// usualCoat is a kind of coat with what is left out; all of it is common practice,
// no source. Most powders bake at 160 to 200 °C for 10 to 20 min: the hottest stands
// here, which is on the safe side for metals that melt low. A powder is 1.2 g/cm³
// clear to 1.8 with white pigment. Of paint, most is solvent and overspray.
type usualCoat struct {
	kind               string
	thickness, density float64 // mm, g/cm³
	bake, bakeS, stays float64 // °C, 0: no oven; s; %
}

func usualCoats() []usualCoat {
	return []usualCoat{
		{"powder", 0.08, typicalPowder, typicalBake, 900, 70},
		{"paint", 0.03, 1.3, 0, 0, 30},
		{"clear", 0.1, 1.1, 0, 0, 80},
		{"other", 0.05, 1.3, 0, 0, 50},
	}
}

// coat is a [[coat]] with every figure.
type coat struct {
	usualCoat
	count     int
	afterEyes bool
	typical   []string // keys that the job left out
}

// total is how thick all its coats are together, mm.
func (c coat) total() float64 { return float64(c.count) * c.thickness }

// coats are all coats of the job in the order of work; finish.powder is the first.
func (j *Job) coats() []coat {
	var list []coat
	if f := j.Finish; f.Powder > 0 || f.Bake != nil {
		c := coat{usualCoat: usualCoats()[0], count: 1, typical: f.typical()}
		c.thickness, c.density, c.bake = float64(f.Powder), f.powderDensity(), f.bake()
		list = append(list, c)
	}
	for _, t := range j.Coat {
		list = append(list, t.resolve())
	}
	return list
}

func (t CoatTable) resolve() coat {
	c := coat{count: t.Coats, afterEyes: t.AfterEyes}
	for _, u := range usualCoats() {
		if u.kind == t.Kind {
			c.usualCoat = u
		}
	}
	take := func(key string, to *float64, given *float64) {
		if given != nil {
			*to = *given
		} else if *to != 0 {
			c.typical = append(c.typical, "coat."+key)
		}
	}
	take("thickness", &c.thickness, (*float64)(t.Thickness))
	take("density", &c.density, (*float64)(t.Density))
	take("bake", &c.bake, (*float64)(t.Bake))
	if take("bake_time", &c.bakeS, (*float64)(t.BakeTime)); c.bake == 0 {
		c.bakeS = 0
	}
	take("stays", &c.stays, (*float64)(t.Stays))
	return c
}

// coatThickness is of all coats together, mm; with beforeEyes of those that get into
// an eye socket.
func (j *Job) coatThickness(beforeEyes bool) float64 {
	sum := 0.0
	for _, c := range j.coats() {
		if !beforeEyes || !c.afterEyes {
			sum += c.total()
		}
	}
	return sum
}

// hottestBake is the hottest oven that the heads go into, °C; 0 for none.
func (j *Job) hottestBake() float64 {
	hottest := 0.0
	for _, c := range j.coats() {
		hottest = max(hottest, c.bake)
	}
	return hottest
}
