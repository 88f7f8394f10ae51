package pourplan

import (
	"fmt"
	"image/color"
)

// The colours of things, left half and right, on pictures and on the page alike:
// a tray and the rubber that comes out of it can be told apart, and the halves.
var (
	TrayColours   = [2]color.RGBA{{R: 0x9f, G: 0xb8, B: 0xc8, A: 0xff}, {R: 0xd2, G: 0xb9, B: 0x93, A: 0xff}}
	RubberColours = [2]color.RGBA{{R: 0x9c, G: 0xc4, B: 0xb8, A: 0xff}, {R: 0xbc, G: 0xcc, B: 0xa4, A: 0xff}}
	RubberCuts    = [2]color.RGBA{{R: 0x4c, G: 0x7f, B: 0x74, A: 0xff}, {R: 0x86, G: 0x97, B: 0x68, A: 0xff}} // where it is cut
	PlaneColour   = color.RGBA{R: 0x3c, G: 0x78, B: 0xc8, A: 0xff}                                            // the parting plane
	MetalColour   = color.RGBA{R: 0xc6, G: 0xca, B: 0xd0, A: 0xff}
	WireColour    = color.RGBA{R: 0x6a, G: 0x72, B: 0x7c, A: 0xff}
	GateColour    = color.RGBA{R: 0x3c, G: 0x9c, B: 0x50, A: 0xff}
)

// StepColours are of StepKinds: the wider, the darker, so that grey paper tells them apart.
var StepColours = [len(StepKinds)]color.RGBA{{R: 0xf7, G: 0xd9, B: 0x8c, A: 0xff}, {R: 0xe0, G: 0x8a, B: 0x3c, A: 0xff}, {R: 0x96, G: 0x26, B: 0x1e, A: 0xff}}

// HexColour writes a colour as CSS does: "#9fb8c8".
func HexColour(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }
