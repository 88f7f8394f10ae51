package pourplan

import (
	"math"
	"slices"

	"halfpour/moldbox"
)

// Job is a job file: one mold, its rubber, its metal. Keys are the words after
// toml:, in the table that the comment of each type names. A key that is left
// out has the value of Default.
type Job struct {
	Title    string `toml:"title"`    // of the mold, for the marking and the sheet
	Cavities int    `toml:"cavities"` // how many alike; not together with [[cavity]]
	Turn     Turn   `toml:"turn"`     // of every cavity about the parting plane's normal; -90: nose up; "auto": by trapped air and rubber

	Head    HeadTable     `toml:"head"`
	Hook    *HookTable    `toml:"hook"`   // left out: heads without hooks
	Keeper  []KeeperTable `toml:"keeper"` // further wires of every head
	Weight  WeightTable   `toml:"weight"`
	Metal   MetalTable    `toml:"metal"`
	Casting CastingTable  `toml:"casting"`
	Rubber  RubberTable   `toml:"rubber"`
	Layout  LayoutTable   `toml:"layout"`
	Frame   FrameTable    `toml:"frame"`
	Keys    KeysTable     `toml:"keys"`
	Sprue   SprueTable    `toml:"sprue"`
	Runner  *RunnerTable  `toml:"runner"` // left out: a funnel for each cavity
	Vents   VentsTable    `toml:"vents"`
	Marking MarkingTable  `toml:"marking"`
	Finish  FinishTable   `toml:"finish"`
	Print   PrintTable    `toml:"print"`
	Checks  ChecksTable   `toml:"checks"`
	Output  OutputTable   `toml:"output"`

	Buying  BuyingTable  `toml:"buying"`
	Kit     []KitTable   `toml:"kit"` // sizes in which the rubber is sold
	Evening EveningTable `toml:"evening"`
	Plastic PlasticTable `toml:"plastic"`
	Cost    CostTable    `toml:"cost"`

	// Cavity lists cavities that differ, in order along +X. Each starts as a
	// copy of turn, [head], [hook] and [weight] and changes what it names. A
	// table of the file with a count stands here that many times.
	Cavity []CavityTable `toml:"cavity"`

	// Size lists the molds of a size run; each is built into its own folder.
	Size []SizeTable `toml:"size"`

	family *string    // title of the size run that the job is one size of; nil for none
	source *jobSource // nil when the job was not read from a file
}

// HeadTable is [head]: the file of the head and how it faces. Bare numbers of
// eye, gate and parting are in the file's unit, as read off in CAD.
type HeadTable struct {
	File    string `toml:"file"` // taken from the job's folder, which it may leave; it is only read
	Unit    string `toml:"unit"` // of the file: mm, cm, m, in or ft
	Nose    string `toml:"nose"` // +x, -x, +y, -y, +z or -z of the file
	Back    string `toml:"back"`
	Left    string `toml:"left"`
	Parting Coord  `toml:"parting"` // of the parting plane along left
	Eye     *Point `toml:"eye"`     // centre of the hook's eye, to be given with a hook; scaling keeps it in place
	Gate    *Point `toml:"gate"`    // where metal enters; left out: the highest point
}

// HookTable is [hook]: a wire by its usual dimensions, or by points.
type HookTable struct {
	Name      string  `toml:"name"`
	Wire      MM      `toml:"wire"`       // diameter
	EyeInside MM      `toml:"eye_inside"` // diameter of the eye's opening
	Leg       MM      `toml:"leg"`        // from the eye's centre to the shank's axis; 0: straight hook
	LegAngle  Angle   `toml:"leg_angle"`  // between leg and shank
	Shank     MM      `toml:"shank"`      // straight length behind the leg
	Gape      MM      `toml:"gape"`       // between the axes of shank and point
	Point     MM      `toml:"point"`      // straight length from the bend
	Fit       MM      `toml:"fit"`        // bed radius beyond the wire's
	Points    Path    `toml:"points"`     // the axis after the eye, instead of leg to point
	Bend      MM      `toml:"bend"`       // inside radius of the bends at points; 0: one wire
	EyeAcross bool    `toml:"eye_across"` // the eye's ring stands across the parting plane
	EyeRubber MM      `toml:"eye_rubber"` // that is to part the eye's opening from metal
	Leaves    bool    `toml:"leaves"`     // the mold through its edge: by the shank, or the last stretch of points
	Mass      Gram    `toml:"mass"`       // weighed; 0: from the wire's volume
	Density   Density `toml:"density"`    // of the wire
}

