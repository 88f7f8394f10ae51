package pourplan

// PlanSchema is the number in Plan.Schema. Within one number fields are only
// added.
const PlanSchema = 1

// Plan is every figure of a mold's pour and casting. A build stores it as
// plan.json, and check and build print it with --json under "plan".
//
// The unit of a figure is at the end of its name: mm, mm2 (mm²), mm3 (mm³), ml, us_fl_oz,
// g, g_cm3 (g/cm³), percent, deg (°), c (°C), k (K), j (J), s, money (the job's
// currency), heads. A name without one is a count, a factor
// or a part of a ratio. A range has its unit in its own name.
type Plan struct {
	Schema   int           `json:"schema"`                 // number of this format, PlanSchema; a reader should refuse one it does not know
	Title    string        `json:"title"`                  // the job's
	Rubber   RubberPlan    `json:"rubber"`                 // to buy, weigh and mix
	Layout   LayoutPlan    `json:"layout,omitzero"`        // how the cavities are arranged; left out, as gate, metal and casting are, for frames that were drawn already
	Gate     GatePlan      `json:"gate,omitzero"`          // the neck that is snipped, and why it is as thick as it is
	Heads    []HeadPlan    `json:"heads"`                  // in order along +X, as in the mold
	Metal    MetalPlan     `json:"metal,omitzero"`         // to melt
	Casting  CastingPlan   `json:"casting,omitzero"`       // temperatures, and what they do to the rubber
	Times    TimesPlan     `json:"times"`                  // the rubber's, and the evening by the clock
	Swaps    []SwapPlan    `json:"swaps"`                  // the same mold in other metals
	Buying   *BuyingPlan   `json:"buying,omitempty"`       // left out when the job lists no kits
	Cost     *CostPlan     `json:"cost,omitempty"`         // left out when the job names no price
	SealMM   float64       `json:"seal_coat_mm,omitempty"` // to be put on the inside of the printed trays before rubber; left out without one
	Supplies *SuppliesPlan `json:"supplies,omitempty"`     // parts and coats for the heads that are wanted; left out for frames that were drawn already
	Print    *PrintPlan    `json:"print,omitempty"`        // how the frames are printed; left out as long as nothing is meshed
	Frames   []FramePlan   `json:"frames"`                 // left, right
	Cautions []Caution     `json:"cautions"`               // in the order of the work
	Findings []PlanFinding `json:"findings"`               // of the checks, the severe first within heads and mold
	Typical  []string      `json:"typical"`                // job keys whose figures are typical ones, not the job's
}

// Range is a figure with the ends between which it is expected.
type Range struct {
	Low  float64 `json:"low"`  // what it is not expected, or certified, to be below
	Best float64 `json:"best"` // the figure to count with
	High float64 `json:"high"` // what it is not expected, or certified, to be above
}

// RubberPlan is the rubber to buy, weigh and mix.
type RubberPlan struct {
	Name         string      `json:"name"`                     // the job's, or the preset's
	Cure         string      `json:"cure"`                     // "tin" or "platinum"
	Ratio        string      `json:"ratio"`                    // A:B by mass, as the data sheet writes it
	RatioA       float64     `json:"ratio_a"`                  // parts by mass
	RatioB       float64     `json:"ratio_b"`                  // parts by mass
	DensityGCM3  float64     `json:"density_g_cm3"`            // mixed
	WastePercent float64     `json:"waste_percent"`            // extra to mix, on top of the frame's volume
	ScaleStepG   float64     `json:"scale_step_g"`             // to which A and B are rounded
	Vacuum       bool        `json:"vacuum"`                   // the mix is de-aired in a chamber
	Halves       []HalfPlan  `json:"halves"`                   // left, right
	OneMix       OneMix      `json:"one_mix"`                  // both halves out of one cup
	TotalML      float64     `json:"total_ml"`                 // empty volume of both frames
	TotalG       float64     `json:"total_g"`                  // to mix, as weighed
	TotalAG      float64     `json:"total_a_g"`                // A of both halves, as weighed
	ThinnestMM   float64     `json:"thinnest_mm,omitempty"`    // the thinnest rubber of the mold; left out when not looked for
	ThinnestFrom string      `json:"thinnest_from,omitempty"`  // what it lies between
	ThinnestTo   string      `json:"thinnest_to,omitempty"`    // and what else
	ThinnestAtMM *[3]float64 `json:"thinnest_at_mm,omitempty"` // where, mold coordinates
	TotalBG      float64     `json:"total_b_g"`                // B of both halves, as weighed
}

