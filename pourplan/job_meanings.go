package pourplan

// keyMeanings says of every key what it means: the one place where a person's
// words for it stand. A test fails when a key has none.
func keyMeanings() map[string]string {
	all := map[string]string{}
	for _, part := range []map[string]string{headMeanings(), materialMeanings(), moldMeanings(), benchMeanings(), severalMeanings()} {
		for key, text := range part {
			all[key] = text
		}
	}
	return all
}

// headMeanings is about the mold as a whole, the head, its hook and its weight.
func headMeanings() map[string]string {
	return map[string]string{
		"title":    "name of the mold; on the sheet, and on the mold unless marking.lines says otherwise; at most 80 characters",
		"cavities": "how many alike; not together with [[cavity]]",
		"turn":     "of every head in the parting plane: 0 has the back up, -90 the nose; \"auto\" looks for the turn that traps least air, then takes the least rubber",

		"head.file":    "the head's mesh, a closed surface, as STL, OBJ or 3MF (then in mm and in the coordinates of its first object); a relative path starts at the job's folder and may leave it (\"../head.stl\"): the file is only read. Must be given",
		"head.unit":    "unit that the file was drawn in: mm, cm, m, in or ft",
		"head.nose":    "axis of the file that points to the nose: +x, -x, +y, -y, +z or -z",
		"head.back":    "axis that points to the back, the fish's upper side",
		"head.left":    "axis that points to the left flank, seen from behind with the back up",
		"head.parting": "place of the parting plane along the left axis",
		"head.eye":     "centre of the hook's eye, as read off in CAD; scaling keeps it in place. Must be given with a hook",
		"head.gate":    "where metal enters the head; left out: its highest point in the mold",

		"hook.name":       "for the sheet",
		"hook.wire":       "diameter of the wire. Must be given",
		"hook.eye_inside": "diameter of the eye's opening. Must be given",
		"hook.leg":        "from the eye's centre to the axis of the shank; 0 is a straight hook",
		"hook.leg_angle":  "between leg and shank",
		"hook.shank":      "straight length behind the leg. Must be given, but with points",
		"hook.gape":       "between the axes of shank and point; at least two wires. Must be given, but with points",
		"hook.point":      "straight length from the bend towards the point",
		"hook.fit":        "room all round the wire in its bed",
		"hook.points":     "instead of leg to point: the wire's axis from the eye on, [x, y] in the hook's plane, x towards the tail, y towards the back",
		"hook.bend":       "inside radius of the bends at points; 0: one wire",
		"hook.eye_across": "the eye's ring stands across the parting plane instead of lying in it",
		"hook.eye_rubber": "least rubber between the eye's opening and metal",
		"hook.leaves":     "the wire leaves the mold through its edge, so that the bend takes no rubber",
		"hook.mass":       "of one hook, weighed: weigh ten and divide; 0: from the wire's volume",
		"hook.density":    "of the wire; steel unless you say otherwise",

		"keeper.name":    "for the sheet",
		"keeper.wire":    "diameter of the wire. Must be given",
		"keeper.points":  "its axis in the head file's coordinates, in the parting plane; true to size from the first point on. Either points or in_hook",
		"keeper.in_hook": "its axis from the hook's eye on: [x, y], x towards the tail, y towards the back",
		"keeper.bend":    "inside radius of its bends; 0: one wire",
		"keeper.count":   "how many alike, side by side",
		"keeper.step":    "from one to the next, as points; with in_hook [x, y, 0]",
		"keeper.leaves":  "the mold through its edge, by the last stretch",
		"keeper.fit":     "room all round the wire in its bed",
		"keeper.mass":    "of one, weighed; 0: from the wire's volume",
		"keeper.density": "of the wire; steel unless you say otherwise",

		"weight.target": "the head is scaled until it weighs this; left out: it is taken at scale",
		"weight.of":     "\"finished\": metal with hook and keepers; \"metal\": metal alone",
		"weight.scale":  "of the drawn head; left out: 1, as drawn; not together with target",
		"weight.wall":   "least metal that is to be round a wire in the head; 0: do not look",
	}
}