// WeightTable is [weight]: what a head shall weigh, or how large it shall be.
type WeightTable struct {
	Target Gram    `toml:"target"` // 0: the head at scale
	Of     string  `toml:"of"`     // "finished" (metal and hook) or "metal"
	Scale  float64 `toml:"scale"`  // of the drawn head; not together with target
	Wall   MM      `toml:"wall"`   // least metal that is to be round a wire in the head
}

// MetalTable is [metal]: a preset, a composition, or a density with a liquidus.
// A figure given without its range is taken as exact.
type MetalTable struct {
	Preset       string        `toml:"preset"`
	Composition  Composition   `toml:"composition"` // {lead = 96, antimony = 4} by mass
	Density      Density       `toml:"density"`     // cold
	DensityRange *DensityRange `toml:"density_range"`
	Shrink       *Percent      `toml:"shrink"` // linear, solid metal from freezing to cold
	ShrinkRange  *PercentRange `toml:"shrink_range"`
	FillFactor   float64       `toml:"fill_factor"` // weighed over computed metal mass
	FillRange    *FactorRange  `toml:"fill_range"`  // of it, such as [0.96, 1]
	Liquidus     *Celsius      `toml:"liquidus"`
}

// CastingTable is [casting].
type CastingTable struct {
	Superheat Rise       `toml:"superheat"` // over the liquidus
	Pour      *Celsius   `toml:"pour"`      // temperature, instead of superheat
	Mold      Celsius    `toml:"mold"`      // temperature of the warmed mold
	Dross     Percent    `toml:"dross"`     // of the melt
	Heel      Gram       `toml:"heel"`      // left in the pot
	Pot       Gram       `toml:"pot"`       // of this metal, that the pot holds; 0: any
	Heads     int        `toml:"heads"`     // wanted good ones; 0: one shot
	Yield     Percent    `toml:"yield"`     // good heads out of those cast
	Life      *ShotRange `toml:"life"`      // shots that a mold stands; left out: 20 to 25, common practice
}

// RubberTable is [rubber]: a preset with what the data sheet knows better, or
// all of the data sheet's figures.
type RubberTable struct {
	Preset       string        `toml:"preset"`
	Name         string        `toml:"name"`
	Cure         string        `toml:"cure"`      // "tin" or "platinum"
	Ratio        *Ratio        `toml:"ratio"`     // parts of A to parts of B by mass
	Density      *Density      `toml:"density"`   // mixed
	DensityA     *Density      `toml:"density_a"` // of part A
	DensityB     *Density      `toml:"density_b"`
	Shrink       *Percent      `toml:"shrink"` // linear, on curing
	ShrinkRange  *PercentRange `toml:"shrink_range"`
	PotLife      *Seconds      `toml:"pot_life"`
	Demold       *Seconds      `toml:"demold"`
	Rest         *Seconds      `toml:"rest"`            // from demolding to hot metal
	Continuous   *Celsius      `toml:"heat_continuous"` // service temperature
	Short        *Celsius      `toml:"heat_short"`
	Conductivity *float64      `toml:"conductivity"`  // of heat, cured, W/(m·K); left out: usual
	SpecificHeat *float64      `toml:"specific_heat"` // cured, J/(g·K); left out: usual
	Waste        Percent       `toml:"waste"`         // mixed beyond the frame's volume
	Residue      Gram          `toml:"residue"`       // that stays in each cup and brush
	Brush        MM            `toml:"brush"`         // thickness of the coat brushed on first
	Vacuum       bool          `toml:"vacuum"`        // de-aired in a chamber
	Scale        Gram          `toml:"scale"`         // resolution of the scale
	Hardness     float64       `toml:"hardness"`      // cured, Shore A; 0: not known
	BTolerance   *Percent      `toml:"b_tolerance"`   // how far B may be off what belongs to A; left out: not known
}

