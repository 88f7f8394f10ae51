package main

import "halfpour/moldbox/box"

// explainBox is about frames that a job with [box] gives.
func explainBox() []explanation {
	files := []string{"box.left", "box.right"}
	return []explanation{
		{box.NoRoomCode,
			"The mesh holds no liquid whichever way up it stands. It may be a solid block, a frame without a floor, or the rubber instead of its frame.",
			"Draw a box with a floor and walls all round, open at the top, and everything that stands on the floor joined to it.",
			append(files, "box.up")},
		{box.LeaksCode,
			"Rubber runs out of the frame before it is half full: there is a hole in the floor, or a hole or gap in a wall.",
			"Close it in your CAD program. If the frame is printed already, tape over the hole, and close it in the drawing so that halfpour can measure it.",
			files},
		{box.BodiesCode,
			"The file has several bodies, or a surface that cuts through itself. What is inside of what cannot be told then, and a figure for the rubber would be a guess.",
			"Join the bodies in your CAD program (union) and export the frame again.",
			files},
		{box.FillCode,
			"The fill line is above the lowest point of the rim, where rubber runs over, or below the floor.",
			"Set box.fill lower, or leave it out.",
			[]string{"box.fill", "frame.freeboard"}},
		{box.StandsCode,
			"Something on the floor is higher than the fill line, so the rubber gets a hole right through.",
			"Fill higher or draw it lower. If it makes the funnel or a vent, the hole is what you want.",
			[]string{"box.fill"}},
		{box.ThinCode,
			"Somewhere the rubber is thin. It bends under metal and tears when you pull castings out.",
			"Fill higher, draw the walls higher or farther away, or move what stands on the floor apart.",
			[]string{"box.fill", "checks.rubber"}},
		{box.BehindCode,
			"Something in the frame hangs over, and rubber runs under it. It has to stretch to come out of the frame, and may tear.",
			"Draw it without the overhang. A soft rubber takes more.",
			[]string{"rubber.hardness", "checks.undercut"}},
		{box.RimCode,
			"The rim is not level, or has a notch. The lowest place is where rubber runs over, so the fill line counts from there.",
			"Nothing, if that is meant.",
			[]string{"box.fill"}},
		{box.SizesCode,
			"The rooms of the two frames differ in length or width, so the halves do not lie edge on edge in the clamp.",
			"Draw both rooms the same size.",
			files},
		{box.NotMateCode,
			"With the two halves laid on each other, a bump of rubber meets rubber instead of a socket, so they do not close. Often one frame is the other's mirror image, or a key is missing in one.",
			"Give each hollow in one floor a bump of the same shape in the other, where they meet when the halves close like a book.",
			files},
	}
}
