package pourplan

import (
	"fmt"

	"halfpour/moldbox"
)

// remedies say what helps against a finding of moldbox or a rule of its Spec, in
// the job's own keys: by its cause or, where that has no row, by its code. Verbs
// take the figures that come with it.
var remedies = map[string]string{
	// The eye and the gate.
	"turn-chosen":     "write the angle as its turn to keep it whatever else changes",
	"eye-off-parting": "move head.eye or head.parting",
	"eye-elsewhere":   "check the three numbers of head.eye, head.left and head.parting",
	"gate-on-hook":    "place the gate elsewhere on the head, or turn the cavity",
	"gate-moved":      "turn the cavity so that the gate is on its upper side",
	"gate-overhangs":  "take a narrower gate or place it where the head is thicker",
	"sprue-near-head": "take a longer gate, or place it on the highest part of the head",
	"long-sprue":      "warm the mold well and pour without a pause, or take a wider sprue.throat",

	// Air.
	"vent-blocked":    "turn the cavity, move the gate, or take a narrower vent or mouth of the sprue",
	"air-trapped":     "turn the cavity, move the gate, or take a narrower vent or mouth of the sprue",
	"air-off-parting": "turn the cavity so that it can rise to the gate, or move head.parting into it",
	"air-in-runner":   "give the runner more runner.rise, or fewer cavities to an arm",

	// The runner.
	"runner-vent":  "enlarge frame.to_wall, or take fewer rows",
	"runner-sized": "set runner.diameter for another",
	"runner-hits":  "turn the cavity, or let its wire leave elsewhere",

	// Wires.
	"wire-misses-head":    "check the points of [[keeper]]",
	"hook-misses-head":    "check head.eye, which way the head faces, and the hook's dimensions",
	"back-turned":         "try head.back = %q with head.left = %q",
	"hook-in-metal":       "check head.eye, which way the head faces, and the hook's dimensions",
	"wire-ends-inside":    "lengthen points, take less frame.to_wall, or take leaves out",
	"short-shank":         "lengthen hook.shank, take less frame.to_wall, or take leaves out",
	"wire-off-parting":    "move the points of [[keeper]], or head.parting",
	"wire-crosses-itself": "check the dimensions or points of the wire",
	"wires-cross":         "move the points of [[keeper]]",
	"cross-outside":       "set a wider frame.pitch, or turn a cavity",
	"eye-rubber-thin":     "move head.eye away from the head, or ask for less hook.eye_rubber",
	"eye-not-clear":       "move head.eye out of the head, or open the head round it",
	"wire-in-hole":        "fill the hole in your CAD program: the mold makes room for the wire by itself",
	"metal-thin":          thickenMetal,
	"wire-breaks-out":     thickenMetal,
	"hook-outgrown":       "the head has outgrown its hook: take one with a longer leg, move head.eye nearer to the head, ask for a smaller weight.target or scale, or take a thinner wire; or ask for less weight.wall",
	"metal-along-wire":    "set hook.fit (or fit in [[keeper]]) to %.2g mm or less",

	// The head's shape.
	"piece-floats":             "take it out of the head, or join it to the rest in CAD",
	"piece-unfed":              "join the pieces in CAD, or cast them as a cavity each",
	"undercut":                 "take a softer rubber, or turn or change the head so that it tapers from the parting plane",
	"parting-elsewhere":        "set head.parting to %.1f, where no undercut is over some %.1f mm",
	"overhang":                 "move head.parting to the head's widest section, or print with support there",
	"bubble":                   "brush rubber in there first and tip the frame, or move head.parting so that nothing hangs over",
	"rib-thinner-than-nozzle":  "thicken it in the head, or print with a finer nozzle (print.nozzle)",
	"slot-thinner-than-nozzle": "widen it in the head, or print with a finer nozzle (print.nozzle)",
	"rubber-fin":               "make the slit %.1f mm wide, or at most %.1f mm deep",
	"halves-differ":            "expect a sharp edge and some flash there, or move head.parting off the face",

	// What the nozzle must print.
	"thin-vent": "enlarge vents.width",
	"thin-gate": "enlarge sprue.gate_width",
	"thin-stem": "enlarge marking.height",
	"thin-bed":  "enlarge hook.fit",
	"thin-post": "take a wider hook.eye_inside or less hook.fit",
	"thin-web":  "print with a finer nozzle, or lay the eye flat",

	// Room beside each other, for keys and for the marking.
	"cavities-too-near": setPitch,
	"cavities-collide":  setPitch,
	"wire-crosses":      setPitch,
	"rubber-thin":       "move them apart: a wider frame.pitch or frame.between, another turn or gate, fewer or smaller keys",
	"keys-need-wall":    "enlarge frame.to_wall to %.4g mm: %d keys fit then",
	"keys-need-room":    "enlarge frame.to_wall, or take smaller keys.diameter or keys.clear",
	"keys-symmetric":    "take another number of keys",
	"marking-dropped":   shortenMarking,
	"marking-shrunk":    shortenMarking,

	// Rules of the mold.
	"thinner-by-coat":    "the print is thinner by finish.seal_coat",
	"pitch-of-rows":      "leave it out and halfpour finds it, or set layout.rows = 1",
	"far-from-head":      "give it in the coordinates of the head's file, and check head.unit",
	"apart-along-left":   "they differ only along head.left; a wire lies in the plane where the halves meet",
	"odd-scale":          "it takes a scale of %.3g: are head.unit and the weight right?",
	"huge-head":          "check head.unit, and the weight or scale that is asked",
	"none-fits":          "not even one cavity fits: take less frame.to_wall, a shorter sprue.length or a larger printer",
	"fewer-fit":          "%d of the %d cavities would fit (the first of the row): take fewer, or less frame.between and frame.to_wall",
	"fewer-fit-in-rows":  "%d of the %d cavities would fit (the first, in %d rows): take fewer, or less frame.between and frame.to_wall",
	"fewer-fit-at-pitch": "%d of the %d cavities would fit (the first of the row): take fewer, or a smaller frame.pitch",
}

const (
	thickenMetal   = "ask for a larger weight.target or scale, take a thinner wire, move head.eye or the wire; or ask for less weight.wall"
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
	return fmt.Sprintf(remedies[code], figures...)
}
