package pourplan

import (
	"fmt"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
)

// remedies say what helps against a finding of moldbox or a rule of its Spec, in
// the job's own keys: by its cause or, where that has no row, by its code. Verbs
// take the figures that come with it.
var remedies = map[string]string{
	// The eye and the gate.
	"turn-chosen":     "set its turn to this angle to keep it when other keys change",
	"eye-off-parting": "move head.eye or head.parting",
	"eye-elsewhere":   "check the three numbers of head.eye, and head.parting",
	"gate-on-hook":    "place the gate elsewhere on the head, or turn the cavity",
	"gate-moved":      "turn the cavity so the gate is on its upper side",
	"gate-overhangs":  "use a narrower gate or place it where the head is thicker",
	"sprue-near-head": "use a longer gate, or place it on the highest part of the head",
	"long-sprue":      "warm the mold well and pour without a pause, or use a wider sprue.throat",

	// Air.
	"vent-blocked":    "turn the cavity, move the gate, or use a narrower vent or sprue mouth",
	"air-trapped":     "turn the cavity, move the gate, or use a narrower vent or sprue mouth",
	"air-off-parting": "turn the cavity so the air can rise to the gate, or move head.parting into the pocket",
	"air-in-runner":   "use more runner.rise, or fewer cavities on an arm",

	// The runner.
	"runner-vent":  "enlarge frame.to_wall, or use fewer rows",
	"runner-sized": "set runner.diameter to change it",
	"runner-hits":  "turn the cavity, or move its wire",

	// Wires.
	"wire-misses-head":    "check the points of [[keeper]]",
	"hook-misses-head":    "check head.eye, which way the head faces, and the hook's dimensions",
	"back-turned":         "try head.back = %s",
	"hook-in-metal":       "check head.eye, which way the head faces, and the hook's dimensions",
	"wire-ends-inside":    "lengthen points, use a smaller frame.to_wall, or remove leaves",
	"short-shank":         "lengthen hook.shank, use a smaller frame.to_wall, or remove leaves",
	"wire-off-parting":    "move the points of [[keeper]], or head.parting",
	"drawn-off-parting":   "set hook.place = \"eye\" to lay the hook in the plane, or move head.parting",
	"eye-turned":          "turn the hook's body in CAD so that its ring lies in the parting plane or square to it",
	"wire-held":           "set hook.place = \"eye\" if the hook lies beside the plane, turn the barb into the plane, or use a softer rubber",
	"bed-relieved":        "nothing: expect a little play there; to avoid it, turn the barb into the plane",
	"bed-too-fine":        "enlarge hook.fit, print with a finer nozzle (print.nozzle), or draw that part thicker",
	"wire-crosses-itself": "check the dimensions or points of the wire",
	"wires-cross":         "move the points of [[keeper]]",
	"cross-outside":       "set a wider frame.pitch, or turn a cavity",
	"eye-rubber-thin":     "move head.eye away from the head, or use a smaller hook.eye_rubber",
	"eye-not-clear":       "move head.eye out of the head, or open up the head around it",
	"wire-in-hole":        "fill the hole in your CAD program: halfpour makes room for the wire itself",
	"bore-kept":           "remove head.bores to have metal cast around the wire",
	"metal-thin":          thickenMetal,
	"wire-breaks-out":     thickenMetal,
	"hook-outgrown":       "the head has outgrown its hook: use one with a longer leg, move head.eye closer to the head, use a smaller weight.target or scale, or a thinner wire; for a head that is scaled, set weight.anchor = \"shank\"; or use a smaller weight.wall",
	"scale-shifts":        "redraw the head at %.2f of its size, or set weight.anchor = \"shank\"",
	"eye-shifted":         "check the place of the eye in the picture; or redraw the head at %.2f of its size",
	"metal-along-wire":    "set hook.fit (or fit in [[keeper]]) to %.2g mm or less",

	// The head's shape.
	"piece-floats":             "remove it, or join it to the head in CAD",
	"piece-unfed":              "join the pieces in CAD, or give each its own cavity",
	"undercut":                 "use a softer rubber, or turn or reshape the head so it tapers away from the parting plane",
	"parting-elsewhere":        "set head.parting to %.1f, where no undercut is more than about %.1f mm",
	"overhang":                 "move head.parting to the head's widest section, or print supports there",
	"bubble":                   "brush rubber in there first and tip the frame, or move head.parting so nothing overhangs",
	"rib-thinner-than-nozzle":  "thicken it in the head, or print with a finer nozzle (print.nozzle)",
	"slot-thinner-than-nozzle": "widen it in the head, or print with a finer nozzle (print.nozzle)",
	"rubber-fin":               "make the slit %.1f mm wide, or at most %.1f mm deep",
	"halves-differ":            "expect a sharp edge and some flash there, or move head.parting away from the face",

	// What the nozzle must print.
	"thin-vent": "enlarge vents.width",
	"thin-gate": "enlarge sprue.gate_width",
	"thin-stem": "enlarge marking.height",
	"thin-bed":  "enlarge hook.fit",
	"thin-post": "use a larger hook.eye_inside or a smaller hook.fit",
	"thin-web":  "print with a finer nozzle, or lay the eye flat",

	// Room next to each other, for keys and for the marking.
	"cavities-too-near": setPitch,
	"cavities-collide":  setPitch,
	"wire-crosses":      setPitch,
	"rubber-thin":       "move them apart: use a wider frame.pitch or frame.between, another turn or gate, fewer or smaller keys",
	"keys-need-wall":    "enlarge frame.to_wall to %.4g mm: then %d keys fit",
	"keys-need-room":    "enlarge frame.to_wall, or use a smaller keys.diameter or keys.clear",
	"keys-symmetric":    "use a different number of keys",
	"marking-dropped":   shortenMarking,
	"marking-shrunk":    shortenMarking,

	// Rules of the mold.
	"thinner-by-coat":    "the print is thinner by finish.seal_coat",
	"pitch-of-rows":      "leave it out and halfpour finds it, or set layout.rows = 1",
	"far-from-head":      "give it in the head file's coordinates, and check head.unit",
	"apart-along-left":   "they differ only from flank to flank; a wire lies flat where the halves meet",
	"odd-scale":          "it needs a scale of %.3g: are head.unit and the weight right?",
	"huge-head":          "check head.unit, and weight.target or weight.scale",
	"none-fits":          "not even one cavity fits: use a smaller frame.to_wall, a shorter sprue.length or a larger printer",
	"fewer-fit":          "the printer has room for %d of the %d cavities (the first of the row): use fewer, or a smaller frame.between and frame.to_wall",
	"fewer-fit-in-rows":  "the printer has room for %d of the %d cavities (the first, in %d rows): use fewer, or a smaller frame.between and frame.to_wall",
	"fewer-fit-at-pitch": "the printer has room for %d of the %d cavities (the first of the row): use fewer, or a smaller frame.pitch",
}

const (
	thickenMetal   = "use a larger weight.target or scale, use a thinner wire, move head.eye or the wire; or use a smaller weight.wall"
	setPitch       = "set frame.pitch to %.1f mm, or leave it out and halfpour finds it"
	shortenMarking = "shorten it, or enlarge frame.to_wall"
)

// Remedy says what helps against a finding, in the keys of the job.
func Remedy(f moldbox.Finding) string {
	if f.Remedy != "" {
		return f.Remedy
	}
	return remedyOf(f.Code, f.Cause, f.Figures)
}

func remedyOf(code string, cause moldbox.Cause, figures []any) string {
	if cause != "" {
		code = string(cause)
	}
	figures = slices.Clone(figures)
	for i, f := range figures {
		if v, ok := f.(geom.Vec); ok {
			figures[i] = Direction(v)
		}
	}
	return fmt.Sprintf(remedies[code], figures...)
}