// HalfPlan is one half's pour.
type HalfPlan struct {
	Half            string  `json:"half"`               // "left" or "right"
	VolumeML        Range   `json:"volume_ml"`          // of the frame up to the fill line; the ends are certified
	VolumeFlOz      float64 `json:"volume_us_fl_oz"`    // the best of it
	FrameMassG      float64 `json:"frame_mass_g"`       // that fills the frame
	WasteG          float64 `json:"waste_g"`            // mixed beyond it
	ResidueG        float64 `json:"residue_g"`          // that stays in cup and brush
	BrushG          float64 `json:"brush_coat_g"`       // of what fills the frame, brushed on first; estimated from the skin
	ExactMassG      float64 `json:"exact_mass_g"`       // the three together, before rounding
	AG              float64 `json:"a_g"`                // to weigh
	BG              float64 `json:"b_g"`                // to weigh
	MixG            float64 `json:"mix_g"`              // A and B as weighed
	BErrorPercent   float64 `json:"b_error_percent"`    // of B as weighed from what belongs to A
	LineAML         float64 `json:"line_a_ml"`          // level of A in the cup
	LineAFlOz       float64 `json:"line_a_us_fl_oz"`    // the same
	LineAFromMix    bool    `json:"line_a_estimated"`   // by the mixed density, since A's own is not known
	LineMixML       float64 `json:"line_mix_ml"`        // level of the mix
	LineMixFlOz     float64 `json:"line_mix_us_fl_oz"`  // the same
	CupML           float64 `json:"cup_ml"`             // least size, with headroom
	CupFlOz         float64 `json:"cup_us_fl_oz"`       // the same
	FillFromFloorMM float64 `json:"fill_from_floor_mm"` // height of the fill line over the tray's floor
	FillFromRimMM   float64 `json:"fill_from_rim_mm"`   // and down from the rim
}

// OneMix is both halves poured out of one cup, and whether to.
type OneMix struct {
	Advised      bool    `json:"advised"`                          // pot life and the largest cup allow it
	Reason       string  `json:"reason"`                           // for people
	TakesS       float64 `json:"takes_s"`                          // from the first B to the last pouring
	HalfTakesS   float64 `json:"half_takes_s"`                     // the same for a half mixed on its own
	AG           float64 `json:"a_g"`                              // to weigh
	BG           float64 `json:"b_g"`                              // to weigh
	MixG         float64 `json:"mix_g"`                            // A and B as weighed
	LineAML      float64 `json:"line_a_ml"`                        // level of A in the cup
	LineMixML    float64 `json:"line_mix_ml"`                      // level of the mix
	CupML        float64 `json:"cup_ml"`                           // least size, with headroom
	LargestCupML float64 `json:"largest_cup_at_hand_ml,omitempty"` // the job's; left out when it does not say
}

// HeadPlan is what one head is expected to weigh.
type HeadPlan struct {
	Name         string      `json:"name"`                     // of the cavity
	Hook         string      `json:"hook,omitempty"`           // its name; left out without one
	Scale        float64     `json:"scale"`                    // of the drawn head
	Shrink       float64     `json:"shrink"`                   // linear factor from cold casting to print
	VolumeMM3    float64     `json:"volume_mm3"`               // of the finished cold head, wire in it included
	MetalMM3     float64     `json:"metal_mm3"`                // of that, the metal
	WireLengthMM float64     `json:"wire_length_mm,omitempty"` // of the hook's axis, eye ring included
	WireToCutMM  float64     `json:"wire_to_cut_mm,omitempty"` // the same for a hook to be bent at the bench, one given by points; left out for a bought hook
	Wires        []WirePlan  `json:"wires,omitempty"`          // hook and keepers, kind by kind
	TargetG      float64     `json:"target_g,omitempty"`       // what the job asks for; left out when the head goes by scale
	TargetOf     string      `json:"target_of,omitempty"`      // "finished" or "metal"
	MetalG       Range       `json:"metal_g"`                  // mass of the metal
	SteelG       float64     `json:"steel_g"`                  // mass of all wires
	SteelInHeadG float64     `json:"steel_in_head_g"`          // of that, what lies in the head
	FinishedG    Range       `json:"finished_g"`               // metal and wires
	Coat         *CoatPlan   `json:"powder_coat,omitempty"`    // all its coats, whatever their kinds; left out without any
	RangeFrom    []RangePart `json:"range_from"`               // what makes the range; left empty when every figure is exact
	RunnerG      float64     `json:"runner_g"`                 // its own sprue or branch, gate and vents, back to the pot
	Fill         *Filling    `json:"filling,omitempty"`        // left out when heat figures of the metal are not known
	Frozen       *FrozenPlan `json:"frozen,omitempty"`         // as a shot was computed; left out when none was
	Draw         *DrawPlan   `json:"draw,omitempty"`           // left out when not looked at
	Air          []AirPlan   `json:"air,omitempty"`            // pockets of air that the cavity would hold without vents, the largest first; left out when there are none
}

