package pourplan

import "slices"

// Job is a job file: one mold, its rubber, its metal. What its keys mean, may
// be and are by default stands in the method keys of each table.
type Job struct {
	Title    string
	Cavities int // how many alike; not together with Cavity
	Turn     Turn

	Box     *BoxTable // nil: halfpour draws the frames
	Head    HeadTable
	Hook    *HookTable // nil: heads without hooks
	Keeper  []KeeperTable
	Weight  WeightTable
	Metal   MetalTable
	Casting CastingTable
	Rubber  RubberTable
	Layout  LayoutTable
	Frame   FrameTable
	Keys    KeysTable
	Sprue   SprueTable
	Runner  *RunnerTable // nil: a funnel for each cavity
	Vents   VentsTable
	Marking MarkingTable
	Finish  FinishTable
	Coat    []CoatTable
	Print   PrintTable
	Checks  ChecksTable
	Output  OutputTable

	Buying  BuyingTable
	Kit     []KitTable
	Evening EveningTable
	Plastic PlasticTable
	Cost    CostTable

	// Cavity lists cavities that differ, in order along +X. A table of the file
	// with a count stands here that many times.
	Cavity []CavityTable

	// Size lists the molds of a size run; each is built into its own folder.
	Size []SizeTable

	fed    []Span     // share of each head that is solid when no more melt can flow on into it; nil as long as no shot was computed
	family *string    // title of the size run that the job is one size of; nil for none
	source *jobSource // nil when the job was not read from a file
}

func (j *Job) keys() []key {
	return []key{
		{"title", &j.Title, nil, atMost(80), "name of the mold, for the sheet and the mold; marking.lines replaces it on the mold", "it goes on the sheet and, without marking.lines, on the mold"},
		{"cavities", &j.Cavities, 1, in(1, maxCavities), "number of equal cavities; not together with [[cavity]]", "a mold has at least one head"},
		{"turn", &j.Turn, Turn{}, turns(), "of every head in the parting plane: 0 puts the back up, -90 the nose; \"auto\" finds the turn that traps the least air, then the one that takes the least rubber", ""},

		{"box", &j.Box, nil, nil, "Frames that you have drawn already, in place of a head: halfpour finds what rubber they take. Such a job has no head, hook or metal.", ""},
		{"head", &j.Head, nil, nil, "The head's mesh and how it faces. Lengths and points are in the file's unit, as read off in CAD.", ""},
		{"hook", &j.Hook, nil, nil, "The hook's wire, by its usual dimensions or by points. Left out: heads without hooks.", ""},
		{"keeper", &j.Keeper, nil, keepers(), "More wires in every head, bent at the bench; they lie in the parting plane.", ""},
		{"weight", &j.Weight, nil, nil, "The weight of a head, or its scale.", ""},
		{"metal", &j.Metal, nil, nil, "A preset, a composition, or a density with a liquidus.", ""},
		{"casting", &j.Casting, nil, nil, "How the metal is melted and poured.", ""},
		{"rubber", &j.Rubber, nil, nil, "A preset, corrected by your data sheet, or all figures from the data sheet.", ""},
		{"layout", &j.Layout, nil, nil, "How the cavities are arranged in the mold.", ""},
		{"frame", &j.Frame, nil, nil, "The printed tray of each half, and the rubber's thickness in it.", ""},
		{"keys", &j.Keys, nil, nil, "The keys that line up the halves.", ""},
		{"sprue", &j.Sprue, nil, nil, "The funnel that metal is poured into, and its gate.", ""},
		{"runner", &j.Runner, nil, nil, "One funnel for all cavities: add the table, even empty. Left out: one funnel for each cavity.", ""},
		{"vents", &j.Vents, nil, nil, "Channels that let the air out of a cavity.", ""},
		{"marking", &j.Marking, nil, nil, "Raised letters on the floor.", ""},
		{"finish", &j.Finish, nil, nil, "Coats on the print and on the heads.", ""},
		{"coat", &j.Coat, nil, atMost(8), "Coats on the heads, in the order of work; finish.powder is short for one of powder before them. Figures left out are common practice, no source.", ""},
		{"print", &j.Print, nil, nil, "Your printer.", ""},
		{"checks", &j.Checks, nil, nil, "Limits for the checks.", ""},
		{"output", &j.Output, nil, nil, "What a build writes.", ""},

		{"buying", &j.Buying, nil, nil, "How much rubber to buy, from the [[kit]] tables.", ""},
		{"kit", &j.Kit, nil, atMost(20), "The kit sizes your shop sells, A with its B.", ""},
		{"evening", &j.Evening, nil, nil, "Times for the work at the bench. Defaults are common practice.", ""},
		{"plastic", &j.Plastic, nil, nil, "The plastic that the frames are printed in.", ""},
		{"cost", &j.Cost, nil, nil, "Prices, in your own currency. The plan lists any price you leave out as not counted.", ""},

		{"cavity", &j.Cavity, nil, in(1, maxCavities), "Cavities that differ, in order along the row. Each starts as a copy of turn, [head], [hook], [[keeper]] and [weight]; set only what differs.", ""},
		{"size", &j.Size, nil, in(1, 32), "A size run: one mold for each size, in its own folder. Each starts as a copy of the job's keys of the same names; set only what differs.", ""},
	}
}

const maxCavities = 64

// Default returns the job that an empty file stands for. It lacks what cannot
// be guessed: head, metal and rubber. Figures that are not moldbox.Default's
// are common practice, no source.
func Default() *Job {
	j := new(Job)
	fill(j)
	return j
}

// CavityTable is one [[cavity]].
type CavityTable struct {
	Name  string
	Count int // how many of this kind, side by side
	OwnTable
}

func (t *CavityTable) keys() []key {
	return append([]key{
		{"name", &t.Name, nil, nil, "of the cavity; numbered when count is above 1", ""},
		{"count", &t.Count, 1, in(1, maxCavities), "number of this kind, side by side; at most 64 in the whole mold", "leave the table out for none"},
	}, t.OwnTable.keys()...)
}

// OwnTable is what a cavity or a size can have instead of what the job has.
type OwnTable struct {
	Turn        Turn
	Target      *Gram // short for Weight.Target
	WithoutHook bool
	Head        HeadTable
	Hook        *HookTable
	Keeper      []KeeperTable
	Weight      WeightTable
}

func (t *OwnTable) keys() []key {
	return []key{
		{"turn", &t.Turn, nil, turns(), "replaces the job's turn", ""},
		{"target", &t.Target, nil, targets(), "short for weight.target", ""},
		{"without_hook", &t.WithoutHook, nil, nil, "leaves out the job's [hook]", ""},
		{"head", &t.Head, nil, nil, "", ""},
		{"hook", &t.Hook, nil, nil, "", ""},
		{"keeper", &t.Keeper, nil, keepers(), "", ""},
		{"weight", &t.Weight, nil, nil, "", ""},
	}
}

func turns() *limit   { return in(-360, 360) }
func targets() *limit { return in(0.05, 5000) }
func keepers() *limit { return atMost(32) }

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
	c := CavityTable{Count: 1, OwnTable: OwnTable{Turn: j.Turn, Head: j.Head, Keeper: slices.Clone(j.Keeper), Weight: j.Weight}}
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
	return c
}
