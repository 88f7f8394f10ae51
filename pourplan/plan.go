package pourplan

// PlanSchema is the number in Plan.Schema. Within one number fields are only
// added.
const PlanSchema = 1

// Plan is every figure of a mold's pour and casting. The unit is in a field's
// name. It is made by NewPlan and written by JSON.
type Plan struct {
	Schema   int           `json:"schema"`
	Title    string        `json:"title"`
	Rubber   RubberPlan    `json:"rubber"`
	Heads    []HeadPlan    `json:"heads"` // in order along +X, as in the mold
	Metal    MetalPlan     `json:"metal"`
	Casting  CastingPlan   `json:"casting"`
	Times    TimesPlan     `json:"times"`
	Frames   []FramePlan   `json:"frames"` // left, right
	Cautions []Caution     `json:"cautions"`
	Findings []PlanFinding `json:"findings"`
	Typical  []string      `json:"typical"` // job keys whose figures are typical ones, not the job's
}

// Range is a figure with the ends between which it is expected.
type Range struct {
	Low  float64 `json:"low"`
	Best float64 `json:"best"`
	High float64 `json:"high"`
}

// RubberPlan is the rubber to buy, weigh and mix.
type RubberPlan struct {
	Name         string     `json:"name"`
	Cure         string     `json:"cure"`
	Ratio        string     `json:"ratio"` // A:B by mass
	RatioA       float64    `json:"ratio_a"`
	RatioB       float64    `json:"ratio_b"`
	DensityGCM3  float64    `json:"density_g_cm3"` // mixed
	WastePercent float64    `json:"waste_percent"`
	ScaleStepG   float64    `json:"scale_step_g"`
	Vacuum       bool       `json:"vacuum"`
	Halves       []HalfPlan `json:"halves"` // left, right
	TotalML      float64    `json:"total_ml"`
	TotalG       float64    `json:"total_g"` // to mix, as weighed
	TotalAG      float64    `json:"total_a_g"`
	TotalBG      float64    `json:"total_b_g"`
}

// HalfPlan is one half's pour.
type HalfPlan struct {
	Half            string  `json:"half"`             // "left" or "right"
	VolumeML        Range   `json:"volume_ml"`        // of the frame up to the fill line; the ends are certified
	VolumeFlOz      float64 `json:"volume_us_fl_oz"`  //
	FrameMassG      float64 `json:"frame_mass_g"`     // that fills the frame
	WasteG          float64 `json:"waste_g"`          // mixed beyond it
	ResidueG        float64 `json:"residue_g"`        // that stays in cup and brush
	ExactMassG      float64 `json:"exact_mass_g"`     // the three together, before rounding
	AG              float64 `json:"a_g"`              // to weigh
	BG              float64 `json:"b_g"`              // to weigh
	MixG            float64 `json:"mix_g"`            // A and B as weighed
	BErrorPercent   float64 `json:"b_error_percent"`  // of B as weighed from what belongs to A
	LineAML         float64 `json:"line_a_ml"`        // where A stands in the cup
	LineAFlOz       float64 `json:"line_a_us_fl_oz"`  //
	LineAFromMix    bool    `json:"line_a_estimated"` // by the mixed density, since A's own is not known
	LineMixML       float64 `json:"line_mix_ml"`      // where the mix stands
	LineMixFlOz     float64 `json:"line_mix_us_fl_oz"`
	CupML           float64 `json:"cup_ml"` // least size, with headroom
	CupFlOz         float64 `json:"cup_us_fl_oz"`
	FillFromFloorMM float64 `json:"fill_from_floor_mm"` // height of the fill line over the tray's floor
	FillFromRimMM   float64 `json:"fill_from_rim_mm"`   // and down from the rim
}

// HeadPlan is what one head is expected to weigh.
type HeadPlan struct {
	Name         string   `json:"name"`
	Hook         string   `json:"hook,omitempty"`
	Scale        float64  `json:"scale"`  // of the drawn head
	Shrink       float64  `json:"shrink"` // linear factor from cold casting to print
	VolumeMM3    float64  `json:"volume_mm3"`
	MetalMM3     float64  `json:"metal_mm3"`
	WireLengthMM float64  `json:"wire_length_mm,omitempty"`
	TargetG      float64  `json:"target_g,omitempty"`
	TargetOf     string   `json:"target_of,omitempty"` // "finished" or "metal"
	MetalG       Range    `json:"metal_g"`
	SteelG       float64  `json:"steel_g"`
	FinishedG    Range    `json:"finished_g"`
	RunnerG      float64  `json:"runner_g"` // sprue, gate and vents, back to the pot
	Fill         *Filling `json:"filling,omitempty"`
}