// Filling holds the estimates of how metal fills and freezes in one cavity.
type Filling struct {
	Estimate       bool    `json:"estimate"`                 // always true of filling: rules of thumb, good to a factor of two
	FillS          float64 `json:"fill_s"`                   // until the cavity is full
	GateFreezesS   float64 `json:"gate_freezes_s"`           // until the gate is shut: as computed, else rough
	FreezesLowS    float64 `json:"freezes_low_s,omitempty"`  // until it is solid: as computed; else, rough, as a ball of the cavity's modulus that freezes at the liquidus; 0: not known
	FreezesHighS   float64 `json:"freezes_high_s,omitempty"` // at the latest: as computed at the slow end; else, rough, as a plate of it whose last liquid freezes at the solidus
	ModulusMM      float64 `json:"modulus_mm,omitempty"`     // volume over area
	FinestRadiusMM float64 `json:"finest_radius_mm"`         // that the metal enters

	ThinMM       float64     `json:"thin_mm,omitempty"`         // the thinnest section of the head in the mold; left out when it is thicker than is looked for
	ThinFreezesS float64     `json:"thin_freezes_s,omitempty"`  // until it is solid
	ThinAtMM     *[3]float64 `json:"thin_at_mm,omitempty"`      // where it is, mold coordinates
	ThinHeadAtMM *[3]float64 `json:"thin_head_at_mm,omitempty"` // the same in the head's file

	HeatReachesMM float64 `json:"heat_reaches_mm,omitempty"` // into the rubber: as computed for 10 K; else, rough, while the head freezes
}

// MetalPlan is the metal to melt.
type MetalPlan struct {
	Name           string  `json:"name"`                      // the preset's, or the job's alloy
	Composition    string  `json:"composition,omitempty"`     // by mass; left out when only a density is known
	DensityGCM3    Range   `json:"density_g_cm3"`             // cold
	ShrinkPercent  Range   `json:"shrink_percent"`            // linear, solid metal from freezing to cold
	FillFactor     float64 `json:"fill_factor"`               // weighed over computed metal mass
	FillLow        float64 `json:"fill_low_factor"`           // the least that is expected of it
	FillHigh       float64 `json:"fill_high_factor"`          // and the most
	FedFactor      Range   `json:"fed_factor"`                // mass of a head over that of one fed until all of it is solid
	AccountFactor  float64 `json:"account_factor,omitempty"`  // what heads weigh over density times the volume that accounts of castings have
	HeadsPerShotG  float64 `json:"heads_per_shot_g"`          // metal in all heads of a shot
	RunnerPerShotG float64 `json:"runners_per_shot_g"`        // in sprues, gates and vents of a shot, a shared runner in it
	SharedRunnerG  float64 `json:"shared_runner_g,omitempty"` // in a runner that feeds all cavities; left out without one
	ShotG          float64 `json:"shot_g"`                    // both together
	DrossPercent   float64 `json:"dross_percent"`             // of the melt, lost
	HeelG          float64 `json:"heel_g"`                    // left in the pot
	Shots          int     `json:"shots"`                     // to get the heads that are wanted; 1 when none are said
	HeadsWanted    int     `json:"heads_wanted"`              // good ones; 0 when the job does not say
	YieldPercent   float64 `json:"yield_percent"`             // good heads out of those cast
	MoldsLow       int     `json:"molds_low,omitempty"`       // that the shots take, when each lasts the longer life
	MoldsHigh      int     `json:"molds_high,omitempty"`      // when each lasts the shorter life: rubber is bought for these
	MeltG          float64 `json:"melt_g"`                    // for all shots, runners of earlier ones not melted again
	ReturnsG       float64 `json:"returns_g"`                 // runners and bad heads that come back
	UsedUpG        float64 `json:"used_up_g"`                 // in good heads and dross, when all else is melted again
	PotG           float64 `json:"pot_g,omitempty"`           // that the pot holds; left out when the job does not say
	ShotsPerMelt   int     `json:"shots_per_melt,omitempty"`  // whole shots out of a full pot above the heel
	Melts          int     `json:"melts,omitempty"`           // potfuls; left out when the pot is not known, or too small for a shot
}

// Verdict says what a temperature does to the rubber.
type Verdict string

// The verdicts, from the skin's temperature and the rubber's limits.
const (
	Fine         Verdict = "fine"          // not above the continuous limit
	ShortensLife Verdict = "shortens life" // not above the limit for a short time
	DoNot        Verdict = "do not"        // above it
)

