package main

import (
	"context"
	"errors"
	"image/color"
	"image/png"
	"os"
	"path/filepath"

	"halfpour/geom"
	"halfpour/geom/picture"
)

// closeUp is a picture of a part of the head, in the head's own place: what of
// both surfaces lies in the box.
type closeUp struct {
	name          string
	box           geom.Box
	look          geom.Vec
	beside        float64 // mm from the one to the other
	width, height int
}

// The upper half of a head as it lies on the tray, nose up in the picture.
func closeUps() []closeUp {
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	return []closeUp{
		{"head-and-tray.png", geom.Box{Min: v(-7, collarEnd+1.1, 0.05), Max: v(7, 13, 9)}, v(0.25, 0.35, -1), 14, 680, 680},
		{"rim-and-scales.png", geom.Box{Min: v(-3.2, -4.6, 1), Max: v(3.2, 9.4, 9)}, v(0.45, 0.3, -1), 7, 800, 660},
	}
}

// drawPictures meshes the tray of a head and draws its middle head, on the
// right, beside the head itself, on the left, under one camera.
func drawPictures(ctx context.Context, j job, headFile, folder string) error {
	head, err := readHead(headFile)
	if err != nil {
		return err
	}
	solid, err := geom.NewMeshSolid(head)
	if err != nil {
		return err
	}
	t, _ := tray(solid)
	made, err := geom.Mesh(ctx, t, geom.MeshOptions{Tolerance: j.tolerance, Workers: j.workers})
	if err != nil {
		return err
	}
	seat := seats()[headCount/2]
	for _, c := range closeUps() {
		if err := c.draw(ctx, head.Transform(seat.Point, false), made, filepath.Join(folder, c.name)); err != nil {
			return err
		}
	}
	return nil
}

func (c closeUp) draw(ctx context.Context, head, tray *geom.TriMesh, name string) error {
	before, after := cropped(head, c.box), cropped(tray, c.box)
	right := c.look.Cross(geom.Vec{Y: 1}).Unit() // in the picture
	beside := geom.Move(right.Mul(c.beside))
	img, err := picture.Render(ctx, picture.Scene{
		Meshes: []picture.PaintedMesh{
			{Mesh: before, Colour: color.RGBA{R: 0xd2, G: 0xb9, B: 0x93, A: 0xff}},
			{Mesh: after.Transform(beside.Point, false), Colour: color.RGBA{R: 0x9f, G: 0xb8, B: 0xc8, A: 0xff}},
		},
		Camera: picture.Camera{Look: c.look, Up: geom.Vec{Y: 1}, Margin: 0.02},
		Width:  c.width, Height: c.height,
		Background: color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff},
	})
	if err != nil {
		return err
	}
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	return errors.Join(encoder.Encode(f, img), f.Close())
}

// cropped returns the triangles of m that lie wholly in the box.
func cropped(m *geom.TriMesh, box geom.Box) *geom.TriMesh {
	part := &geom.TriMesh{}
	kept := make([]int32, len(m.Vertices)) // 1 more than the new number
	for t, ids := range m.Triangles {
		a, b, c := m.Corners(t)
		if !box.Contains(a) || !box.Contains(b) || !box.Contains(c) {
			continue
		}
		for k, v := range ids {
			if kept[v] == 0 {
				part.Vertices = append(part.Vertices, m.Vertices[v])
				kept[v] = int32(len(part.Vertices))
			}
			ids[k] = kept[v] - 1
		}
		part.Triangles = append(part.Triangles, ids)
	}
	return part
}
