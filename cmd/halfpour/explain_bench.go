package main

// explainHead is about the file of a head that was put up with.
func explainHead() []explanation {
	return []explanation{
		{"head-file",
			"The head's file is a little odd, say with bytes after its end. It was read all the same.",
			"Export it again if the figures look wrong.",
			[]string{"head.file"}},
		{"head-mesh",
			"The head's mesh has small flaws, such as facets without area or several shells. They were put up with; volume and weight stand.",
			"Look at the place in CAD if it was not meant so.",
			[]string{"head.file"}},
		{"head-size",
			"The head is much smaller or larger than jig heads are. An STL file has no unit, so a head drawn in inches comes out 25 times too small.",
			"Set head.unit to the unit it was drawn in.",
			[]string{"head.unit"}},
		{"head-crossed",
			"A shell of the head cuts through or touches itself. What it goes round once or more counts as inside.",
			"Unite the parts in CAD and export again: then what is printed is certain.",
			[]string{"head.file"}},
	}
}

// explainFigures is about figures and materials.
func explainFigures() []explanation {
	return []explanation{
		{"typical-figures",
			"Some figures of rubber, metal or plastic are typical ones of their kind, because the job does not give yours. Masses to weigh follow the density directly.",
			"Copy density, ratio, pot life and the heat it stands from your data sheets into the job. The plan lists which are missing, under \"typical\".",
			[]string{"rubber.density", "rubber.ratio", "rubber.pot_life", "rubber.heat_short", "metal.density"}},
		{"weighed",
			"The heads were made larger or smaller by what your weighed castings say of how well metal fills.",
			"Nothing: you asked for it with --weighed.",
			[]string{"metal.fill_factor"}},
		{"account",
			"A line of the account of castings cannot be read, or the file as a whole cannot. What can be read counts, the rest does not.",
			"Open the CSV, mend the line or take it out. Save it with commas between columns and points in figures.",
			nil},
		{"metal-too-hot",
			"Where metal meets the rubber it is hotter than the rubber stands even for a short time. The first shots leave a burnt, sticky face.",
			"Pour less hot, take a metal that melts lower, or a rubber for more heat. Check what the data sheet says before you overrule this.",
			[]string{"casting.superheat", "casting.pour", "metal.preset", "rubber.heat_short"}},
		{"plastic-softens",
			"The rubber's post-cure is hotter than the printed frame stands: in the frame, the mold goes out of shape.",
			"Take the rubber out first and lay it flat, or print in another plastic.",
			[]string{"plastic.name", "plastic.softens", "evening.post_cure_at"}},
		{"resin-stops-cure",
			"Light-cured resin keeps platinum-cure rubber from setting where they touch: the face of the mold stays sticky for good.",
			"Wash and cure the frame to the end, seal it, and try a drop in a corner first; or take a tin-cure rubber.",
			[]string{"plastic.name", "rubber.cure", "finish.seal_coat"}},
		{"too-slow",
			"From the first part B to the last of the pouring takes longer than the pot life: the rubber thickens in the cup.",
			"Have help, mix each half by itself, work in a cooler room, or take a slower rubber.",
			[]string{"rubber.pot_life", "evening.mix", "evening.deair", "evening.pour", "evening.room"}},
		{"cup-too-small",
			"Rubber rises to some four times its volume in vacuum, and your largest cup does not hold that.",
			"Mix in portions, each with its own A and B, and pour one on the other at once; or use a larger cup.",
			[]string{"evening.cup", "rubber.vacuum"}},
		{"pot-too-small",
			"One shot takes more metal than the pot gives above its heel.",
			"Use a larger pot, or fewer cavities.",
			[]string{"casting.pot", "casting.heel", "cavities"}},
	}
}
