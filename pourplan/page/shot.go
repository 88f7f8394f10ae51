package page

import (
	"encoding/base64"
	"encoding/json"
	"math"
	"slices"

	"halfpour/moldbox"
)

// packedShot is a cut of a computed shot as the page's scripts read it: moment by
// moment a byte for each cell, from the upper left, its temperature between low and
// high; then moment by moment a byte for each cell of metal, its share of solid
// in 250 parts.
type packedShot struct {
	NX    int       `json:"nx"`
	NY    int       `json:"ny"`
	Step  float64   `json:"step"` // mm
	Times []float64 `json:"times"`
	Low   float64   `json:"low"` // °C
	High  float64   `json:"high"`
	Warm  string    `json:"warm"`  // base64
	Metal string    `json:"metal"` // base64: a bit for each cell
	Solid string    `json:"solid"` // base64
}

// packShot is "" without a cut.
func packShot(cuts []moldbox.HeatCut) (string, error) {
	if len(cuts) == 0 || len(cuts[0].Times) == 0 {
		return "", nil
	}
	c := cuts[0]
	p := packedShot{NX: c.NX, NY: c.NY, Step: c.Step, Times: c.Times, Low: math.Inf(1), High: math.Inf(-1)}
	for _, moment := range c.C {
		p.Low, p.High = math.Min(p.Low, float64(slices.Min(moment))), math.Max(p.High, float64(slices.Max(moment)))
	}
	var warm, solid []byte
	mask := make([]byte, (c.NX*c.NY+7)/8)
	for t := range c.Times {
		for j := c.NY - 1; j >= 0; j-- {
			for i := range c.NX {
				from, to := j*c.NX+i, (c.NY-1-j)*c.NX+i
				warm = append(warm, byte(math.Round(255*(float64(c.C[t][from])-p.Low)/math.Max(1, p.High-p.Low))))
				if s := c.Solid[t][from]; s >= 0 {
					solid = append(solid, byte(math.Round(250*float64(s))))
					mask[to/8] |= 1 << (to % 8)
				}
			}
		}
	}
	p.Warm, p.Metal, p.Solid = base64.StdEncoding.EncodeToString(warm), base64.StdEncoding.EncodeToString(mask), base64.StdEncoding.EncodeToString(solid)
	text, err := json.Marshal(p)
	return string(text), err
}
