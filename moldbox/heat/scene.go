package heat

import "halfpour/geom"

// Role says what a body is for.
type Role int

// The roles. Head to Vent are cast: they are one melt, filled anew for each shot
// and gone while the mold is open. Wires are put in anew for each shot. The rest stays.
const (
	Head Role = iota
	Gate
	Funnel // funnel and throat, from which heads are fed
	Runner // also feeds
	Vent
	Wire
	Fixed // boards and what else stays in the mold
)

// Cast reports whether a body is filled with melt.
func (r Role) Cast() bool { return r <= Vent }

// feeds reports whether melt in a body can flow on into heads.
func (r Role) feeds() bool { return r == Funnel || r == Runner }

// Body is one body in the box.
type Body struct {
	Name      string
	Role      Role
	Cavity    int // that it belongs to, -1 for none
	Solid     geom.Solid
	Substance Substance
	Start     float64 // temperature when a shot begins, °C; of a Fixed body, of the first shot

	// Contact is the coefficient between the body and what it touches of another
	// substance, W/(m²·K); 0 stands for perfect contact. Where two bodies touch,
	// the lower counts.
	Contact float64

	// Outward is the coefficient from where the body leaves the box to the air,
	// W/(m²·K): for a wire that goes on outside, √(4·h·k/d). 0: as for the
	// rubber.
	Outward float64
}

// Scene is a mold just filled.
type Scene struct {
	Box    geom.Box // all that is computed
	Fill   Substance
	FillC  float64 // temperature of the fill (the rubber) at first, °C
	Bodies []Body  // where they overlap, the first counts. When each is its own mirror image at the parting, and Box too, half is computed: join the two boards in one

	AirC float64    // of the air around, °C
	Air  [3]float64 // coefficient from the box's faces across X, Y, Z to the air, W/(m²·K); 0: no heat passes
	Even [2]bool    // no heat passes the box's faces at low and high X: as much is warm beyond them

	// While the mold lies open between shots, its faces at z = Parting and in the
	// empty cavities lose heat to the air by OpenAir, W/(m²·K).
	Parting float64
	OpenAir float64
}

// Options says how well and how long to solve. The zero value is one shot to
// its end.
type Options struct {
	Cell    float64 // near the metal, mm; 0: chosen by the scene
	Cells   *Cells  // kept from a scene of the same bodies; nil: none are
	Shots   int     // 0: one
	Every   float64 // s from one pour to the next
	Open    float64 // s from a pour until the mold is opened, and no sooner than all metal is solid
	Lies    float64 // s that the opened mold lies open before it is closed, empty; 0: until the next pour
	Least   float64 // goes on at least so long in the last shot, s
	Longest float64 // gives up after so long in one shot, s; 0: 3600

	Coherent  float64   // share of solid above which melt no longer flows on; 0: 0.65
	Limits    []float64 // temperatures of the rubber to keep the time above, °C
	Reach     []float64 // rises of the rubber's temperature whose reach is wanted, K
	Snapshots []float64 // times in the last shot at which to keep all temperatures, s

	Workers int // 0: all processors; the result is the same for any
}
