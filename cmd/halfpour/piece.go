package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/geom"
	"halfpour/geom/threemf"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

func pieceCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "piece",
		Usage:     "a test piece of minutes to print before the frames",
		ArgsUsage: jobArgument,
		Description: `Writes a few small tiles on one plate, test-piece.3mf, to print before the
frames:
  left and right hook bed   the rubber round one eye, in plastic. Lay the hook in
                            one and close the other on it: it must lie flat
  left and right key        one key of each frame. They must close on each other
  left letter               the beginning of the lettering
For a job with sizes, name the size whose mold you want to try.`,
		UsageText: `  halfpour piece job.toml
  halfpour piece job.toml --out piece.3mf`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write into `FILE.3mf`", DefaultText: "test-piece.3mf next to the job"},
			&cli.StringFlag{Name: "size", Usage: "`NAME` of the size, for a job with sizes", DefaultText: "none"},
			&cli.BoolFlag{Name: "anyway", Usage: "make it even if the checks say stop", DisableDefaultText: true},
			jsonFlag(), quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			f, err := readJobFile(c.Context, t, c.Args().First())
			if err != nil {
				return err
			}
			mold, err := f.oneMold(c.String("size"))
			if err != nil {
				return err
			}
			return mold.makePiece(c.Context, t, c.String("out"), c.Bool("anyway"))
		},
	}
}

// pieceReport is what "piece --json" prints.
type pieceReport struct {
	Schema int         `json:"schema"` // reportSchema
	Job    string      `json:"job"`    // path as the user named it
	File   writtenFile `json:"file"`   // that was written
	Tiles  []pieceTile `json:"tiles"`  // on the plate, from left to right
}

// pieceTile is one tile of a test piece.
type pieceTile struct {
	Name      string     `json:"name"`       // what of the mold it is
	SizeMM    [3]float64 `json:"size_mm"`    // x, y, z as it stands on the plate
	VolumeMM3 float64    `json:"volume_mm3"` // of plastic
}

const pieceName = "test-piece.3mf"

// makePiece carries out "halfpour piece".
func (f *moldFile) makePiece(ctx context.Context, t *terminal, place string, anyway bool) error {
	switch {
	case place == "":
		place = filepath.Join(f.folder(), pieceName)
	case filepath.Ext(place) != ".3mf":
		return usageError(fmt.Sprintf("--out must name a .3mf, got %q", place))
	}
	if fileset.Overwrites(f.files(), []string{place}) != "" {
		return usageError(place + " is a file of the job and would be overwritten")
	}
	run, err := f.newRun(ctx, false)
	if err != nil {
		return err
	}
	tiles, err := run.TestTiles(ctx, making.Options{Anyway: anyway})
	if err != nil {
		return f.fault(err)
	}
	set, err := fileset.New(ctx, filepath.Dir(place))
	if err != nil {
		return err
	}
	defer set.Discard()
	name := filepath.Base(place)
	if err := set.Create(ctx, name, func(w io.Writer) error { return threemf.Write(w, tilePlate(f.Job.Title, tiles[0])) }); err != nil {
		return err
	}
	size := set.Sizes()[name]
	if err := set.Commit(); err != nil {
		return err
	}
	return f.sayPiece(t, pieceReport{Schema: reportSchema, Job: f.path, File: writtenFile{name, place, size}}, tiles[0])
}

func (f *moldFile) sayPiece(t *terminal, r pieceReport, tiles []moldbox.Tile) error {
	plastic := 0.0
	for _, tile := range tiles {
		size := tile.Mesh.BoundingBox().Size()
		r.Tiles = append(r.Tiles, pieceTile{tile.Name, [3]float64{size.X, size.Y, size.Z}, tile.Mesh.Volume()})
		plastic += tile.Mesh.Volume()
	}
	if t.json {
		return writeJSON(t, r)
	}
	for _, tile := range r.Tiles {
		t.row("tile", "%s: %.0f x %.0f x %.1f mm", tile.Name, tile.SizeMM[0], tile.SizeMM[1], tile.SizeMM[2])
	}
	t.row("print", "%s", pourplan.PrintTimeText(plastic))
	t.say("wrote %s", r.File.Path)
	t.say("next: print it flat, without supports; lay the hook in a bed, close the other on it, and close the keys")
	return nil
}

// tileGap is left between tiles, mm.
const tileGap = 5

// tilePlate lays tiles side by side.
func tilePlate(title string, tiles []moldbox.Tile) threemf.Package {
	pkg := threemf.Package{Title: title}
	x := 0.0
	for _, tile := range tiles {
		pkg.Objects = append(pkg.Objects, threemf.Object{Name: tile.Name, Mesh: tile.Mesh, Offset: geom.Vec{X: x}})
		x += tile.Mesh.BoundingBox().Size().X + tileGap
	}
	return pkg
}
