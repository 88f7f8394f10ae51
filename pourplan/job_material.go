package pourplan

// MetalTable is [metal]: a preset, a composition, or a density with a liquidus.
// A figure given without its range is taken as exact.
type MetalTable struct {
	Use          string // its name on the shelf; "": all of it stands in the job
	Preset       string
	Composition  Composition
	Density      Density // cold; 0: from the composition
	DensityRange *DensityRange
	Shrink       *Percent // linear, solid metal from freezing to cold
	ShrinkRange  *PercentRange
	FillFactor   float64 // weighed over computed metal mass
	FillRange    *FactorRange
	Liquidus     *Celsius
	Solidus      *Celsius // nil: of the composition, where that is known
	Latent       *float64 // heat of fusion, J/g; nil: of the composition
}

func (t *MetalTable) keys() []key {
	const nearOne = "it is weighed mass divided by computed mass, near 1"
	return []key{
		{"use", &t.Use, nil, nil, "name of a metal on your shelf, " + ShelfFile + " beside the job or in a folder above it: a table [metal.\"its name\"] with the keys of this table. Keys here replace those there. metal = \"its name\" is short for it", ""},
		{"preset", &t.Preset, nil, nil, "one of the metals listed below", ""},
		{"composition", &t.Composition, nil, nil, "instead of a preset: percent by mass of lead, tin, bismuth, antimony, zinc and copper, adding up to 100", ""},
		{"density", &t.Density, nil, in(1, 20), "of the cold metal; left out: from the composition", "lead has 11.3, tin 7.3"},
		{"density_range", &t.DensityRange, nil, in(1, 20), "range it may lie in; left out with a density: exactly that", ""},
		{"shrink", &t.Shrink, nil, in(0, 3), "linear, of solid metal from freezing to cold; left out: from the composition", "linear, of the solid metal: about 0.9 for lead, 0.5 for tin"},
		{"shrink_range", &t.ShrinkRange, nil, in(0, 3), "range it may lie in", ""},
		{"fill_factor", &t.FillFactor, 1, in(leastFill, mostFill), "weighed mass divided by computed mass, once you have weighed some heads; build --weighed takes it from the account", nearOne},
		{"fill_range", &t.FillRange, nil, in(leastFill, mostFill), "range the fill factor may lie in, such as [0.96, 1]; left out: 0.96 to 1, or fill_factor alone once you set it", nearOne},
		{"liquidus", &t.Liquidus, nil, in(40, 1200), "temperature above which it is fully molten; required unless the composition is a preset's", ""},
		{"solidus", &t.Solidus, nil, in(30, 1200), "temperature below which it is fully solid; left out: from the composition, where known", ""},
		{"latent", &t.Latent, nil, in(5, 500).of("J/g"), "heat of fusion, as measured; left out: from the composition", "lead has 23, tin 60"},
	}
}

// A fill factor outside these is a slip of unit or decimal.
const leastFill, mostFill = 0.5, 1.2

// CastingTable is [casting].
type CastingTable struct {
	Superheat Rise     // over the liquidus
	Pour      *Celsius // instead of Superheat
	Mold      Celsius
	Dross     Percent
	Heel, Pot Gram // Pot 0: any
	Heads     int  // wanted good ones; 0: one shot
	Yield     Percent
	Life      *ShotRange // nil: usualLife
}

func (t *CastingTable) keys() []key {
	return []key{
		{"superheat", &t.Superheat, 30, in(0, 300), "how far above the liquidus you pour", "30 to 80 is usual"},
		{"pour", &t.Pour, nil, atMost(1500), "pouring temperature, instead of superheat; at least the liquidus", "it must be above the liquidus"},
		{"mold", &t.Mold, 60, in(-20, 200), "temperature you warm the mold to before pouring", "50 to 95 is usual"},
		{"dross", &t.Dross, 5, in(0, 50), "share of the melt that you skim off", ""},
		{"heel", &t.Heel, 150, in(0, noMore), "metal you leave in the pot; at most nine tenths of casting.pot", ""},
		{"pot", &t.Pot, 0, in(0, noMore), "how much of this metal your pot holds; 0: any", ""},
		{"heads", &t.Heads, 0, in(0, noMore), "good heads you want; 0: one shot", ""},
		{"yield", &t.Yield, 90, in(1, 100), "share of cast heads that come out good", ""},
		{"life", &t.Life, nil, nil, "shots a mold lasts, lowest and highest; left out: 20 to 25, common practice", ""},
	}
}

