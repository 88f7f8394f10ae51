// Package picture renders meshes into pictures, shaded so that shallow relief
// reads. A [Scene] says what to show, [Render] draws it.
//
// The files, in reading order:
//
//   - scene.go: Scene, Camera and the steps of Render; cut.go: planes that cut
//     a mesh open.
//   - view.go: from points of the scene to pixels and back; model.go: the
//     meshes as one.
//   - raster.go, band.go: which triangle is nearest at each sample; tiles.go: what is
//     kept of that; faces.go: of those that are seen, the normals to shade by.
//   - cells.go: what lies round a pixel, for open.go (how much of the sky it
//     sees) and shadow.go (whether the lamp reaches it); blocks.go: which cells
//     need not be asked, bare.go: where none is.
//   - shade.go: the passes over the picture and the light on a surface; paint.go:
//     the colour of each pixel; line.go: outlines and creases; label.go: text over it.
//   - png.go: a picture as a file.
package picture
