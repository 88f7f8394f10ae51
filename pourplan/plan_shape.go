package pourplan

import (
	"math"
	"strconv"
	"strings"

	"halfpour/moldbox"
)

// DrawPlan says how a head comes out of its rubber, and its print did before.
type DrawPlan struct {
	Left          DrawnHalf `json:"left"`                      // of the head, in the left rubber
	Right         DrawnHalf `json:"right"`                     // in the right rubber
	BestPartingMM *float64  `json:"best_parting_mm,omitempty"` // head.parting at which the deeper undercut is least; left out where it is small anyway
	BestDepthMM   *float64  `json:"best_depth_mm,omitempty"`   // the deeper one there, to about 0.25 mm
}

// DrawnHalf is the undercut of one half of a head: how far the rubber has to
// give way.
type DrawnHalf struct {
	DepthMM  float64     `json:"depth_mm"`             // the greatest, to about 0.25 mm unless near the limit
	HeadAtMM *[3]float64 `json:"head_at_mm,omitempty"` // where, in the head's file; left out when nothing hangs over
	Map      *DepthMap   `json:"map,omitempty"`        // left out where the depth is small, and for a cavity like an earlier one
}

// DepthMap holds the depths over a grid in the parting plane.
type DepthMap struct {
	LeastMM [2]float64 `json:"least_mm"` // x and y of the first value of the first row, mold coordinates
	StepMM  float64    `json:"step_mm"`  // between values along x, and between rows along y
	Rows    []string   `json:"rows"`     // from the least y on: depths in hundredths of a mm, the deepest within a step
}

// AirPlan is air that would stay in a cavity without its vents.
type AirPlan struct {
	VolumeMM3 float64    `json:"volume_mm3"`            // of air
	HeightMM  float64    `json:"height_mm"`             // from where liquid closes it off to its top
	HeadAtMM  [3]float64 `json:"head_at_mm"`            // its top, in the head's file
	Vent      int        `json:"vent_number,omitempty"` // number of the vent that frees it, counted from 1; left out when it stays
}

// mappedDepth is the undercut from which on a map of it is given, mm: less is
// lost in the map's steps.
const mappedDepth = 0.3

func planDraw(m moldbox.MeasuredCavity, first bool) *DrawPlan {
	if m.Left == nil || m.Right == nil {
		return nil
	}
	d := &DrawPlan{Left: planDrawn(m.Left, first), Right: planDrawn(m.Right, first)}
	if b := m.BestParting; b != nil {
		d.BestPartingMM, d.BestDepthMM = &b.Parting, &b.Depth
	}
	return d
}

func planDrawn(d *moldbox.Drawn, first bool) DrawnHalf {
	out := DrawnHalf{DepthMM: d.Depth}
	if d.Depth > 0 {
		at := xyz(d.HeadAt)
		out.HeadAtMM = &at
	}
	if first && d.Depth >= mappedDepth {
		out.Map = depthMap(d.Map)
	}
	return out
}

// depthMap makes one value of two by two.
func depthMap(m moldbox.DepthMap) *DepthMap {
	const lump = 2
	out := &DepthMap{StepMM: lump * m.Step, LeastMM: [2]float64{m.Least.X + m.Step/2, m.Least.Y + m.Step/2}}
	for j := 0; j < m.NY; j += lump {
		var row []string
		for i := 0; i < m.NX; i += lump {
			deepest := float32(0)
			for y := j; y < min(j+lump, m.NY); y++ {
				for x := i; x < min(i+lump, m.NX); x++ {
					deepest = max(deepest, m.Depths[y*m.NX+x])
				}
			}
			row = append(row, strconv.Itoa(int(math.Round(100*float64(deepest)))))
		}
		out.Rows = append(out.Rows, strings.Join(row, " "))
	}
	return out
}

func planAir(pockets []moldbox.AirPocket) []AirPlan {
	var out []AirPlan
	for _, p := range pockets {
		out = append(out, AirPlan{VolumeMM3: p.Volume, HeightMM: p.Height, HeadAtMM: xyz(p.HeadAt), Vent: max(0, p.Vent+1)})
	}
	return out
}
