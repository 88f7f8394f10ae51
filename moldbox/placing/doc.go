// Package placing proposes how a head lies in its file: the plane in which it
// mirrors, the parting in it, nose and back, where a hook's eye may be, and the
// unit. Each proposal says how sure it is, and why. It knows no jobs and no files.
//
// The files, in reading order:
//
//	propose.go  Propose and the Proposal; trust.go: how sure a proposal is
//	sample.go   points spread evenly over the surface, and their moments
//	wires.go    thin bodies, as a hook drawn in its head is, are left out
//	mirror.go   the plane in which the surface mirrors; rivals.go: the choice between several
//	rods.go     collars and bores: round surfaces whose axis lies in that plane
//	ends.go     nose and back, by where collar and bores leave
//	sockets.go  dents in the flanks, as eyes have
//	eye.go      where the hook's eye may be
//	keepers.go  where keepers may be
//	hook.go     what a hook drawn in the file says instead
//	unit.go     the unit, by the head's length and weight
//	round.go    directions and places rounded to what a person reads
package placing
