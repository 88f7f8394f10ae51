package placing

import (
	"context"
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

var table = flag.Bool("table", false, "print what is proposed for each head")

// Heads in any pose and unit: what is proposed is right, or says that it is not
// sure. Directions are right within 1.5 degrees, within 5 where only the longest
// axis shows them, places within 0.15 mm.
func TestProposals(t *testing.T) {
	const place = 0.15
	var rows []string
	right, asked := 0, 0
	for _, c := range headCases() {
		if c.long && !geomtest.Long() {
			continue
		}
		mm := UnitMM(c.unit)
		file := c.mesh(t).Transform(func(v geom.Vec) geom.Vec { return c.pose.Point(v).Mul(1 / mm) }, false)
		p, err := Propose(context.Background(), file, Hints{Leg: c.leg, Metal: c.metal})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		angle := 1.5 * math.Pi / 180
		if p.Shank == nil {
			angle = 5 * math.Pi / 180
		}
		back := c.pose.Inverse()
		nose, up, across := back.Direction(p.Pose.Nose.Unit()), back.Direction(p.Pose.Back.Unit()), back.Direction(p.Pose.Across())
		if c.backUnknown && up.Y < 0 {
			up = up.Neg()
		}
		off := func(v, want geom.Vec) bool { return v.Unit().Dot(want) < math.Cos(angle) }
		plane := math.Abs(across.Z) > math.Cos(angle) || c.anyMirror && math.Abs(across.X) < math.Sin(angle)
		inPlane := back.Point(p.Pose.Across().Mul(p.Pose.Parting)) // a point of the plane
		plane = plane && !c.asymmetric && math.Abs(inPlane.Dot(across)) < place
		backOK := !off(up, geom.Vec{Y: 1}) || c.anyMirror
		row := []string{c.name}
		judge := func(what string, ok bool, why Reason) {
			asked++
			word := "right"
			switch {
			case ok:
				right++
			default:
				word = "wrong"
				if why.Trust != Unsure {
					t.Errorf("%s: %s is wrong and says %s: %s", c.name, what, why.Trust, why.Why)
				}
			}
			row = append(row, fmt.Sprintf("%s, %s", word, why.Trust))
		}
		judge("unit", p.Unit == c.unit, p.UnitWhy)
		judge("plane", plane, p.PlaneWhy)
		judge("nose", !off(nose, geom.Vec{X: -1}), p.NoseWhy)
		judge("back", backOK, p.BackWhy)
		eye := "-"
		if c.eye != (geom.Vec{}) && len(p.Eyes) > 0 {
			far := back.Point(p.Eyes[0].At).Dist(c.eye)
			judge("eye", far < 0.3, p.Eyes[0].Reason)
			eye = row[len(row)-1]
		}
		// What a job takes: its hook's leg, and the angle to the shank.
		if p.Leg < eyeOver-0.05 && c.leg == 0 || p.Leg > 200 {
			t.Errorf("%s: a leg of %g mm", c.name, p.Leg)
		}
		if p.Shank != nil && p.Shank.LegAngle != 0 && math.Abs(math.Cos(p.Shank.LegAngle)) > math.Cos(math.Pi/9) {
			t.Errorf("%s: leg and shank at %g radians", c.name, p.Shank.LegAngle)
		}
		rows = append(rows, fmt.Sprintf("| %s | %s | %s |", strings.Join(row[:5], " | "), eye, p.PlaneWhy.Why))
		if *table {
			fmt.Printf("%s\n   %+v\n   %s\n   nose %s; back %s\n   undercut %.2f, least %.2f at %.2f; eyes %v\n   shank %+v\n", rows[len(rows)-1], p.Pose, p.UnitWhy.Why, p.NoseWhy.Why, p.BackWhy.Why, p.Undercut, p.LeastUndercut, p.LeastAt, p.Eyes, p.Shank)
		}
	}
	if *table {
		fmt.Println(strings.Join(rows, "\n"))
	}
	t.Logf("%d of %d right", right, asked)
}
