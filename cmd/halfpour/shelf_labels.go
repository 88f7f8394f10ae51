package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan/sheet"
)

// leadLabel is what every label of a mold for metal with lead says.
const leadLabel = "LEAD: wear gloves, melt outdoors. No food or drink here. Keep away from children."

// drawLabels draws the labels of the molds that were made, if a path is given.
func (w *shelfWork) drawLabels(c *cli.Context) error {
	path := c.String("labels")
	switch {
	case path == "" && (c.IsSet("label") || c.IsSet("paper")):
		return usageError("--label and --paper need --labels FILE.pdf")
	case path == "":
		return nil
	case filepath.Ext(path) != ".pdf":
		return usageError(fmt.Sprintf("--labels must name a .pdf, got %q", path))
	}
	var labels []sheet.Label
	var names []string
	for i, line := range w.report.molds {
		if line.Date == "" {
			continue // nobody recorded its making: its label may be wrong
		}
		names = append(names, line.Name)
		if only := c.String("label"); only != "" && only != line.Name {
			continue
		}
		l := sheet.Label{ShelfLine: w.report.molds[i]}
		if line.Lead {
			l.Lead = leadLabel
		}
		labels = append(labels, l)
	}
	switch {
	case len(names) == 0:
		return usageError("no mold was recorded: there is nothing to label", "halfpour log JOB.toml --made")
	case len(labels) == 0:
		slices.Sort(names)
		return usageError(fmt.Sprintf("no mold is called %q", c.String("label")), "molds: "+strings.Join(names, ", "))
	}
	set, err := fileset.New(c.Context, filepath.Dir(path))
	if err != nil {
		return err
	}
	defer set.Discard()
	paper := papers["a4"]
	if c.IsSet("paper") {
		paper = papers[c.String("paper")]
	}
	err = set.Create(c.Context, filepath.Base(path), func(out io.Writer) error { return sheet.WriteLabels(out, labels, paper) })
	if err != nil {
		return err
	}
	w.report.Labels = path
	return set.Commit()
}