// LayoutTable is [layout]: moldbox.LayoutSpec.
type LayoutTable struct {
	Rows      int  `toml:"rows"`      // 0: one, or as many as it takes to fit the bed
	Alternate bool `toml:"alternate"` // every second cavity turned by 180° where that takes less rubber
	Least     bool `toml:"least"`     // look for turns and rows that take the least rubber
}

// FrameTable is [frame]: moldbox.FrameSpec.
type FrameTable struct {
	Floor     MM    `toml:"floor"`
	Wall      MM    `toml:"wall"`
	Draft     Angle `toml:"draft"`
	Corner    MM    `toml:"corner"`
	Over      MM    `toml:"over"`
	ToWall    MM    `toml:"to_wall"`
	Between   MM    `toml:"between"`
	Pitch     MM    `toml:"pitch"` // from sprue to sprue in the one row; 0: as near as between allows
	Freeboard MM    `toml:"freeboard"`
	PryTab    MM    `toml:"pry_tab"`
}

// KeysTable is [keys]: moldbox.KeySpec.
type KeysTable struct {
	Count     int `toml:"count"`
	Diameter  MM  `toml:"diameter"`
	Depth     MM  `toml:"depth"`
	Clearance MM  `toml:"clearance"`
	Clear     MM  `toml:"clear"`
}

// SprueTable is [sprue]: moldbox.SprueSpec.
type SprueTable struct {
	Mouth         MM `toml:"mouth"`
	Throat        MM `toml:"throat"`
	Length        MM `toml:"length"`
	GateWidth     MM `toml:"gate_width"`
	GateThickness MM `toml:"gate_thickness"`
	GateLength    MM `toml:"gate_length"`
}

// RunnerTable is [runner]: one funnel for all cavities; moldbox.RunnerSpec.
type RunnerTable struct {
	Diameter MM    `toml:"diameter"` // of the channel; 0: as the gates on it ask
	Rise     Angle `toml:"rise"`     // of the channel from the funnel to its ends
}

// VentsTable is [vents]: moldbox.VentSpec.
type VentsTable struct {
	Width MM  `toml:"width"`
	Depth MM  `toml:"depth"`
	Count int `toml:"count"`
}

// MarkingTable is [marking].
type MarkingTable struct {
	Lines  *[]string `toml:"lines"` // left out: title and weight; []: none
	Height MM        `toml:"height"`
	Relief MM        `toml:"relief"`
}

// ChecksTable is [checks]: what the checks of the mold let pass.
type ChecksTable struct {
	Air      float64 `toml:"air"`      // left in a pocket, by metal or rubber, mm³
	Undercut *MM     `toml:"undercut"` // that the rubber gives way to; left out: by rubber.hardness
	Rubber   MM      `toml:"rubber"`   // the thinnest
	Overhang Angle   `toml:"overhang"` // in print, from upright
	Gap      MM      `toml:"gap"`      // beside a wire: metal runs along a wider one
	Flash    MM      `toml:"flash"`    // how far metal may run along a wire
}

// PrintTable is [print]: moldbox.PrintSpec.
type PrintTable struct {
	Nozzle  MM `toml:"nozzle"`
	BedX    MM `toml:"bed_x"`
	BedY    MM `toml:"bed_y"`
	BedHigh MM `toml:"bed_high"`
}

// OutputTable is [output].
type OutputTable struct {
	Folder    string `toml:"folder"`    // within the job's folder; "": named after the job
	Tolerance MM     `toml:"tolerance"` // between the printed mesh and the true solid
	Paper     string `toml:"paper"`     // a4 or letter
}

// CavityTable is one [[cavity]].
type CavityTable struct {
	Name        string        `toml:"name"`         // with count, numbered: "small 1", "small 2"
	Count       int           `toml:"count"`        // how many of this kind, side by side
	Turn        Turn          `toml:"turn"`         // instead of the job's
	Target      *Gram         `toml:"target"`       // short for weight.target
	WithoutHook bool          `toml:"without_hook"` // although the job has a [hook]
	Head        HeadTable     `toml:"head"`
	Hook        *HookTable    `toml:"hook"`
	Keeper      []KeeperTable `toml:"keeper"` // instead of the job's
	Weight      WeightTable   `toml:"weight"`
}

