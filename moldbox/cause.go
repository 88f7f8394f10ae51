package moldbox

// Cause tells apart what helps against findings of one code, and against broken
// rules that a change elsewhere mends. What it takes are the Figures beside it,
// lengths in mm.
type Cause string

// The causes of findings.
const (
	EyeElsewhere     Cause = "eye-elsewhere"     // eye-off-parting: by more than a slip
	ThinVent         Cause = "thin-vent"         // thinner-than-nozzle, as all up to ThinWeb
	ThinGate         Cause = "thin-gate"         //
	ThinStem         Cause = "thin-stem"         // of the marking's letters
	ThinBed          Cause = "thin-bed"          // of a wire
	ThinPost         Cause = "thin-post"         // in an eye's ring
	ThinWeb          Cause = "thin-web"          // in an eye that stands across
	BackTurned       Cause = "back-turned"       // hook-misses-head: the back that holds it
	AirOffParting    Cause = "air-off-parting"   // air-trapped: no vent can be cut there
	AirInRunner      Cause = "air-in-runner"     // air-trapped
	PartingElsewhere Cause = "parting-elsewhere" // undercut: the best parting, the undercut there
	ShortShank       Cause = "short-shank"       // wire-ends-inside
	CrossOutside     Cause = "cross-outside"     // wires-cross: of neighbours, beyond the mold's edge
	EyeShifted       Cause = "eye-shifted"       // scale-shifts: the scale
	DrawnOff         Cause = "drawn-off-parting" // wire-off-parting: the body of a hook
	BoreKept         Cause = "bore-kept"         // wire-in-hole: because the job says so
	HookOutgrown     Cause = "hook-outgrown"     // metal-thin and wire-breaks-out: a larger head is no help
)

// Of findings and of broken rules.
const (
	KeysNeedWall Cause = "keys-need-wall" // the rubber to the walls that gives room, for how many keys
	KeysNeedRoom Cause = "keys-need-room" // more rubber to the walls alone does not help
)

// The causes of broken rules.
const (
	ThinnerByCoat   Cause = "thinner-by-coat"    // a wall that is printed thinner by the seal coat
	PitchOfRows     Cause = "pitch-of-rows"      // a pitch with several rows
	FarFromHead     Cause = "far-from-head"      // a place in other coordinates or another unit
	ApartAlongLeft  Cause = "apart-along-left"   // a keeper's points, and not otherwise
	OddScale        Cause = "odd-scale"          // the scale that the metal asked for takes
	HugeHead        Cause = "huge-head"          // by its unit, or by what is asked of its size
	NoneFits        Cause = "none-fits"          // not one cavity on the printer's bed
	FewerFit        Cause = "fewer-fit"          // how many cavities fit, of how many
	FewerFitInRows  Cause = "fewer-fit-in-rows"  // the same, and in how many rows
	FewerFitAtPitch Cause = "fewer-fit-at-pitch" // as FewerFit, at the pitch that is given
)
