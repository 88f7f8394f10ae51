package heat

import "halfpour/geom"

// Result is what comes of solving a scene.
type Result struct {
	Shots []Shot

	Unknowns, Steps int
	Cell            float64 // near the metal, mm
	Symmetric       bool    // one half stands for both
	// HeatError is what of the heat was lost or made by the arithmetic, as a share
	// of the heat that the metal of one shot brings.
	HeatError float64

	Snapshots []Snapshot // of the last shot
}

// Shot is one shot from its pour to the next, times in s from its pour.
type Shot struct {
	Bodies []Frozen // as the scene's bodies; those not cast have their volume only

	Solid   float64  // when all metal is solid; +Inf when it was not in time
	SolidAt geom.Vec // the last place
	Skin    Skin
	Reach   []float64  // at the end of the shot or its opening, as Options.Reach: farthest from the metal, mm
	Sides   [2]float64 // then: by how much the fill is warmer than before at the box's faces at low and high X, at most, K

	// Before the pour: the hottest and the mean of the skin, and the mean of all
	// rubber, °C.
	SkinBefore, SkinMeanBefore, MeanBefore float64
	Opened                                 float64 // s; 0 when it stayed closed
}

// Frozen is what became of one body.
type Frozen struct {
	Volume float64  // mm³
	Solid  float64  // s until its last liquid is solid; +Inf when that took too long
	Last   geom.Vec // where that was

	// Of a head: Shut is when melt could no longer flow on to it from a funnel or
	// runner, and SolidAtShut its share of solid then. FedShare is the mean, over
	// its volume, of the share of solid at the moment when each place was cut
	// off: what froze while it was fed.
	Shut, SolidAtShut, FedShare float64

	Flow Flow

	// CutOff is how much melt was left without feed in pieces, mm³, CutOffMost the
	// largest piece of it, CutOffAt where that piece froze last.
	CutOff, CutOffMost float64
	CutOffAt           geom.Vec
}

// Skin is the rubber at the metal.
type Skin struct {
	Hottest float64   // °C, from 0.1 s after the pour on
	At      geom.Vec  // where
	When    float64   // s
	Above   []float64 // s above Options.Limits, at the place where that is longest
	AboveAt []geom.Vec
}
