package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/examples"
	"halfpour/moldbox/head"
	"halfpour/moldbox/placing"
	"halfpour/pourplan"
)

// headFlags are the options of a job for a head, --head first.
func headFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "head", Usage: "propose a job for the mesh in `FILE`"},
		&cli.StringFlag{Name: "weight", Usage: "`MASS` of a finished head, such as \"1/2 oz\"", DefaultText: "the head at its size as modelled"},
		&cli.IntFlag{Name: "cavities", Usage: "`NUMBER` of heads in the mold", Value: 1},
		&cli.IntFlag{Name: "keepers", Usage: "propose up to two keepers: `NUMBER`"},
		&cli.Float64Flag{Name: "leg", Usage: "your hook's leg: `MM` from the middle of its eye to the middle of its shank", DefaultText: "as the head asks"},
		&cli.StringFlag{Name: "unit", Usage: "`UNIT` of the mesh: mm, cm, m, in or ft", DefaultText: "by the head's length and weight"},
	}
}

// newForHead writes a job for a head that lies in its file in any way.
func newForHead(c *cli.Context, t *terminal, dir string) error {
	ctx, job := c.Context, filepath.Join(dir, starterJob)
	n, hints, err := askedOfHead(c)
	if err != nil {
		return err
	}
	h, err := loadHead(ctx, c.String("head"), job)
	if err != nil {
		return err
	}
	if n.File, err = fromFolder(dir, c.String("head")); err != nil {
		return err
	}
	text, err := jobForHead(ctx, &n, h, hints)
	if err != nil {
		return err
	}
	if _, err := pourplan.ReadJob(job, text); err != nil {
		return fmt.Errorf("the proposed job does not read: %w", err)
	}
	if err := writeNew(ctx, dir, []starterFile{{starterJob, text}}, false); err != nil {
		return err
	}
	if t.json {
		return writeJSON(t, newReport{Schema: reportSchema, Files: []string{job}, Proposed: n.Keys()})
	}
	sayProposed(t, job, n, hints.Keepers)
	return nil
}

// jobForHead proposes a job for a head and returns its text.
func jobForHead(ctx context.Context, n *pourplan.NewJob, h *head.Head, hints placing.Hints) (text []byte, err error) {
	if h.Format == head.ThreeMF && hints.Unit == "" {
		hints.Unit = "mm"
	}
	if n.Head, err = placing.Propose(ctx, h.Mesh, hints); err != nil {
		return nil, err
	}
	if len(h.Hooks) > 0 {
		hook, err := h.Hook(ctx, placing.UnitMM(n.Head.Unit))
		if err != nil {
			return nil, err
		}
		n.Hook = true
		n.Head.TakeHook(hook.Eye, hook.Foot, hook.Tail, hook.Back)
	}
	if !n.Hook && n.Leg() > pourplan.LongestLeg {
		return nil, tooLarge(n.Head)
	}
	return n.Text(examples.StarterJob), nil
}

// tooLarge refuses a head for which there is no hook.
func tooLarge(p *placing.Proposal) error {
	return usageError(fmt.Sprintf("the head is %.0f mm long: no hook of a job has a leg long enough for it", p.Size.X),
		fmt.Sprintf("it was taken to be in %s: give its unit with --unit, or export it smaller", p.Unit))
}

// askedOfHead reads the options.
func askedOfHead(c *cli.Context) (n pourplan.NewJob, hints placing.Hints, err error) {
	file := c.String("head")
	n = pourplan.NewJob{Title: titleOf(file), Target: c.String("weight"), Cavities: c.Int("cavities")}
	hints = placing.Hints{Unit: c.String("unit"), Keepers: c.Int("keepers"), Leg: c.Float64("leg")}
	switch {
	case n.Cavities < 1 || n.Cavities > 64:
		err = usageError(fmt.Sprintf("--cavities must be 1 to 64, got %d", n.Cavities))
	case hints.Keepers < 0 || hints.Keepers > 2:
		err = usageError(fmt.Sprintf("--keepers must be 0 to 2, got %d", hints.Keepers))
	case c.IsSet("leg") && !(hints.Leg >= pourplan.ShortestLeg && hints.Leg <= pourplan.LongestLeg):
		err = usageError(fmt.Sprintf("--leg must be %g to %d mm, got %g mm", pourplan.ShortestLeg, pourplan.LongestLeg, hints.Leg))
	case hints.Unit != "" && placing.UnitMM(hints.Unit) == 0:
		err = usageError(fmt.Sprintf("--unit must be mm, cm, m, in or ft, got %q", hints.Unit))
	case n.Target != "":
		starter, _ := pourplan.ReadJob(starterJob, examples.StarterJob)
		if hints.Metal, err = starter.MetalFor(n.Target); err != nil {
			err = usageError("--weight: " + err.Error())
		}
	}
	return n, hints, err
}

// titleOf is a title by a file's name, short enough for a mold.
func titleOf(file string) string {
	return shortTitle(strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)))
}

// shortTitle is a title by a name.
func shortTitle(name string) string {
	words := []rune(strings.Join(strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == '_' || r == ' ' }), " "))
	return string(words[:min(len(words), mostTitle)])
}

const mostTitle = 24

// fromFolder is a file's path as a job in a folder names it.
func fromFolder(dir, file string) (string, error) {
	from, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	to, err := filepath.Abs(file)
	if err != nil {
		return "", err
	}
	if path, err := filepath.Rel(from, to); err == nil {
		to = path
	}
	return filepath.ToSlash(to), nil
}

func sayProposed(t *terminal, job string, n pourplan.NewJob, keepers int) {
	p := n.Head
	t.say("wrote %s, for %s as read off its mesh:", job, n.File)
	unsure := ""
	for _, k := range n.Keys() {
		_, name, _ := strings.Cut(k.Key, ".")
		t.say("  %-8s %-22s %-9s %s", name, k.Value, k.Trust, k.Why)
		if k.Trust == string(placing.Unsure) {
			unsure += ", " + k.Key
		}
	}
	if p.Wires > 0 {
		t.say("  %s thin and long left out of this: a hook? Export the head without it", counted(p.Wires, "body", "bodies"))
	}
	if len(p.Keepers) < keepers {
		t.say("  keepers  room for %d of %d found", len(p.Keepers), keepers)
	}
	if unsure != "" {
		t.say("not sure: %s. Look at the picture, and change them in the job", unsure[2:])
	}
	measures := "put your hook's measures into the job, then "
	if n.Hook {
		measures = ""
	}
	t.say("next: "+measures+"halfpour check %s --picture head.png", job)
}
