// Package heat computes how hot metal freezes in a rubber mold: temperatures
// in space and time, by the conservation of heat. It knows bodies and what they
// are made of; it knows no alloys by name, no jobs and no molds.
//
// Begin with a [Scene]: the rubber's box, the bodies in it and the air around.
// [Solve] takes it from the pour through one shot or several. The [Result] holds
// what became of each body, of the rubber's skin and of the mold's warmth.
//
// Lengths are mm, times s, temperatures °C, heat J. Contact and air take
// W/(m²·K), conductivity W/(m·K), as tables print them.
//
// The files, in reading order:
//
//   - substance.go, scene.go, result.go: what is asked and answered; solve.go,
//     shoot.go: from one to the other, shot by shot; books.go: whether heat is kept;
//     snapshot.go, sample.go: all temperatures at a moment.
//   - grid.go: the scene in cells, on the lines of axis.go, by blocker.go block by
//     block, halved if fold.go agrees; cut.go: cells of several bodies, looked at by
//     cut_sample.go, piece by piece in cut_sub.go and plane.go, and put together in
//     cut_parts.go. cells.go: grids for more than one scene.
//   - links.go: the ways for heat between the parts of cells; profile.go: how
//     they are corrected while heat has not gone deeper than a cell.
//   - state.go, curve.go, conduct.go: the mold at one moment; step.go: the next moment, by
//     linear.go; march.go: how long steps are.
//   - rhythm.go: shot after shot, and by limit.go where the mold's warmth settles.
//   - watch.go, feed.go, flow.go, reach.go: what is asked, followed from step to step.
package heat
