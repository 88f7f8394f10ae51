package placing

import "halfpour/geom"

// TakeHook has a hook that is drawn in the head's file say how the head faces and
// where its eye is: its eye, the foot of that on the axis of its shank, tail and back are
// those of the hook, mm, in the file's coordinates. Keepers are looked for beside it.
func (out *Proposal) TakeHook(eye, foot, tail, back geom.Vec) {
	w := out.Pose.Across()
	out.Pose.Nose = round(tail.Sub(w.Mul(tail.Dot(w))).Unit().Neg())
	up := w.Cross(out.Pose.Nose)
	if up.Dot(back) < 0 {
		up = up.Neg()
	}
	out.Pose.Back = round(up)
	out.NoseWhy = Reason{Sure, "the shank of the hook in the file runs to the tail"}
	out.BackWhy = Reason{Sure, "the point of the hook in the file is on that side"}
	out.Eyes = []Eye{{roundPoint(onPose(out.Pose, eye), UnitMM(out.Unit)), Reason{Sure, "the eye of the hook in the file"}}}
	ends := out.ends
	ends.nose, ends.back = out.Pose.Nose.Unit(), out.Pose.Back.Unit()
	shank := exit{Rod{Bore: true}, foot, ends.nose.Neg()}
	if own := out.ends.shank; own != nil && !own.rod.Bore {
		shank.rod = own.rod
	}
	ends.shank = &shank
	out.Keepers = out.surface.keepers(out, ends, out.hints)
}