// Default returns the job that an empty file stands for. It lacks what cannot
// be guessed: head, metal and rubber. Figures that are not moldbox.Default's
// are common practice, no source.
func Default() *Job {
	s := moldbox.Default()
	f, k, p := s.Frame, s.Keys, s.Sprue
	return &Job{
		Cavities: 1,
		Head:     HeadTable{Unit: "mm", Nose: "-x", Back: "+y", Left: "+z"},
		Weight:   WeightTable{Of: "finished", Wall: 0.5},
		Metal:    MetalTable{FillFactor: 1},
		Casting:  CastingTable{Superheat: 30, Mold: 60, Dross: 5, Heel: 150, Yield: 90},
		Rubber:   RubberTable{Waste: 5, Residue: 8, Brush: 0.5, Scale: 0.1},
		Frame: FrameTable{Floor: MM(f.Floor), Wall: MM(f.Wall), Draft: Angle(f.Draft), Corner: MM(f.Corner),
			Over: MM(f.Over), ToWall: MM(f.ToWall), Between: MM(f.Between), Pitch: MM(f.Pitch), Freeboard: MM(f.Freeboard), PryTab: MM(f.PryTab)},
		Keys: KeysTable{Count: k.Count, Diameter: MM(k.Diameter), Depth: MM(k.Depth), Clearance: MM(k.Clearance), Clear: MM(k.Clear)},
		Sprue: SprueTable{Mouth: MM(p.Mouth), Throat: MM(p.Throat), Length: MM(p.Length),
			GateWidth: MM(p.GateWidth), GateThickness: MM(p.GateThickness), GateLength: MM(p.GateLength)},
		Vents:   VentsTable{Width: MM(s.Vents.Width), Depth: MM(s.Vents.Depth), Count: s.Vents.Count},
		Marking: MarkingTable{Height: MM(s.Marking.Height), Relief: MM(s.Marking.Relief)},
		Print:   PrintTable{Nozzle: MM(s.Print.Nozzle), BedX: MM(s.Print.BedX), BedY: MM(s.Print.BedY), BedHigh: MM(s.Print.BedHigh)},
		Checks: ChecksTable{Air: s.Checks.Air, Rubber: MM(s.Checks.Rubber), Overhang: Angle(s.Checks.Overhang),
			Gap: MM(s.Checks.Gap), Flash: MM(s.Checks.Flash)},
		Output:  OutputTable{Tolerance: 0.02, Paper: "a4"},
		Buying:  BuyingTable{Molds: 1},
		Evening: EveningTable{Room: sheetRoom, Mix: 5 * 60, Deair: 5 * 60, Pour: 8 * 60, PostCureAt: 60},
		Plastic: PlasticTable{Solid: 100},
		Cost:    CostTable{Currency: "money"},
	}
}

// defaultHook is where a [hook] starts: the fit in the bed, the rubber round
// the eye, and carbon steel spring wire, 7.80 to 7.87 g/cm³ (trade tables).
func defaultHook() HookTable {
	return HookTable{LegAngle: math.Pi / 2, Fit: 0.05, EyeRubber: 1.5, Density: springSteel}
}

func defaultRunner() RunnerTable { return RunnerTable{Rise: Angle(moldbox.Default().Runner.Rise)} }

// Placed returns the cavities of the job with every default filled in, in
// order along +X.
func (j *Job) Placed() []CavityTable {
	if len(j.Cavity) > 0 {
		return j.Cavity
	}
	list := make([]CavityTable, j.Cavities)
	for i := range list {
		list[i] = j.plainCavity()
	}
	return list
}

// plainCavity is a cavity that changes nothing.
func (j *Job) plainCavity() CavityTable {
	c := CavityTable{Count: 1, Turn: j.Turn, Head: j.Head, Weight: j.Weight}
	for _, p := range []**Point{&c.Head.Eye, &c.Head.Gate} {
		if *p != nil {
			own := **p
			*p = &own
		}
	}
	if j.Hook != nil {
		hook := *j.Hook
		c.Hook = &hook
	}
	c.Keeper = slices.Clone(j.Keeper)
	return c
}
