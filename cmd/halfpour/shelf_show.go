package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"halfpour/pourplan"
)

// shelfReport is what "shelf --json" prints, and "log --made --json".
type shelfReport struct {
	Schema  int           `json:"schema"`           // reportSchema
	File    string        `json:"file"`             // shelf.toml
	Account string        `json:"account"`          // of what is used
	Added   string        `json:"added,omitempty"`  // what was recorded
	Hooks   []shelfHook   `json:"hooks"`            // by name
	Rubbers []shelfRubber `json:"rubbers"`          // by name
	Metals  []shelfMetal  `json:"metals"`           // by name
	Cans    []shelfCan    `json:"cans"`             // that are open, in the order in which they were opened
	Molds   []shelfMold   `json:"molds"`            // that were made or cast in and are not thrown away
	Short   []string      `json:"short"`            // what runs short, for people
	Faults  []string      `json:"faults,omitempty"` // lines and files that cannot be taken as they are
	Labels  string        `json:"labels,omitempty"` // file of labels that was drawn
	molds   []pourplan.ShelfLine
}

// shelfHook is a hook on the shelf.
type shelfHook struct {
	Name   string  `json:"name"`           // on the shelf
	WireMM float64 `json:"wire_mm"`        // diameter; 0 when a file has its body
	File   string  `json:"file,omitempty"` // of its body; left out without one
}

// shelfRubber is a rubber on the shelf.
type shelfRubber struct {
	Name        string  `json:"name"`                      // on the shelf
	LifeLow     int     `json:"life_low_shots,omitempty"`  // that a mold of it lasts; left out when the shelf does not say
	LifeHigh    int     `json:"life_high_shots,omitempty"` // at most
	OpenedLifeS float64 `json:"opened_life_s,omitempty"`   // that an opened can keeps; left out when the shelf does not say
}

// shelfMetal is a metal on the shelf.
type shelfMetal struct {
	Name      string  `json:"name"`          // on the shelf
	Density   float64 `json:"density_g_cm3"` // cold
	LiquidusC float64 `json:"liquidus_c"`    // above it the metal is fully molten
}

// shelfCan is an open can.
type shelfCan struct {
	Name   string      `json:"name"`              // as it was opened
	Rubber string      `json:"rubber"`            // in it
	Opened string      `json:"opened"`            // day
	BestBy string      `json:"best_by,omitempty"` // last day by the data sheet; left out when the shelf does not say
	AG     float64     `json:"a_g"`               // part A that is left; below 0 when more was taken than was in it
	BG     float64     `json:"b_g"`               // part B that is left
	Pours  []shelfPour `json:"pours"`             // of each job that takes this rubber
}

// shelfPour is how many molds of a job a can is enough for.
type shelfPour struct {
	Job   string  `json:"job"`   // file
	AG    float64 `json:"a_g"`   // that one mold takes
	BG    float64 `json:"b_g"`   // that one mold takes
	Molds int     `json:"molds"` // whole ones that are left in the can
}

// shelfMold is a mold.
type shelfMold struct {
	Name     string `json:"name"`            // on its label, or the job's
	Job      string `json:"job"`             // its path from the shelf's folder, without its ending
	Mold     int    `json:"mold"`            // its number
	Made     string `json:"made,omitempty"`  // day; left out when nobody recorded it
	Shots    int    `json:"shots"`           // poured
	LifeLow  int    `json:"life_low_shots"`  // that it lasts, at least
	LifeHigh int    `json:"life_high_shots"` // and at most
	LeftLow  int    `json:"left_low_shots"`  // of the shorter life; 0 when it is over
	LeftHigh int    `json:"left_high_shots"` // of the longer one
}

// sum works out the report.
func (w *shelfWork) sum(ctx context.Context, jobs []shelfJob) error {
	r := &w.report
	r.Schema, r.File, r.Account = reportSchema, w.path, shelfAccountPath(w.path)
	r.Hooks, r.Rubbers, r.Metals, r.Cans, r.Molds, r.Short = []shelfHook{}, []shelfRubber{}, []shelfMetal{}, []shelfCan{}, []shelfMold{}, []string{}
	for _, h := range w.shelf.Hooks {
		r.Hooks = append(r.Hooks, shelfHook{h.Name, h.HookTable.Wire, h.File})
	}
	for _, s := range w.shelf.Rubbers {
		row := shelfRubber{Name: s.Name}
		if s.Life != nil {
			row.LifeLow, row.LifeHigh = int(s.Life[0]), int(s.Life[1])
		}
		if s.Opens != nil {
			row.OpenedLifeS = float64(*s.Opens)
		}
		r.Rubbers = append(r.Rubbers, row)
	}
	for _, m := range w.shelf.Metals {
		r.Metals = append(r.Metals, shelfMetal{m.Name, m.C.Density.Best, m.C.Liquidus})
	}
	for _, f := range w.account.Faults {
		r.Faults = append(r.Faults, r.Account+" "+f.Error())
	}
	for _, can := range w.account.Lost() {
		r.Faults = append(r.Faults, fmt.Sprintf("%s takes from can %q, which it does not open: what is left in it is not known", r.Account, can))
	}
	w.sumCans(jobs)
	return w.sumMolds(ctx, jobs)
}

