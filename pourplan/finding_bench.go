package pourplan

import "halfpour/moldbox"

// benchPlace is where the pour sheet says a finding.
type benchPlace int

const (
	deskOnly  benchPlace = iota + 1 // nowhere: it is about files, or a choice that the sheet's drawings show
	atBench                         // among the findings
	elsewhere                       // not among the findings: the sheet says it where it matters, as a caution beside its step or "estimate" beside a figure
)

// benchPlaces has every code of a finding. A new one must be placed here: a test
// looks for it.
func benchPlaces() map[string]benchPlace {
	codes := map[benchPlace][]string{
		deskOnly: {"account", "bed-relieved", "bore-filled", "gate-moved", "head-file", "head-mesh", "hook-body", "marking-dropped", "marking-shrunk",
			"runner-sized", "turn-chosen", "weighed"},
		elsewhere: append([]string{"typical-figures"}, CautionsToActOn...),
		atBench: {"air-trapped", "bed-too-fine", "box-bodies", "box-fill", "box-leaks", "box-no-room", "box-not-mating", "box-rim-uneven",
			"box-rubber-thin", "box-sizes-differ", "box-stands-out", "box-undercut", "bubble", "cavities-collide", "cavities-too-near",
			"coat-melts-metal", "coat-softens-metal", "eye-not-clear", "eye-off-parting", "eye-rubber-thin", "eye-turned", "fewer-keys", "for-a-look", "gate-neck",
			"gate-on-hook", "gate-overhangs", "halves-differ", "head-crossed", "head-hollow", "head-mended", "head-open", "head-size",
			"hook-in-head-file", "hook-in-metal", "hook-misses-head", "keys-symmetric", "long-sprue", "metal-along-wire", "metal-thin",
			"metal-too-hot", "overhang", "piece-floats", "piece-unfed", "rib-thinner-than-nozzle", "rubber-fin", "rubber-hot", "rubber-thin",
			"runner-hits", "runner-vent", "scale-odd", "scale-shifts", "section-freezes", "section-too-fine", "slot-thinner-than-nozzle",
			"socket-narrow", "sprue-near-head", "thinner-than-nozzle", "undercut", "vent-blocked", "void", "wire-breaks-out",
			"wire-crosses", "wire-crosses-itself", "wire-ends-inside", "wire-held", "wire-in-head-file", "wire-in-hole", "wire-misses-head",
			"wire-off-parting", "wires-cross"},
	}
	places := map[string]benchPlace{}
	for place, list := range codes {
		for _, code := range list {
			places[code] = place
		}
	}
	return places
}

// AtBench are the findings that a person at the bench must know of, merged as
// everywhere: every stop, and what the table of codes places there.
func (p *Plan) AtBench() []FindingGroup {
	places := benchPlaces()
	var list []FindingGroup
	for _, g := range GroupFindings(p.Findings) {
		if place := places[g.Code]; g.Severity == string(moldbox.Stop) || place == atBench || place == 0 && g.Severity != string(moldbox.Note) {
			list = append(list, g)
		}
	}
	return list
}

// HasBenchPlace reports whether it is decided where the pour sheet says findings
// of a code.
func HasBenchPlace(code string) bool { return benchPlaces()[code] != 0 }