// materialMeanings is about metal, casting and rubber.
func materialMeanings() map[string]string {
	return map[string]string{
		"metal.preset":        "one of the metals listed below",
		"metal.composition":   "instead of a preset: percent by mass of lead, tin, bismuth, antimony, zinc and copper, together 100",
		"metal.density":       "of cold metal; left out: from the composition",
		"metal.density_range": "what it may be; left out with a density: exactly that",
		"metal.shrink":        "linear, of solid metal from freezing to cold; left out: from the composition",
		"metal.shrink_range":  "what it may be",
		"metal.fill_factor":   "weighed over computed mass of metal, once you have weighed some; build --weighed takes it from the account",
		"metal.fill_range":    "what the fill factor may be, such as [0.96, 1], each 0.5 to 1.2; left out: 0.96 to 1, until fill_factor is one you weighed",
		"metal.liquidus":      "temperature above which all is molten; needed where the composition is no preset's",

		"casting.superheat": "how far over the liquidus metal is poured",
		"casting.pour":      "pouring temperature, instead of superheat; at least the liquidus",
		"casting.mold":      "temperature to which the mold is warmed first",
		"casting.dross":     "part of the melt that is skimmed off",
		"casting.heel":      "left in the pot; at most nine tenths of what it holds",
		"casting.pot":       "what your pot holds of this metal; 0: any",
		"casting.heads":     "good heads that you want; 0: one shot",
		"casting.yield":     "good heads out of those cast",
		"casting.life":      "shots that a mold stands, the least and the most; left out: 20 to 25, common practice",

		"rubber.preset":          "one of the rubbers listed below; or none, with all of the data sheet's figures",
		"rubber.name":            "for the sheet",
		"rubber.cure":            "\"tin\" or \"platinum\"",
		"rubber.ratio":           "parts of A to parts of B by mass, A first; 0.1 to 1000 parts of B to 100 of A",
		"rubber.density":         "of the mix. Masses to weigh follow it: take your data sheet's",
		"rubber.density_a":       "of part A, for its line in the cup; with density_b instead of density, the mix follows from both",
		"rubber.density_b":       "of part B",
		"rubber.shrink":          "linear, on curing",
		"rubber.shrink_range":    "what it may be; at most 5 %",
		"rubber.pot_life":        "from the first B to too thick to pour, at 23 °C",
		"rubber.demold":          "from mixing to firm enough to take out, at 23 °C",
		"rubber.rest":            "from demolding to hot metal",
		"rubber.heat_continuous": "temperature that it stands for long",
		"rubber.heat_short":      "temperature that it stands for a short time, above heat_continuous and at most 600",
		"rubber.conductivity":    "of heat, cured; for estimates; left out: usual",
		"rubber.specific_heat":   "cured; for estimates; left out: usual",
		"rubber.waste":           "mixed beyond the frame's volume",
		"rubber.residue":         "that stays in each cup and on the brush",
		"rubber.brush":           "thickness of the coat that is brushed on first",
		"rubber.vacuum":          "de-aired in a chamber: takes a cup of four times the volume",
		"rubber.scale":           "smallest step that your scale shows",
		"rubber.hardness":        "of the cured rubber: decides how deep an undercut may be; 0: not known",
		"rubber.b_tolerance":     "how far B may be off what belongs to A, by its data sheet; left out: not judged",
	}
}

