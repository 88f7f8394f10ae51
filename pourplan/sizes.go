package pourplan

import (
	"errors"
	"fmt"
	"strings"
)

// SizeTable is one [[size]] of a size run: a mold of its own. It starts as a
// copy of the job's keys of the same names and changes what it names.
type SizeTable struct {
	Name            string // of the size and, made plain, of its folder; "": the target
	Cavities, Heads int    // Heads is short for casting.heads
	OwnTable
	Sprue  SprueTable
	Layout LayoutTable
}

func (t *SizeTable) keys() []key {
	return append(append([]key{
		{"name", &t.Name, nil, atMost(40), "of the size, and of its folder; left out: its weight", "its folder is named after it"},
		{"cavities", &t.Cavities, nil, in(1, maxCavities), "number of equal cavities in its mold", "a mold has at least one head"},
		{"heads", &t.Heads, nil, in(0, noMore), "short for casting.heads", ""},
	}, t.OwnTable.keys()...),
		key{"sprue", &t.Sprue, nil, nil, "", ""},
		key{"layout", &t.Layout, nil, nil, "", ""})
}

// plainSize is a size that changes nothing.
func (j *Job) plainSize() SizeTable {
	return SizeTable{Cavities: j.Cavities, Heads: j.Casting.Heads, OwnTable: j.plainCavity().OwnTable, Sprue: j.Sprue, Layout: j.Layout}
}

// sizes reads [[size]].
func (r *jobReader) sizes(v any, job *Job) {
	if len(job.Cavity) > 0 {
		r.fail("cavity", RuleConflict, "put the mold with different cavities into its own job",
			errors.New("cannot be used with [[size]]: all cavities of a size are equal"))
	}
	folders := map[string]int{}
	for i, row := range r.tables("size", v, keyNamed(job, "size")) {
		s, path := job.plainSize(), sizePath(i)
		r.table(path, row, &s)
		r.settle(path, &s.OwnTable)
		if s.Name == "" && s.Weight.Target > 0 {
			s.Name = markedMass(float64(s.Weight.Target))
		}
		folder := folderName(s.Name)
		first, taken := folders[folder]
		switch {
		case s.Name == "":
			r.fail(path, RuleMissing, "write name = \"small\"", errors.New("needs a name, or a target to be named after"))
		case folder == "":
			r.fail(path+".name", RuleValue, "write name = \"small\"", fmt.Errorf("must have a letter or digit for the name of its folder, got %q", s.Name))
		case isDevice(folder):
			r.fail(path+".name", RuleValue, "choose another name", fmt.Errorf("must be a valid folder name, got %q, which Windows reserves for a device", s.Name))
		case taken:
			r.fail(path, RuleConflict, "give each a name of its own", fmt.Errorf("would use the folder %q, as size %d before it does", folder, first+1))
		default:
			folders[folder] = i
		}
		job.Size = append(job.Size, s)
	}
}

func sizePath(i int) string { return fmt.Sprintf("size[%d]", i) }

// Mold is one mold of a job: a job without sizes.
type Mold struct {
	Name   string // of the size; "" when the job is of one mold
	Folder string // in the output folder; "" when the job is of one mold
	Job    *Job
}

// Molds returns the molds of a job: the sizes of a size run in order, else the
// job itself.
func (j *Job) Molds() []Mold {
	if len(j.Size) == 0 {
		return []Mold{{Job: j}}
	}
	var list []Mold
	for i, s := range j.Size {
		m := *j
		m.Size, m.family = nil, &j.Title
		m.Title = strings.TrimSpace(j.Title + " " + s.Name)
		m.Cavities, m.Turn, m.Casting.Heads = s.Cavities, s.Turn, s.Heads
		m.Head, m.Hook, m.Keeper, m.Weight = s.Head, s.Hook, s.Keeper, s.Weight
		m.Sprue, m.Layout = s.Sprue, s.Layout
		if j.source != nil {
			m.source = j.source.ofSize(i, s.Cavities)
		}
		list = append(list, Mold{Name: s.Name, Folder: folderName(s.Name), Job: &m})
	}
	return list
}

// ofSize is the source as a size's mold sees it: its own table first.
func (s *jobSource) ofSize(i, cavities int) *jobSource {
	own := *s
	own.table, own.owners = sizePath(i), nil
	for range max(0, min(cavities, maxCavities)) {
		own.owners = append(own.owners, own.table)
	}
	return &own
}
