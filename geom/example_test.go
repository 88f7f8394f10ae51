package geom_test

import (
	"context"
	"fmt"
	"math"
	"os"

	"halfpour/geom"
	"halfpour/geom/stl"
)

// The volume of a head out of CAD, and whether its mesh is sound.
func Example_volumeOfAFile() {
	file, err := os.Open("../examples/ball-jig/head.stl")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer file.Close()
	head, _, err := stl.Read(context.Background(), file)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, fault := range geom.Audit(head) {
		fmt.Println(fault)
	}
	size := head.BoundingBox().Size()
	fmt.Printf("%d triangles, %.1f x %.1f x %.1f mm\n", len(head.Triangles), size.X, size.Y, size.Z)
	fmt.Printf("%.0f mm³ inside %.0f mm² of surface\n", head.Volume(), head.Area())
	// Output:
	// 8196 triangles, 14.8 x 10.2 x 10.2 mm
	// 629 mm³ inside 392 mm² of surface
}

// A block with a bowl in it becomes triangles that a printer takes.
func ExampleMesh() {
	block := geom.Block(geom.Box{Min: geom.Vec{X: -10, Y: -10, Z: -8}, Max: geom.Vec{X: 10, Y: 10}})
	bowl := geom.Subtract(block, geom.Ball(geom.Vec{}, 6))

	ctx := context.Background()
	const tolerance = 0.05 // mm
	mesh, err := geom.Mesh(ctx, bowl, geom.MeshOptions{Tolerance: tolerance})
	if err != nil {
		fmt.Println(err)
		return
	}
	farthest, _, err := geom.Deviation(ctx, mesh, bowl)
	if err != nil {
		fmt.Println(err)
		return
	}
	exact := 20*20*8 - 2.0/3*math.Pi*6*6*6
	fmt.Println("faults:", len(geom.Audit(mesh)))
	fmt.Println("within tolerance:", farthest <= tolerance)
	fmt.Println("volume right to 0.1 %:", math.Abs(mesh.Volume()/exact-1) < 1e-3)
	// Output:
	// faults: 0
	// within tolerance: true
	// volume right to 0.1 %: true
}

// Half a ring: the true volume, half of 2π²Rr², is in the bracket for certain.
func ExampleIntegrate() {
	ring := geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, 10, 2)
	half := geom.Intersect(ring, geom.HalfSpace(geom.Vec{X: 1}, 0))
	v, err := geom.Integrate(context.Background(), half, geom.IntegrateOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	exact := math.Pi * math.Pi * 10 * 2 * 2
	fmt.Println("bracket holds it:", v.Lo <= exact && exact <= v.Hi)
	fmt.Println("best is right to 0.05 %:", math.Abs(v.Best/exact-1) <= 5e-4)
	// Output:
	// bracket holds it: true
	// best is right to 0.05 %: true
}

// The types of some other solid library: the same shapes under other names.
type (
	theirVec struct{ X, Y, Z float64 }
	theirBox struct{ Min, Max theirVec }
	theirBar struct{ radius, half float64 } // round, along Z
)

func (b theirBar) Evaluate(p theirVec) float64 {
	return math.Max(math.Hypot(p.X, p.Y)-b.radius, math.Abs(p.Z)-b.half)
}

func (b theirBar) BoundingBox() theirBox {
	return theirBox{theirVec{-b.radius, -b.radius, -b.half}, theirVec{b.radius, b.radius, b.half}}
}

// A bar of another library takes part in ours: here a ball is drilled by it.
func ExampleAdopt() {
	bar := geom.Adopt(theirBar{radius: 3, half: 8})
	drilled := geom.Subtract(geom.Ball(geom.Vec{}, 5), bar)

	v, err := geom.Integrate(context.Background(), drilled, geom.IntegrateOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	// The napkin ring: as much as a ball of radius √(5²-3²) = 4.
	exact := 4.0 / 3 * math.Pi * 4 * 4 * 4
	fmt.Println("through the middle:", drilled.Evaluate(geom.Vec{}) > 0)
	fmt.Println("right to 0.1 %:", math.Abs(v.Best/exact-1) < 1e-3)
	// Output:
	// through the middle: true
	// right to 0.1 %: true
}
