package main

// explainJobErrors is about job files.
func explainJobErrors() []explanation {
	return []explanation{
		{"syntax",
			"The job file cannot be read as TOML: a quote or bracket is missing, or it is another kind of file.",
			"Look at the line that the carets stand under. A line reads key = value or [table]; text stands in quotes; what follows # is a remark.",
			nil},
		{"unknown-key",
			"The table has no key of this name. It is an error so that a misspelt key cannot be passed over in silence.",
			"Take the key that is suggested, or look it up in docs/job-file.md.",
			nil},
		{"bad-value",
			"The value is of another kind or unit than the key takes, such as a mass for a length.",
			"Write it as the message shows. A bare number is in the key's own unit.",
			nil},
		{"out-of-range",
			"The value is too small or too large to make sense.",
			"Take one within the limit that the message gives.",
			nil},
		{"missing",
			"Something that must be there is not: a key that cannot be guessed, or a part of a 3MF file.",
			"In a job, write the key that the message names; of a 3MF file, export it again.",
			nil},
		{"conflict",
			"Two keys say the same thing in different ways, or do not go together.",
			"Take one of them out.",
			nil},
		{"no-mold",
			"Each figure is fine by itself, but with these heads they make no mold: keys have no room, the frame is larger than the printer, a head is far too large or beside the parting plane.",
			"Change the key that the message names as its hint says.",
			[]string{"print.bed_x", "print.bed_y", "keys.count", "frame.to_wall", "head.parting", "head.unit", "weight.target"}},
		{"unreadable",
			"A named file cannot be read: it is missing, it is a folder, a pipe or a device, it is too large, or you may not read it.",
			"Check the name. A relative head.file starts at the job's folder.",
			[]string{"head.file"}},
		{"stop",
			"The checks have found something that makes the mold unfit, and nothing is written.",
			"Change what the findings with \"stop\" say. To build all the same: halfpour build --anyway.",
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
		{"unsupported", "The file is of a kind that is not read, or has more facets than can be counted.", "Export the head in a format that docs/job-file.md names for head.file, in millimetres.", []string{"head.file"}},
		{"too-many-facets", "The heads of all cavities together are drawn so finely that making the frames would take more memory than is taken.", "Export the head coarser: facets of a tenth of a millimetre are finer than a nozzle prints. Or take fewer cavities.", []string{"head.file", "cavities"}},
		{"archive", "A 3MF file is a zip archive, and this one cannot be unpacked.", again, nil},
		{"xml", "A part of the 3MF file is not well-formed.", again, nil},
		{"index", "A face of the file names a corner that is not there.", again, nil},
		{"reference", "An object of the file names another that is not there.", again, nil},
		{"duplicate", "Two objects of a 3MF file have the same id, or two of its parts the same name: programs differ in which they take.", again, nil},
		{"unit", "The file names a unit that its specification does not know, or the job gives a unit for a 3MF file, which states its own.", "Leave head.unit out for a 3MF file, or export the head again.", []string{"head.unit"}},
		{"size", "The file unpacks to far more than a mesh of its size would.", "Do not trust it; export the head again.", nil},
		{"bad-index", "A triangle has a corner that is no vertex.", again, nil},
		{"not-finite", "A corner of the mesh is not a finite number.", again, nil},
		{"too-far", "A corner of the mesh lies more than a thousand kilometres away: the file is damaged, or its numbers are not lengths.", again, nil},
		{"equal-corners", "A triangle has two corners in one place.", again, nil},
		{"zero-area", "A triangle has three corners on one line.", again, nil},
		{"duplicate-facet", "Two triangles have the same corners: the surface is there twice.", closeIt, nil},
		{"open-edge", "The surface has holes: an edge has a triangle on one side only. A head with holes has no volume, so no weight.", closeIt, nil},
		{"crowded-edge", "More than two triangles meet at an edge: two bodies touch along it, or there is a wall inside.", "Unite the bodies in your CAD program so that they overlap or part, and export the head again.", nil},
		{"flipped-edge", "Neighbouring triangles face opposite ways, so inside and outside cannot be told.", closeIt, nil},
		{"split-vertex", "Parts of the surface meet in a single point.", "Let the parts overlap or part in your CAD program, and export the head again.", nil},
		{"inside-out", "The surface faces inwards: the head would be a hole.", "Turn its facets over (flip the normals) in your CAD program.", nil},
		{"shells", "The head is of several shells. That is fine when they overlap and are one head.", "Look whether a stray body was exported too.", nil},
		{"mesh", "The mesh does not enclose a volume.", closeIt, nil},
	}
}

// explainOtherErrors is about everything else that can go wrong.
func explainOtherErrors() []explanation {
	return []explanation{
		{"usage", "The command line is not one that the command takes.", "halfpour COMMAND --help shows what it takes, with examples.", nil},
		{"write", "A file of the output cannot be written: the disk is full, the folder may not be written to, or another program writes into it. Nothing was put in place.", "Make room, or name another folder with --out.", nil},
		{"unfinished", "A run was stopped by force, or by a power cut, just while it gave its files their names, and the rest of them cannot be put in place: a file that waits for it is missing or changed, or is open elsewhere. Some files of the folder are of that run and others of the one before; halfpour-unfinished.json lists those of the later. Where all are there, the next command puts them in place by itself and says so.", "Use no file of the folder. Close what has one open, or build the job again, which replaces them all.", nil},
		{"exists", "A file that would be written is there already, and is left alone.", "Name another folder, or move the file.", nil},
		{"plan", "A build's plan.json cannot be read, or is of another version.", "Build the job again, or name another folder.", nil},
		{"weights", "The weighed heads are too few, or differ too much, to go by.", "Weigh more good heads one by one and log them, or build without --weighed.", []string{"metal.fill_factor"}},
		{"proof", "The finished frames were held against the solids and did not agree, so nothing was written. This should not happen with a sound head.", "Unite overlapping parts of the head in CAD and try again; or take a finer --tolerance.", []string{"output.tolerance"}},
		{"interrupted", "The run was stopped, by Ctrl-C or by the system. No file was left half-written.", "Run it again.", nil},
		{"failed", "Something outside the job went wrong, such as a full disk or a folder that may not be written.", "Read the message; it comes from the system.", nil},
	}
}
