// Package heads makes the bait heads and hooks of the example jobs, as a tackle maker's
// CAD would hand them over: closed meshes in mm, the nose at -X, the back at
// +Y and the left flank at +Z.
//
// Every dimension is invented demo data. The heads are no one's design.
//
// hook.go makes the bodies of hooks, as CAD has them.
//
// ball.go and minnow.go are the heads. The minnow is a loft (loft.go) along
// curves (curve.go) with relief (detail.go); sites.go places its vertices.
package heads