// RubberTable is [rubber]: a preset with what the data sheet knows better, or
// all of the data sheet's figures.
type RubberTable struct {
	Use                         string // its name on the shelf; "": all of it stands in the job
	Preset, Name, Cure          string
	Ratio                       *Ratio
	Density, DensityA, DensityB *Density // of the mix and of its parts
	Shrink                      *Percent // linear, on curing
	ShrinkRange                 *PercentRange
	Expansion                   *Expansion // linear, by heat
	ExpansionRange              *ExpansionRange
	PotLife, Demold, Rest       *Seconds
	Continuous, Short           *Celsius // service temperatures
	Conductivity                *float64 // of heat, W/(m·K)
	SpecificHeat                *float64 // J/(g·K)
	Waste                       Percent
	Residue                     Gram
	Brush                       MM
	Vacuum                      bool
	Scale                       Gram    // resolution of the scale
	Hardness                    float64 // Shore A; 0: not known
	BTolerance                  *Percent
}

func (t *RubberTable) keys() []key {
	const day = 86400
	return []key{
		{"use", &t.Use, nil, nil, "name of a rubber on your shelf, " + ShelfFile + " beside the job or in a folder above it: a table [rubber.\"its name\"] with the keys of this table, and life and opened_life. Keys here replace those there. rubber = \"its name\" is short for it", ""},
		{"preset", &t.Preset, nil, nil, "one of the rubbers listed below; leave it out if you give all figures from the data sheet", ""},
		{"name", &t.Name, nil, nil, "name for the sheet", ""},
		{"cure", &t.Cure, nil, oneOf("tin", "platinum"), "type of cure", ""},
		{"ratio", &t.Ratio, nil, in(0.1, 1000), "parts of A to parts of B by mass, A first", "write A first"},
		{"density", &t.Density, nil, in(0.8, 3), "of the mix. The masses to weigh depend on it: use your data sheet's", "mold silicones have 1.05 to 1.45"},
		{"density_a", &t.DensityA, nil, in(0.8, 3), "of part A, for its line in the cup; give density_a and density_b instead of density and the mix is worked out from both", ""},
		{"density_b", &t.DensityB, nil, in(0.8, 3), "of part B", ""},
		{"shrink", &t.Shrink, nil, in(0, 5), "linear, on curing", ""},
		{"shrink_range", &t.ShrinkRange, nil, in(0, 5), "range it may lie in", ""},
		{"expansion", &t.Expansion, nil, in(20, 800), "linear, by heat: a warm mold casts larger heads; left out: 270, between 200 and 340", "silicone rubbers have 200 to 340"},
		{"expansion_range", &t.ExpansionRange, nil, in(20, 800), "range it may lie in", "silicone rubbers have 200 to 340"},
		{"pot_life", &t.PotLife, nil, in(30, 7*day), "from the start of mixing until too thick to pour, at 23 °C", ""},
		{"demold", &t.Demold, nil, in(60, 60*day), "from mixing until firm enough to demold, at 23 °C", ""},
		{"rest", &t.Rest, nil, in(0, 365*day), "wait from demolding to the first hot metal", ""},
		{"heat_continuous", &t.Continuous, nil, atMost(600), "highest continuous temperature", ""},
		{"heat_short", &t.Short, nil, atMost(600), "highest short-term temperature; not below heat_continuous", "it is above rubber.heat_continuous"},
		{"conductivity", &t.Conductivity, nil, in(0.05, 5).of("W/(m·K)"), "of the cured rubber, for estimates; left out: typical", "silicone rubbers have 0.2 to 0.4"},
		{"specific_heat", &t.SpecificHeat, nil, in(0.5, 4).of("J/(g·K)"), "of the cured rubber, for estimates; left out: typical", "silicone rubbers have 1.2 to 1.5"},
		{"waste", &t.Waste, 5, in(0, 100), "extra to mix, on top of the frame's volume", ""},
		{"residue", &t.Residue, 8, in(0, 1000), "rubber lost in each cup and on the brush", ""},
		{"brush", &t.Brush, 0.5, in(0, 5), "thickness of the first, brushed coat", "0.5 mm is a thin coat"},
		{"vacuum", &t.Vacuum, false, nil, "you de-air the mix in a chamber: needs a cup of four times the volume", ""},
		{"scale", &t.Scale, 0.1, in(0.001, 10), "smallest step your scale shows", "the smallest step your scale shows"},
		{"hardness", &t.Hardness, nil, in(5, 90).orZero().of("Shore A"), "of the cured rubber: sets how deep an undercut may be; 0: not known", "mold rubbers have 10 to 60"},
		{"b_tolerance", &t.BTolerance, nil, in(0, 50), "how far B may be off, by the data sheet; left out: not checked", "the data sheet says how far B may be off"},
	}
}