// sumCans lists cans, and holds them against the plans.
func (w *shelfWork) sumCans(jobs []shelfJob) {
	r := &w.report
	good := map[string]pourplan.Can{} // what is left of each rubber in cans that keep
	for _, can := range w.account.Cans() {
		row := shelfCan{Name: can.Name, Rubber: can.Rubber, Opened: can.Opened, AG: can.AG, BG: can.BG, Pours: []shelfPour{}}
		if rubber, ok := w.shelf.Rubber(can.Rubber); ok {
			row.BestBy = can.BestBy(rubber)
		}
		for _, j := range jobs {
			if p := j.plan.Rubber; p.Name == can.Rubber {
				row.Pours = append(row.Pours, shelfPour{j.name, p.TotalAG, p.TotalBG, can.Pours(p.TotalAG, p.TotalBG)})
			}
		}
		r.Cans = append(r.Cans, row)
		switch {
		case can.AG < 0 || can.BG < 0:
			r.Short = append(r.Short, fmt.Sprintf("can %q: more was taken out than was in it: weigh it, then halfpour shelf --count", can.Name))
		case row.BestBy != "" && row.BestBy < w.today:
			r.Short = append(r.Short, fmt.Sprintf("can %q is past its date, %s: try it in a small cup before you pour a mold", can.Name, row.BestBy))
			continue
		}
		sum := good[can.Rubber]
		sum.AG, sum.BG = sum.AG+max(0, can.AG), sum.BG+max(0, can.BG)
		good[can.Rubber] = sum
	}
	for _, j := range jobs {
		p := j.plan.Rubber
		sum := good[p.Name]
		if !slices.ContainsFunc(r.Cans, func(c shelfCan) bool { return c.Rubber == p.Name }) || sum.Pours(p.TotalAG, p.TotalBG) > 0 {
			continue
		}
		for _, part := range []struct {
			name       string
			need, have float64
		}{{"A", p.TotalAG, sum.AG}, {"B", p.TotalBG, sum.BG}} {
			if part.have < part.need {
				r.Short = append(r.Short, fmt.Sprintf("%s takes %.1f g of part %s of %s, the cans that keep have %.1f g", j.name, part.need, part.name, p.Name, part.have))
			}
		}
	}
}

// sumMolds lists molds with their shots: those that were made, then those that were
// cast in without a word of their making.
func (w *shelfWork) sumMolds(ctx context.Context, jobs []shelfJob) error {
	r, totals := &w.report, map[string]map[int]int{}
	shotsOf := func(job string) (map[int]int, error) {
		if shots, ok := totals[job]; ok {
			return shots, nil
		}
		path := filepath.Join(w.folder(), filepath.FromSlash(job)) + castingsEnding
		account, err := readAccountFile(ctx, path)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		shots := map[int]int{}
		totals[job] = shots
		if err != nil {
			r.Faults = append(r.Faults, err.Error()+": its shots are not counted")
			return shots, nil
		}
		for _, f := range account.Faults {
			r.Faults = append(r.Faults, path+" "+f.Error())
		}
		for _, c := range account.Castings {
			shots[c.Mold] += c.Shots
		}
		return shots, nil
	}
	known := map[string]bool{}
	key := func(job string, mold int) string { return fmt.Sprint(job, "\n", mold) }
	for _, line := range w.account.Lines {
		known[key(line.Job, line.Mold)] = true
	}
	add := func(line pourplan.ShelfLine, made string, shots int) {
		if rubber, ok := w.shelf.Rubber(line.Rubber); ok && rubber.Life != nil {
			line.LifeLow, line.LifeHigh = int(rubber.Life[0]), int(rubber.Life[1])
		}
		m := shelfMold{Name: line.Name, Job: line.Job, Mold: line.Mold, Made: made, Shots: shots, LifeLow: line.LifeLow, LifeHigh: line.LifeHigh,
			LeftLow: max(0, line.LifeLow-shots), LeftHigh: max(0, line.LifeHigh-shots)}
		r.Molds, r.molds = append(r.Molds, m), append(r.molds, line)
		switch {
		case m.LifeHigh == 0:
		case m.LeftHigh == 0:
			r.Short = append(r.Short, fmt.Sprintf("mold %q is past its life: %d shots of %d to %d; judge it by its castings", m.Name, shots, m.LifeLow, m.LifeHigh))
		case m.LeftLow == 0:
			r.Short = append(r.Short, fmt.Sprintf("mold %q may end: %d shots of %d to %d", m.Name, shots, m.LifeLow, m.LifeHigh))
		}
	}
	for _, line := range w.account.Molds() {
		shots, err := shotsOf(line.Job)
		if err != nil {
			return err
		}
		add(line, line.Date, shots[line.Mold])
	}
	for _, j := range jobs {
		if j.plan.OfBox() {
			continue
		}
		shots, err := shotsOf(j.name)
		if err != nil {
			return err
		}
		var molds []int
		for mold := range shots {
			if !known[key(j.name, mold)] {
				molds = append(molds, mold)
			}
		}
		slices.Sort(molds)
		for _, mold := range molds {
			label := labelOf(j.plan.WithLife(j.Job), j.Mold, mold)
			add(pourplan.ShelfLine{Job: j.name, Mold: mold, Rubber: j.plan.Rubber.Name, MoldLabel: label}, "", shots[mold])
		}
	}
	return nil
}