// CastingPlan is temperatures.
type CastingPlan struct {
	LiquidusC         float64     `json:"liquidus_c"`                     // above it the metal is fully molten
	SolidusC          float64     `json:"solidus_c,omitempty"`            // below it the last liquid is solid; left out when not known
	PourC             float64     `json:"pour_c"`                         // of the metal when poured
	MoldC             float64     `json:"mold_c"`                         // of the warmed mold
	ContactC          float64     `json:"contact_c"`                      // where metal meets rubber, rough
	ContactFromPour   bool        `json:"contact_is_the_pour"`            // no heat figures for the metal: taken as hot as the pour
	RubberContinuousC float64     `json:"rubber_continuous_c"`            // the rubber's continuous limit
	RubberShortC      float64     `json:"rubber_short_c"`                 // its short-term limit
	RubberOverMM      float64     `json:"rubber_over_mm"`                 // over the highest point of a cavity; the estimates take it as endless
	Verdict           Verdict     `json:"verdict"`                        // on the skin as computed; on the contact temperature as long as it was not
	PourVerdict       Verdict     `json:"pour_verdict"`                   // on the pour temperature, which the gate comes near
	OpenAfterS        float64     `json:"open_after_s,omitempty"`         // until the last metal of heads, funnels and runner is solid, at the slow end of what is not known, and half as long again: estimated; left out when not known
	SolidS            float64     `json:"solid_s,omitempty"`              // until the last metal of heads, funnels and runner is solid, as computed; left out when no shot was
	SolidMostS        float64     `json:"solid_most_s,omitempty"`         // the same with all that is not known at the slow end
	SolidAtMM         *[3]float64 `json:"solid_at_mm,omitempty"`          // where the last of it is, mold coordinates
	SkinC             float64     `json:"skin_c,omitempty"`               // the rubber's skin at its hottest, as computed
	SkinOverS         float64     `json:"skin_over_s,omitempty"`          // for how long a shot keeps its skin above the continuous limit, where that is longest
	Shot              *ShotPlan   `json:"shot,omitempty"`                 // more of the shot as computed; left out when none was
	HeatReachesMM     float64     `json:"heat_reaches_mm,omitempty"`      // how far from the metal a shot warms the rubber by 10 K
	HeatOfShotJ       float64     `json:"heat_of_shot_j,omitempty"`       // given off down to the mold's temperature, rough; left out when a shot was computed
	MoldWarmsK        float64     `json:"mold_warms_k,omitempty"`         // by a shot, rough; left out when a shot was computed
	RestS             float64     `json:"rest_between_shots_s,omitempty"` // from opening until the mold is back at its temperature, as computed or rough; left out when that is no warmer than the room
	LifeLow           int         `json:"life_low_shots"`                 // shots that the mold lasts, at least
	LifeHigh          int         `json:"life_high_shots"`                // and at most
	LifeUsual         bool        `json:"life_is_usual"`                  // common practice, since the job does not say
}

// FramePlan is one printed tray and the proof of its mesh.
type FramePlan struct {
	Half       string     `json:"half"`                   // "left" or "right"
	InsideMM   [3]float64 `json:"inside_mm"`              // x, y, z of the rubber
	OutsideMM  [3]float64 `json:"outside_mm"`             // x, y, z of the print, tabs included
	FloorMM    float64    `json:"floor_mm"`               // thickness
	RimMM      float64    `json:"rim_over_floor_mm"`      // height of the wall over the tray's floor
	BracketPct float64    `json:"rubber_bracket_percent"` // width of the certified bracket of the rubber's volume
	Mesh       *MeshProof `json:"mesh,omitempty"`         // left out as long as nothing is meshed
}

// MeshProof holds a mesh against the solid that it stands for.
type MeshProof struct {
	Triangles      int     `json:"triangles"`              // of the frame's file
	MeshMM3        float64 `json:"mesh_mm3"`               // by the divergence theorem
	SolidMM3       Range   `json:"solid_mm3"`              // the ends are certified
	OffPercent     float64 `json:"off_percent"`            // of the mesh from the solid's best
	WithinTheRange bool    `json:"within_certified_range"` // the mesh's volume lies in the certified range
}

// PlanFinding is a finding of the checks.
type PlanFinding struct {
	Severity string      `json:"severity"`             // stop, warn or note
	Code     string      `json:"code"`                 // short and stable
	Mark     string      `json:"mark,omitempty"`       // letter that shows its place on the drawings; left out for a note
	Cavity   string      `json:"cavity,omitempty"`     // its name; left out when it is about the whole mold or a file
	AtMM     *[3]float64 `json:"at_mm,omitempty"`      // mold coordinates
	HeadAtMM *[3]float64 `json:"head_at_mm,omitempty"` // in the head's file
	Message  string      `json:"message"`              // what is wrong
	Value    float64     `json:"value"`                // what was seen, in unit; 0 with limit 0 when it is not about a number
	Limit    float64     `json:"limit"`                // what it must keep, in unit
	Unit     string      `json:"unit,omitempty"`       // of value and limit; left out for a bare number
	Remedy   string      `json:"remedy,omitempty"`     // what to change
}