// Filling holds the estimates of how metal fills and freezes in one cavity.
type Filling struct {
	Estimate       bool    `json:"estimate"` // always true: rules of thumb, good to a factor of two
	FillS          float64 `json:"fill_s"`
	GateFreezesS   float64 `json:"gate_freezes_s"`
	FreezesLowS    float64 `json:"freezes_low_s,omitempty"`  // as a ball of the cavity's modulus; 0: area not measured
	FreezesHighS   float64 `json:"freezes_high_s,omitempty"` // as a plate of it
	ModulusMM      float64 `json:"modulus_mm,omitempty"`     // volume over area
	FinestRadiusMM float64 `json:"finest_radius_mm"`         // that the metal enters
	HeatReachesMM  float64 `json:"heat_reaches_mm,omitempty"`
}

// MetalPlan is the metal to melt.
type MetalPlan struct {
	Name           string  `json:"name"`
	Composition    string  `json:"composition,omitempty"`
	DensityGCM3    Range   `json:"density_g_cm3"`
	ShrinkPercent  Range   `json:"shrink_percent"`
	FillFactor     float64 `json:"fill_factor"`
	HeadsPerShotG  float64 `json:"heads_per_shot_g"`
	RunnerPerShotG float64 `json:"runners_per_shot_g"`
	ShotG          float64 `json:"shot_g"`
	DrossPercent   float64 `json:"dross_percent"`
	HeelG          float64 `json:"heel_g"`
	Shots          int     `json:"shots"`
	HeadsWanted    int     `json:"heads_wanted"`
	YieldPercent   float64 `json:"yield_percent"`
	MeltG          float64 `json:"melt_g"`    // for all shots, runners of earlier ones not melted again
	ReturnsG       float64 `json:"returns_g"` // runners and bad heads that come back
}

// Verdict says what a temperature does to the rubber.
type Verdict string

// The verdicts, from the contact temperature and the rubber's limits.
const (
	Fine         Verdict = "fine"          // not above the continuous limit
	ShortensLife Verdict = "shortens life" // not above the limit for a short time
	DoNot        Verdict = "do not"        // above it
)

// CastingPlan is temperatures.
type CastingPlan struct {
	LiquidusC         float64 `json:"liquidus_c"`
	PourC             float64 `json:"pour_c"`
	MoldC             float64 `json:"mold_c"`
	ContactC          float64 `json:"contact_c"`           // where metal meets rubber, estimated
	ContactFromPour   bool    `json:"contact_is_the_pour"` // no heat figures for the metal: taken as hot as the pour
	RubberContinuousC float64 `json:"rubber_continuous_c"`
	RubberShortC      float64 `json:"rubber_short_c"`
	Verdict           Verdict `json:"verdict"`
	OpenAfterS        float64 `json:"open_after_s,omitempty"` // twice the longest freezing time, estimated
}

// TimesPlan is the rubber's times.
type TimesPlan struct {
	PotLifeS float64 `json:"pot_life_s"`
	DemoldS  float64 `json:"demold_s"`
	RestS    float64 `json:"rest_s"` // from demolding to hot metal
}

// FramePlan is one printed tray and the proof of its mesh.
type FramePlan struct {
	Half       string     `json:"half"`
	InsideMM   [3]float64 `json:"inside_mm"`
	OutsideMM  [3]float64 `json:"outside_mm"`
	FloorMM    float64    `json:"floor_mm"`
	RimMM      float64    `json:"rim_over_floor_mm"`
	BracketPct float64    `json:"rubber_bracket_percent"` // width of the certified bracket of the rubber's volume
	Mesh       *MeshProof `json:"mesh,omitempty"`
}

// MeshProof holds a mesh against the solid that it stands for.
type MeshProof struct {
	Triangles      int     `json:"triangles"`
	MeshMM3        float64 `json:"mesh_mm3"`
	SolidMM3       Range   `json:"solid_mm3"` // the ends are certified
	OffPercent     float64 `json:"off_percent"`
	WithinTheRange bool    `json:"within_certified_range"`
}

// PlanFinding is a finding of the checks.
type PlanFinding struct {
	Severity string      `json:"severity"` // stop, warn or note
	Code     string      `json:"code"`
	Cavity   string      `json:"cavity,omitempty"`
	AtMM     *[3]float64 `json:"at_mm,omitempty"`      // mold coordinates
	HeadAtMM *[3]float64 `json:"head_at_mm,omitempty"` // in the head's file
	Message  string      `json:"message"`
	Value    float64     `json:"value"`
	Limit    float64     `json:"limit"`
	Unit     string      `json:"unit,omitempty"`
	Remedy   string      `json:"remedy,omitempty"`
}
