package pourplan

import (
	"fmt"
	"reflect"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
)

// LyingHead is how a head of a job lies in its file, for a page that shows it and
// on which a person points at it. Lengths are mm; places and directions are the
// file's own.
type LyingHead struct {
	Name string  // of its first cavity; "" where all are alike
	File string  // of the head, as the job names it
	Unit float64 // of the file, mm
	Pose moldbox.Pose

	Keys   LyingKeys
	Points []LyingPoint

	moldbox.Lying               // at about its size in the mold
	Mesh          *geom.TriMesh // of the file, in its unit; nil until it is read
	Findings      []moldbox.Finding
}

// LyingKeys are the paths in the job of what says how a head faces.
type LyingKeys struct{ Nose, Back, Left, Parting string }

// LyingPoint is a place that a person can point at. All lie in the parting plane.
type LyingPoint struct {
	Key     string // path in the job: "head.eye"
	Label   string // for a person
	Item    int    // in the list at Key, from 0; -1 for a key that is one place
	Outline bool   // it is on the head's outline
	InHook  bool   // it is written as [x, y] from the hook's eye, as Flat is
	Flat    [2]float64
	At      *geom.Vec // nil where the job leaves it out, and InHook until the head is laid out
}

// LyingHeads are the heads of the cavities of a job, alike ones once, and the
// number of the first cavity of each. Nothing is read of their files.
func (j *Job) LyingHeads() (list []LyingHead, cavities []int) {
	var seen []CavityTable
	for i, c := range j.Placed() {
		name := c.Name
		c.Name, c.Count, c.Turn = "", 0, Turn{}
		if slices.ContainsFunc(seen, func(s CavityTable) bool { return reflect.DeepEqual(s, c) }) {
			continue
		}
		seen = append(seen, c)
		if len(j.Cavity) == 0 {
			name = ""
		}
		list, cavities = append(list, j.lyingHead(i, c, name)), append(cavities, i)
	}
	return list, cavities
}

func (j *Job) lyingHead(i int, c CavityTable, name string) LyingHead {
	at := func(key string) string {
		if j.source == nil {
			return key
		}
		return j.source.cavityPath(i, key)
	}
	h := LyingHead{Name: name, File: c.Head.File, Unit: c.Head.MMPerUnit(), Pose: c.Head.pose(),
		Keys: LyingKeys{at("head.nose"), at("head.back"), at("head.left"), at("head.parting")}}
	place := func(p *Point) *geom.Vec {
		if p == nil {
			return nil
		}
		v := p.vec(h.Unit)
		return &v
	}
	if c.Head.Eye != nil || c.Hook != nil && c.Hook.File == "" {
		h.Points = append(h.Points, LyingPoint{Key: at("head.eye"), Label: "eye", Item: -1, At: place(c.Head.Eye)})
	}
	h.Points = append(h.Points, LyingPoint{Key: at("head.gate"), Label: "gate", Item: -1, Outline: true, At: place(c.Head.Gate)})
	for k, keeper := range c.Keeper {
		for n := range keeper.Points {
			h.Points = append(h.Points, LyingPoint{Key: at(fmt.Sprintf("keeper[%d].points", k)), Label: fmt.Sprintf("keeper %d, point %d", k+1, n+1), Item: n, At: place(&keeper.Points[n])})
		}
		for n := range keeper.InHook {
			h.Points = append(h.Points, LyingPoint{Key: at(fmt.Sprintf("keeper[%d].in_hook", k)), Label: fmt.Sprintf("keeper %d, point %d", k+1, n+1), Item: n, InHook: true, Flat: keeper.InHook[n]})
		}
	}
	return h
}

// Ghost is a place, direction or plane that is proposed for a head and that the job
// does not have.
type Ghost struct {
	Key   string    `json:"key"`   // path in the job
	Text  string    `json:"text"`  // its value, as the job would have it
	Label string    `json:"label"` // for a person
	Trust string    `json:"trust"` // as of a ProposedKey
	Why   string    `json:"why"`
	At    *geom.Vec `json:"-"` // of a place, mm along the file's axes
	Way   *geom.Vec `json:"-"` // of a direction
}
