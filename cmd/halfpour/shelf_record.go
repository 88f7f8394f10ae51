package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/pourplan"
)

// record adds the line that the options tell, if any.
func (w *shelfWork) record(t *terminal, c *cli.Context) error {
	line, err := w.lineOf(t, c)
	if err != nil || line == nil {
		return err
	}
	return w.add(c.Context, t, *line)
}

// add puts a line behind the account; what does not go with the account is refused.
func (w *shelfWork) add(ctx context.Context, t *terminal, line pourplan.ShelfLine) error {
	done := line
	return w.grow(ctx, t, func(data []byte) (more []byte, err error) {
		if !line.TakesBack {
			return pourplan.AppendShelf(data, line)
		}
		more, done, err = pourplan.UndoShelf(data, line.Date, line.Note, func(s pourplan.ShelfLine) bool {
			return line.Event == "" || s.Event == line.Event && s.Job == line.Job
		})
		return more, err
	}, &done)
}

func (w *shelfWork) grow(ctx context.Context, t *terminal, more func(data []byte) ([]byte, error), line *pourplan.ShelfLine) error {
	path := shelfAccountPath(w.path)
	told := func(data []byte) ([]byte, error) {
		bytes, err := more(data)
		var refused *pourplan.ShelfRefusal
		switch {
		case errors.As(err, &refused):
			return nil, usageError(refused.What, refused.Hint)
		case errors.Is(err, pourplan.ErrNothingToUndo):
			return nil, usageError(path + " " + err.Error())
		}
		return bytes, err
	}
	if _, err := readGrowing(ctx, path, told); err != nil {
		return err // before there is a file
	}
	locked, err := grow(ctx, path, told)
	if err != nil {
		return err
	}
	if !locked && !t.json {
		printLine(t.err, "halfpour: %s %s: this disk has no locks: record from one program at a time", paint(t.errColour, yellow, "note:"), path)
	}
	w.added = line
	return nil
}

// lineOf is the line that the options tell; nil for none.
func (w *shelfWork) lineOf(t *terminal, c *cli.Context) (*pourplan.ShelfLine, error) {
	line := &pourplan.ShelfLine{Date: w.today, Note: noteOf(c)}
	if c.IsSet("date") {
		line.Date = c.String("date")
	}
	does := map[string]string{"open": pourplan.CanOpened, "use": pourplan.CanUsed, "count": pourplan.CanCounted, "gone": pourplan.CanGone}
	told := ""
	for _, name := range []string{"open", "use", "count", "gone", "undo"} {
		switch {
		case !c.IsSet(name):
		case told != "":
			return nil, usageError(fmt.Sprintf("--%s and --%s do not go together", told, name), "record one after the other")
		default:
			told, line.Event, line.Can = name, does[name], c.String(name)
		}
	}
	takes := map[string]string{"open": "rubber a b date note", "use": "a b date note", "count": "a b date note", "gone": "mold size date note", "undo": "date note"}[told]
	for _, name := range []string{"rubber", "a", "b", "mold", "size", "date", "note"} {
		if c.IsSet(name) && !strings.Contains(" "+takes+" ", " "+name+" ") {
			return nil, usageError(fmt.Sprintf("%s does not go here", dashed(name)), "see: halfpour shelf --help")
		}
	}
	switch told {
	case "":
		return nil, nil
	case "undo":
		line.TakesBack, line.Can = true, ""
		return line, nil
	case "gone":
		if filepath.Ext(line.Can) == ".toml" {
			return line, w.goneMold(t, c, line)
		}
	default:
		line.Rubber = c.String("rubber")
		if err := massesOf(c, told != "count", line); err != nil {
			return nil, err
		}
		if !c.IsSet("a") || !c.IsSet("b") {
			return nil, usageError("--"+told+" needs -a and -b: part A and part B by themselves", "0g if there is none of one")
		}
	}
	if err := line.Check(); err != nil {
		return nil, usageError(err.Error(), "see: halfpour shelf --help")
	}
	return line, nil
}

// goneMold makes the line that of a mold that is thrown away.
func (w *shelfWork) goneMold(t *terminal, c *cli.Context, line *pourplan.ShelfLine) error {
	f, err := readJobFile(c.Context, t, line.Can)
	if err != nil {
		return err
	}
	mold, err := f.oneMold(c.String("size"))
	if err != nil {
		return err
	}
	line.Event, line.Can, line.Mold = pourplan.MoldGone, "", max(1, c.Int("mold"))
	w.path = shelfAbove(f.folder())
	line.Job, err = w.jobName(mold)
	return err
}

// jobName is a mold's job in the account: its path from the shelf's folder, with the
// size behind it, without its ending.
func (w *shelfWork) jobName(f *moldFile) (string, error) {
	shelf, err := filepath.Abs(w.folder())
	if err != nil {
		return "", err
	}
	account, err := filepath.Abs(f.accountPath())
	if err != nil {
		return "", err
	}
	name, err := filepath.Rel(shelf, account)
	if err != nil || !filepath.IsLocal(name) {
		return "", usageError(fmt.Sprintf("%s is not below the shelf's folder, %s", f.path, w.folder()))
	}
	return strings.TrimSuffix(filepath.ToSlash(name), castingsEnding), nil
}

// massesOf reads -a and -b.
func massesOf(c *cli.Context, some bool, line *pourplan.ShelfLine) (err error) {
	for _, p := range []struct {
		name string
		g    *float64
	}{{"a", &line.AG}, {"b", &line.BG}} {
		if !c.IsSet(p.name) {
			continue
		}
		if *p.g, err = pourplan.ReadMass(c.String(p.name)); err != nil {
			return usageError(fmt.Sprintf("-%s: %v", p.name, err))
		}
	}
	if some && line.AG == 0 && line.BG == 0 && (c.IsSet("a") || c.IsSet("b")) {
		return usageError("-a and -b must not both be 0")
	}
	return nil
}
