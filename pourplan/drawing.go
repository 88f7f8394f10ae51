package pourplan

import (
	"context"
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// Drawing is one view of a half of the mold, in mm at its true size, x to the
// right and y up on the paper. Views from above look into the printed tray as
// it lies on the bench, so that they can be laid beside the print.
type Drawing struct {
	Half       string // "left" or "right"
	View       View
	Name       string // what the view shows, for its heading
	Low, High  geom.Vec2
	Areas      []Area // in the order to paint them
	Dimensions []Dimension
	Labels     []Label
}

// View is the way a drawing looks at the half.
type View string

// The views of a half.
const (
	Above   View = "above"   // into the tray; x and y of the print
	Section View = "section" // across the row; y of the print to the right, z up
	Flank   View = "flank"   // of a head, square to the parting plane
)

// Area is a shape on a drawing, filled by the even-odd rule.
type Area struct {
	Kind    AreaKind
	Outline geom.Outline
}

// AreaKind says what a shape is, and by that how it is painted.
type AreaKind string

// What is on the drawings.
const (
	FloorArea  AreaKind = "floor"      // the frame with its tabs, from above
	InsideArea AreaKind = "inside"     // the rubber's rectangle in the parting plane
	SprueArea  AreaKind = "sprue"      // funnel and gate
	VentArea   AreaKind = "vent"       //
	BedArea    AreaKind = "bed"        //
	HeadArea   AreaKind = "head"       //
	WireArea   AreaKind = "wire"       // hook and eye
	MarkArea   AreaKind = "mark"       // raised text as it stands in the tray
	RaisedKey  AreaKind = "raised-key" // a bump in the tray, a socket in the rubber
	SunkenKey  AreaKind = "sunken-key" // a hollow in the tray, a bump on the rubber
	PrintArea  AreaKind = "print"      // the frame's plastic, cut
	RubberArea AreaKind = "rubber"     // the rubber, cut
	FillLine   AreaKind = "fill-line"  // the level to fill to
	HighLine   AreaKind = "high-line"  // the level of the highest point of all that stands in the tray
)

// IsLine reports whether what is drawn is an open line and no shape.
func (k AreaKind) IsLine() bool { return k == FillLine || k == HighLine }

// Dimension is a distance on a drawing, along x or along y.
type Dimension struct {
	From, To geom.Vec2
	Side     Side
	Row      int // 0 is next to the drawing, greater ones further out
	Text     string
}

// Side is where the line of a dimension runs.
type Side string

// The sides of a drawing.
const (
	Top    Side = "top"
	Bottom Side = "bottom"
	Left   Side = "left"
	Right  Side = "right"
	Inside Side = "inside" // an upright line in the drawing itself, between the points
)

// Label is text centred on a place of a drawing.
type Label struct {
	At   geom.Vec2
	Text string
	Big  bool // cavity numbers and the half's name
}

// RenderDrawings returns the drawings of a mold: both halves from above, left first,
// then a section of each through the gate of the first cavity. The views from above
// have the letters of the plan's findings. It fails only when ctx is cancelled or
// a half has no extent.
func RenderDrawings(ctx context.Context, m *moldbox.Mold, fs []PlanFinding) ([]Drawing, error) {
	cuts, err := cutCavities(ctx, m)
	if err != nil {
		return nil, err
	}
	var out []Drawing
	for _, half := range []moldbox.Half{m.Left, m.Right} {
		d, err := drawAbove(ctx, m, half, cuts, fs)
		if err != nil {
			return nil, fmt.Errorf("drawing of the %s half: %w", half.Name, err)
		}
		out = append(out, d)
	}
	if len(m.Cavities) == 0 {
		return out, nil
	}
	for _, half := range []moldbox.Half{m.Left, m.Right} {
		d, err := drawSection(ctx, m, half)
		if err != nil {
			return nil, fmt.Errorf("section of the %s half: %w", half.Name, err)
		}
		out = append(out, d)
	}
	return out, nil
}

// drawnCut is fine enough for what paper shows of a cavity; letters are cut
// finer.
var drawnCut = geom.SectionOptions{Cell: 0.4}

// dimensionText shows a length as it stands on a drawing.
func dimensionText(mm float64) string { return FormatNumber(mm, 1) }