// moldMeanings is about the mold's shape, its print and its checks.
func moldMeanings() map[string]string {
	return map[string]string{
		"layout.rows":      "of cavities; 0: one, or as many as it takes to fit the bed",
		"layout.alternate": "every second cavity is turned by 180° where that takes less rubber",
		"layout.least":     "look for the turns and rows that take the least rubber",

		"frame.floor":     "thickness; grows under deep keys",
		"frame.wall":      "thickness of the walls",
		"frame.draft":     "lean of the walls outwards",
		"frame.corner":    "radius of the inner corners",
		"frame.over":      "rubber over the highest point of a cavity",
		"frame.to_wall":   "rubber from a cavity or wire to a wall",
		"frame.between":   "rubber between neighbouring cavities, their wires included",
		"frame.pitch":     "from sprue to sprue in the one row; left out: as near as between allows",
		"frame.freeboard": "wall above the fill line",
		"frame.pry_tab":   "how far the tabs to pry at stand out of the floor; 0: none",

		"keys.count":     "how many bumps and sockets register the halves",
		"keys.diameter":  "of each",
		"keys.depth":     "of each; at most half the diameter",
		"keys.clearance": "between bump and socket",
		"keys.clear":     "least distance to everything else",

		"sprue.mouth":          "diameter of the funnel at the top edge; at least throat",
		"sprue.throat":         "diameter above the gate",
		"sprue.length":         "of the funnel, from the top edge down",
		"sprue.gate_width":     "of the neck that is snipped, in the parting plane",
		"sprue.gate_thickness": "of that neck, across the parting plane",
		"sprue.gate_length":    "of that neck",

		"runner.diameter": "of the channel; left out: as wide as its gates ask",
		"runner.rise":     "of the channel from the funnel to its ends, so that air runs ahead of the metal",

		"vents.width": "of a vent, in the parting plane",
		"vents.depth": "of a vent across it, both halves together",
		"vents.count": "for each cavity, at least; more are led where air would stay",

		"marking.lines":  "raised text on the floor, which reads right in the rubber; left out: title and weight; []: none",
		"marking.height": "of a capital letter",
		"marking.relief": "how far letters stand out of the floor",

		"finish.seal_coat":      "thickness of paint or primer inside the tray, which is printed thinner by it",
		"finish.powder":         "thickness of the baked coat on the heads: what it adds, and what the eye keeps; 0: none",
		"finish.powder_density": "of the coat, baked; left out: 1.5",
		"finish.socket":         "width of the head's eye socket as drawn; 0: none to look at",
		"finish.stick_eye":      "diameter of the eye that is glued into it",

		"print.nozzle":   "of your printer",
		"print.bed_x":    "of your printer's bed",
		"print.bed_y":    "of your printer's bed",
		"print.bed_high": "how high it prints",

		"checks.air":      "volume of air that may stay in a pocket, in metal or rubber",
		"checks.undercut": "how far the rubber gives way when it is drawn; left out: by rubber.hardness; 0: do not look",
		"checks.rubber":   "the thinnest that passes",
		"checks.overhang": "steepest that passes in print, from upright; 0: do not look",
		"checks.gap":      "between wire and bed: metal runs along a wider one",
		"checks.flash":    "how far metal may run along a wire",

		"output.folder":    "where a build writes, within the job's folder; build --out writes elsewhere; left out: named after the job",
		"output.tolerance": "largest distance between the printed mesh and the true solid",
		"output.paper":     "of the pour sheet: a4 or letter",
	}
}

// benchMeanings is about shopping, clock and money.
func benchMeanings() map[string]string {
	return map[string]string{
		"buying.molds":      "of this kind, to buy rubber for",
		"buying.have":       "A and B together, still good, on your shelf",
		"buying.shelf_life": "of closed cans; left out: typical",

		"kit.name":  "for the list; left out: its mass",
		"kit.mass":  "of A and B together. Either mass or a",
		"kit.a":     "of A alone, as some cans are labelled; B comes with it",
		"kit.price": "of the whole kit",

		"evening.start":        "when the first B meets its A; left out: no clock",
		"evening.room":         "temperature where the rubber cures; data sheets mean 23",
		"evening.mix":          "to stir a mix",
		"evening.deair":        "in the chamber, with rubber.vacuum",
		"evening.pour":         "to brush and pour one half",
		"evening.cup":          "the largest cup at hand; 0: any",
		"evening.post_cure":    "in the warmth, after demolding; 0: none",
		"evening.post_cure_at": "temperature of that",

		"plastic.name":    "of the frames: one of those listed below, or another with its figures",
		"plastic.softens": "temperature; left out: typical of the kind",
		"plastic.density": "left out: typical of the kind",
		"plastic.solid":   "of the frame's volume that is plastic and not air",

		"cost.currency": "word behind sums; all prices are in it",
		"cost.rubber":   "of one kg, A and B, where no [[kit]] says it",
		"cost.metal":    "of one kg",
		"cost.hook":     "of each",
		"cost.keeper":   "of each; one a head where the job lists none",
		"cost.plastic":  "of one kg of printing plastic",
		"cost.other":    "for each mold: cups, brushes, release",
		"cost.shop":     "of one such head in a shop",
	}
}

// severalMeanings is about cavities and molds that differ.
func severalMeanings() map[string]string {
	return map[string]string{
		"cavity.name":         "of the cavity; with count, numbered",
		"cavity.count":        "how many of this kind, side by side; all together at most 64",
		"cavity.turn":         "instead of the job's",
		"cavity.target":       "short for weight.target",
		"cavity.without_hook": "although the job has a [hook]",

		"size.name":         "of the size, and of its folder; left out: its weight",
		"size.cavities":     "how many alike in its mold",
		"size.turn":         "instead of the job's",
		"size.target":       "short for weight.target",
		"size.heads":        "short for casting.heads",
		"size.without_hook": "although the job has a [hook]",
	}
}
