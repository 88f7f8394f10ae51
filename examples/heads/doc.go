// Package heads makes the bait heads of the example jobs, as a tackle maker's
// CAD would hand them over: closed meshes in mm, the nose at -X, the back at
// +Y and the left flank at +Z.
//
// Every dimension is invented demo data. The heads are no one's design.
package heads
