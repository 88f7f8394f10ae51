// Package moldbox turns heads, hooks and a Spec into the two halves of a
// rubber mold and the printed frames that they are poured in. It knows solids
// and lengths; it knows no files, no grams and no money.
//
// Begin with Default, give it a Cavity for each head, and hand it to Build. The
// Mold that comes back has both halves, whose Frame is to be printed and whose
// Rubber is to be measured, and what the checks found. A spec that makes no
// mold is an error that wraps a SpecError for each rule it breaks.
//
// Mold coordinates: +X along the row of cavities, +Y up to the mouth of the
// sprue as the mold stands for casting, +Z out of the parting plane (z = 0)
// into the left half. Lengths are mm, angles radians, unless a name says
// otherwise.
//
// The files, in reading order:
//
//   - spec.go: the Spec; hook.go, keeper.go: parts of it; pose.go: how a head
//     faces; lying.go: how head and wires lie without a mold; validate.go, validate_cavity.go, validate_heads.go: its rules.
//   - build.go: Build, step by step; mold.go: the Mold that comes out. Before it
//     turn.go turns heads with an automatic turn, and search.go tries layouts for
//     the least rubber.
//   - part.go: a head weighed, scaled and turned: measure.go, wirevolume.go its
//     volumes, section.go its cut, gate.go its gate, reach.go its box; anchor.go:
//     what it is scaled about. wire.go, wireaxis.go, wirepiece.go: hooks and
//     keepers as wires; wirebody.go, hookbody.go: measured of what CAD has drawn,
//     laidbody.go: in their place; hookshape.go: a hook to look at; bore.go:
//     the holes drawn for them, filled; relief.go: beds that let go of them.
//   - layout.go: rows, and what fits the printer; layout_seats.go and
//     layout_approach.go how near two heads may stand; runner*.go: under one funnel.
//   - build_cavities.go: heads, sprues and wires in their places; vents.go: vents
//     cut one by one; vents_plan.go, vents_way.go, vents_around.go: ways for air.
//   - checks*.go, wirechecks.go, wirewall.go: findings; cause.go: what tells
//     remedies apart.
//   - keys.go, marking.go: what stands in the room that is left; obstacles.go:
//     keeping clear; build_halves.go: the halves, frame.go: their trays.
//   - measured.go: what plans are made of; measured_volumes.go, rubber_volume.go, slopes.go, slopes_map.go,
//     thickest.go, plastic.go: how it is measured.
//   - frame_meshes.go: frames to print; overhangs.go: what needs supports; proof.go, proof_shape.go, proof_head.go: held against
//     the solids; testpiece.go: tiles to try first; rubber_mesh.go, rubber_half.go: the cured halves.
//   - heatscene.go: the mold just poured, for a computation of its heat; freeze.go:
//     how a shot freezes in it, by the parts of windows.go; freezerange.go: with
//     what is not known; rhythm.go: how warm it gets by many; heatcut.go: to look at; cast.go: all of it, as
//     plans take it; like.go: a mold with something changed.
//   - sketch*.go: a first look at a mold, unchecked; coarse.go: a mold to look at; bodies.go: meshes of metal and
//     wires.
package moldbox
