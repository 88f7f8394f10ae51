package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/examples"
	"halfpour/examples/heads"
	"halfpour/geom/stl"
	"halfpour/pourplan"
)

const (
	starterJob  = "job.toml"
	starterHead = "head.stl" // as the starter job names it
)

// The starter's ball: drawn near the size that its weight comes to.
const starterBall, starterFineness = 10.2, 24

func newCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "new",
		Usage:     "write a starter job with a demo head, ready to build",
		ArgsUsage: "FOLDER",
		Description: `Writes job.toml, which explains every key, and head.stl, a demo ball head:
put your own mesh in its place and set in the job which way it faces and where
the hook's eye is. Makes the folder if needed and never overwrites existing
files.

With --head it writes a job for your own mesh (STL, OBJ or 3MF). The mesh stays
where it is, and may lie in its file in any pose and unit. halfpour looks for
the plane in which the head mirrors, for nose and back, for the shank's axis by
collar or bores, and for a place for the hook's eye. It writes them into the
job, each with how sure it is. The hook in the job is demo data: put your own
measures.`,
		UsageText: `  halfpour new first-mold
  halfpour new shad --head shad.stl --weight "1/2 oz" --cavities 5 --keepers 2
  halfpour check first-mold/job.toml   then: the results, before anything is made
  halfpour build first-mold/job.toml   and the frames, sheet and pictures`,
		Flags: append(headFlags(), jsonFlag(), quietFlag()),
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			dir := c.Args().First()
			if c.IsSet("head") {
				return newForHead(c, t, dir)
			}
			for _, f := range headFlags()[1:] {
				if name := f.Names()[0]; c.IsSet(name) {
					return usageError("--"+name+" needs --head", "name the mesh with --head FILE")
				}
			}
			if err := writeStarter(c.Context, dir, false); err != nil {
				return err
			}
			job := filepath.Join(dir, starterJob)
			if t.json {
				return writeJSON(t, newReport{Schema: reportSchema, Files: []string{job, filepath.Join(dir, starterHead)}})
			}
			t.say("wrote %s and %s (a demo ball head)", job, filepath.Join(dir, starterHead))
			t.say("next: edit the job, then halfpour check %s, then halfpour build %s", job, job)
			return nil
		},
	}
}

// newReport is what "new --json" prints.
type newReport struct {
	Schema int      `json:"schema"` // reportSchema
	Files  []string `json:"files"`  // that were written, the job first

	Proposed []pourplan.ProposedKey `json:"proposed,omitempty"` // with --head: what was read off the mesh
}

// starterFile is one of the files of a new job.
type starterFile struct {
	name string
	data []byte
}

func starterFiles() ([]starterFile, error) {
	var head bytes.Buffer
	if err := stl.Write(&head, heads.Ball(starterBall, starterFineness), "ball head, invented demo data"); err != nil {
		return nil, err
	}
	return []starterFile{{starterJob, examples.StarterJob}, {starterHead, head.Bytes()}}, nil
}

// writeStarter writes the starter job and its head into a folder, over
// nothing. With again, files that are there just as they would be written are
// fine.
func writeStarter(ctx context.Context, dir string, again bool) error {
	list, err := starterFiles()
	if err != nil {
		return err
	}
	return writeNew(ctx, dir, list, again)
}

// writeNew writes new files into a folder, as writeStarter does.
func writeNew(ctx context.Context, dir string, list []starterFile, again bool) error {
	set, err := fileset.New(ctx, dir)
	if err != nil {
		return err
	}
	defer set.Discard()
	for _, f := range list {
		path := filepath.Join(dir, f.name)
		if _, err := os.Lstat(path); err == nil {
			if old, err := fileset.ReadFile(ctx, path, int64(len(f.data))); again && err == nil && bytes.Equal(old, f.data) {
				continue
			}
			return &fault{code: exitFailed, problems: []problem{{
				Message: path + ": already exists and is left alone", File: path, Rule: "exists",
				Hints: []string{"name another folder"},
			}}}
		}
		if err := set.Create(ctx, f.name, func(w io.Writer) error { _, err := w.Write(f.data); return err }); err != nil {
			return err
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return set.Commit()
}

func demoCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "demo",
		Usage:     "write the starter job and build it, to see the results",
		ArgsUsage: "[FOLDER]",
		Description: fmt.Sprintf(`The same as "halfpour new FOLDER" and "halfpour build FOLDER/job.toml"; the
default folder is %q. You can run it again.`, demoFolder),
		UsageText: `  halfpour demo                        into halfpour-demo
  halfpour demo try-out                into another folder`,
		Flags: []cli.Flag{jsonFlag(), quietFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 1); err != nil {
				return err
			}
			dir := c.Args().First()
			if dir == "" {
				dir = demoFolder
			}
			if err := writeStarter(c.Context, dir, true); err != nil {
				return err
			}
			job := filepath.Join(dir, starterJob)
			t.say("job: %s, with a demo ball head", job)
			return build(c.Context, t, job, buildOptions{})
		},
	}
}

const demoFolder = "halfpour-demo"
