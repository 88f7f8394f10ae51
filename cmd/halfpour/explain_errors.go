package main

// explainJobErrors is about job files.
func explainJobErrors() []explanation {
	return []explanation{
		{"syntax",
			"The job file cannot be read as TOML: a quote or bracket is missing, or it is another kind of file.",
			"Look at the line above the carets. Write key = value or [table] on each line, put text in quotes, and start a remark with #.",
			nil},
		{"unknown-key",
			"The table has no key of this name. It is an error so that a misspelt key does not go unnoticed.",
			"Use the suggested key, or look it up in docs/job-file.md.",
			nil},
		{"bad-value",
			"The value has the wrong kind or unit for the key, such as a mass for a length.",
			"Write it as the message shows. A bare number is in the key's own unit.",
			nil},
		{"out-of-range",
			"The value is too small or too large to make sense.",
			"Use a value within the limit in the message.",
			nil},
		{"missing",
			"Something required is missing: a key that halfpour cannot guess, or a part of a 3MF file.",
			"In a job, write the key that the message names; export a 3MF file again.",
			nil},
		{"conflict",
			"Two keys say the same thing in different ways, or cannot be used together.",
			"Remove one of them.",
			nil},
		{"no-mold",
			"Each figure is fine by itself, but with these heads they do not make a mold: the keys do not fit, the frame is larger than the printer, or a head is far too large or off the parting plane.",
			"Change the key that the message names as its hint says.",
			[]string{"print.bed_x", "print.bed_y", "keys.count", "frame.to_wall", "head.parting", "head.unit", "weight.target"}},
		{"unreadable",
			"halfpour cannot read a file: it is missing, a folder, a pipe or a device, it is too large, or you have no permission to read it.",
			"Check the name. A relative head.file starts at the job's folder.",
			[]string{"head.file"}},
		{"stop",
			"The checks found something that makes the mold unusable or unsafe, so nothing is written.",
			"Follow the remedies of the findings marked \"stop\". To build anyway: halfpour build --anyway.",
			nil},
	}
}

// explainMeshErrors is about head files that are refused.
func explainMeshErrors() []explanation {
	const again, closeIt = "Export the head from your CAD program again.", "Close the head in your CAD program, or run its repair, and export it again."
	return []explanation{
		{"empty", "The head's file has nothing in it.", again, nil},
		{"short", "The head's file ends before its content does: the export was cut off, or the disk was full.", again, nil},
		{"no-triangles", "The head's file has no facets that enclose anything.", "Check that the body was selected when you exported it.", nil},
		{"non-finite", "A corner of a facet is not a finite number.", again, nil},
		{"keyword", "A text file has another word where its format wants one.", again + " The binary form is smaller and safer.", nil},
		{"number", "There is no number where one belongs, often because of a decimal comma.", "Export with a decimal point, or in the binary form.", nil},
		{"corners", "A facet has fewer corners than three, or more in a format that has none such.", "Export triangles only.", nil},
		{"polygon", "A face of more than three corners crosses itself, so it cannot be cut into triangles.", "Export triangles only.", nil},
		{"unsupported", "halfpour does not read this kind of file, or the file has too many facets.", "Export the head in a format that docs/job-file.md names for head.file, in millimetres.", []string{"head.file"}},
		{"not-a-hook", "The body in hook.file or keeper.file is not taken: it is too thick for a wire, is made of parts that cut through each other or, of a hook, has no eye or no bend.", "Export one wire as one closed body, a hook with its eye closed to a ring.", []string{"hook.file", "keeper.file"}},
		{"too-many-facets", "The meshes of all cavities together are so fine that making the frames would need more memory than the limit.", "Export the head with a coarser mesh: facets of a tenth of a millimetre are finer than a nozzle can print. Or use fewer cavities.", []string{"head.file", "cavities"}},
		{"archive", "A 3MF file is a zip archive, and this one cannot be unpacked.", again, nil},
		{"xml", "A part of the 3MF file is not well-formed.", again, nil},
		{"index", "A face of the file names a corner that is not there.", again, nil},
		{"reference", "An object of the file names another that is not there.", again, nil},
		{"duplicate", "Two objects of a 3MF file have the same id, or two of its parts the same name: programs differ in which one they use.", again, nil},
		{"unit", "The file names a unit that its specification does not know, or the job gives a unit for a 3MF file, which states its own.", "Leave head.unit out for a 3MF file, or export the head again.", []string{"head.unit"}},
		{"size", "The file unpacks to far more than a mesh of its size would.", "Do not trust it; export the head again.", nil},
		{"bad-index", "A triangle has a corner that is no vertex.", again, nil},
		{"not-finite", "A corner of the mesh is not a finite number.", again, nil},
		{"too-far", "A corner of the mesh lies more than a thousand kilometres away: the file is damaged, or its numbers are not lengths.", again, nil},
		{"equal-corners", "A triangle has two corners in one place.", again, nil},
		{"zero-area", "A triangle has three corners on one line.", again, nil},
		{"duplicate-facet", "Two triangles have the same corners: the surface is there twice.", closeIt, nil},
		{"open-edge", "The surface has holes: an edge has a triangle on one side only. A head with holes has no volume, so no weight.", closeIt, nil},
		{"crowded-edge", "More than two triangles meet at an edge: two bodies touch along it, or there is a wall inside.", "Join the bodies or move them apart in your CAD program, and export the head again.", nil},
		{"flipped-edge", "Neighbouring triangles face opposite ways, so nothing shows which side is inside.", closeIt, nil},
		{"split-vertex", "Parts of the surface meet in a single point.", "Join the parts or move them apart in your CAD program, and export the head again.", nil},
		{"inside-out", "The surface faces inwards: the head would be a hole.", "Flip the normals in your CAD program.", nil},
		{"shells", "The head has several shells. That is fine when they overlap and form one head.", "Check that you did not export a stray body too.", nil},
		{"mesh", "The mesh does not enclose a volume.", closeIt, nil},
	}
}

// explainOtherErrors is about everything else that can go wrong.
func explainOtherErrors() []explanation {
	return []explanation{
		{"usage", "The command line is wrong.", "halfpour COMMAND --help shows the options, with examples.", nil},
		{"write", "halfpour cannot write an output file: the disk is full, you have no permission to write to the folder, or another program is writing into it. No file was changed.", "Make room, or name another folder with --out.", nil},
		{"unfinished", "A crash or a power cut stopped a run while it was giving its files their names, and halfpour cannot finish the set: a waiting file is missing, changed, or open in another program. Some files in the folder are from that run and some from the one before; halfpour-unfinished.json lists the newer ones. If none is missing, the next command finishes the set and says so.", "Do not use any file in the folder. Close the program that has one open, or build the job again to replace them all.", nil},
		{"exists", "The file already exists and is left alone.", "Name another folder, or move the file.", nil},
		{"plan", "halfpour cannot read a build's plan.json, or it is from another version.", "Build the job again, or name another folder.", nil},
		{"weights", "There are too few weighed heads, or their weights differ too much.", "Weigh more good heads one by one and log them, or build without --weighed.", []string{"metal.fill_factor"}},
		{"proof", "halfpour compared the finished frames with the solids, and they did not agree, so it wrote nothing. This should not happen with a sound head.", "Join overlapping parts of the head in CAD and try again, or use a finer --tolerance.", []string{"output.tolerance"}},
		{"interrupted", "The run was stopped, by Ctrl-C or by the system. No file was left half-written.", "Run it again.", nil},
		{"failed", "Something outside the job went wrong, such as a full disk or a folder you may not write to.", "Read the message; it comes from the system.", nil},
	}
}
