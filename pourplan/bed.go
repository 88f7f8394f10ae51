package pourplan

import (
	"cmp"
	"math"
	"slices"

	"halfpour/moldbox"
)

// BedPlan is how the frames lie on the printer's bed.
type BedPlan struct {
	SizeMM [2]float64 `json:"size_mm"` // of the bed, x and y
	GapMM  float64    `json:"gap_mm"`  // left between frames, at least
	Prints []BedPrint `json:"prints"`  // one after the other; one alone when both frames fit together
	Pairs  int        `json:"pairs"`   // left and right frames that fit on the bed together, for more molds of the same; 0 when not even one pair does
}

// BedPrint is what is printed at once.
type BedPrint struct {
	Frames    []BedFrame `json:"frames"`              // on the bed
	PlasticML float64    `json:"plastic_ml"`          // in all of them
	PlasticG  float64    `json:"plastic_g,omitempty"` // the same; left out when the job names no plastic
	RoughMin  float64    `json:"least_time_s"`        // rough
	RoughMax  float64    `json:"most_time_s"`         // rough
}

// BedFrame is where a frame lies.
type BedFrame struct {
	Half   string     `json:"half"`    // "left" or "right"
	AtMM   [2]float64 `json:"at_mm"`   // of its left near corner from the bed's
	SizeMM [2]float64 `json:"size_mm"` // as it lies there, x and y
	Turned bool       `json:"turned"`  // by a quarter turn, its left edge to the near side
}

// planBed lays both frames on the bed.
func planBed(in moldbox.Measured, p *PrintPlan, t PrintTable) BedPlan {
	bed := [2]float64{t.BedX, t.BedY}
	b := BedPlan{SizeMM: bed, GapMM: float64(t.Gap)}
	sizes := [][2]float64{{in.Left.Outside.X, in.Left.Outside.Y}, {in.Right.Outside.X, in.Right.Outside.Y}}
	for i, spot := range layOnBed(sizes, bed, b.GapMM) {
		for len(b.Prints) <= spot.print {
			b.Prints = append(b.Prints, BedPrint{})
		}
		f, frame := &b.Prints[spot.print], p.Frames[i]
		f.Frames = append(f.Frames, BedFrame{frame.Half, [2]float64{spot.x, spot.y}, spot.size, spot.turned})
		f.PlasticML += frame.PlasticML
		f.PlasticG += frame.PlasticG
		f.RoughMin, f.RoughMax = PrintTime(f.PlasticML * 1000)
	}
	for more := sizes; len(more) <= 2*mostPairs; more = append(more, sizes...) {
		if slices.ContainsFunc(layOnBed(more, bed, b.GapMM), func(s bedSpot) bool { return s.print > 0 }) {
			break
		}
		b.Pairs++
	}
	return b
}

// mostPairs is how many pairs of frames are tried on a bed.
const mostPairs = 20

// bedSpot is where a rectangle lies: on which print, its left near corner, its size
// there.
type bedSpot struct {
	print  int
	x, y   float64
	size   [2]float64
	turned bool
}

// layOnBed lays rectangles on as few beds as it finds, gap apart and in the middle of the
// bed, in rows of the deepest first. Each way to turn them is tried: none, all, the long
// sides along x, along y.
func layOnBed(sizes [][2]float64, bed [2]float64, gap float64) (best []bedSpot) {
	turns := []func(s [2]float64) bool{
		func([2]float64) bool { return false },
		func([2]float64) bool { return true },
		func(s [2]float64) bool { return s[1] > s[0] },
		func(s [2]float64) bool { return s[0] > s[1] },
	}
	fewest := math.MaxInt
	for _, turn := range turns {
		spots := make([]bedSpot, len(sizes))
		fits := true
		for i, s := range sizes {
			spots[i] = bedSpot{size: s, turned: turn(s)}
			if spots[i].turned {
				spots[i].size = [2]float64{s[1], s[0]}
			}
			fits = fits && spots[i].size[0] <= bed[0] && spots[i].size[1] <= bed[1]
		}
		if prints := layInRows(spots, bed, gap); fits && prints < fewest || best == nil {
			best = spots
			if fits {
				fewest = prints
			}
		}
	}
	return best
}

// layInRows gives each spot its place, and returns how many prints that takes.
func layInRows(spots []bedSpot, bed [2]float64, gap float64) int {
	order := make([]int, len(spots))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(spots[j].size[1], spots[i].size[1]) })
	print, x, y, deep := 0, 0.0, 0.0, 0.0
	for _, i := range order {
		s := &spots[i]
		if x > 0 && x+s.size[0] > bed[0] {
			x, y, deep = 0, y+deep+gap, 0
		}
		if y > 0 && y+s.size[1] > bed[1] {
			print, x, y, deep = print+1, 0, 0, 0
		}
		s.print, s.x, s.y = print, x, y
		x, deep = x+s.size[0]+gap, max(deep, s.size[1])
	}
	for k := range print + 1 {
		middle(spots, k, bed)
	}
	return print + 1
}

// middle moves what is printed at once to the middle of the bed.
func middle(spots []bedSpot, print int, bed [2]float64) {
	var used [2]float64
	for _, s := range spots {
		if s.print == print {
			used = [2]float64{max(used[0], s.x+s.size[0]), max(used[1], s.y+s.size[1])}
		}
	}
	for i := range spots {
		if s := &spots[i]; s.print == print {
			s.x, s.y = s.x+(bed[0]-used[0])/2, s.y+(bed[1]-used[1])/2
		}
	}
}

// Text says how many prints it takes, and which.
func (b BedPlan) Text() string {
	size := FormatNumber(b.SizeMM[0], 0) + " x " + FormatNumber(b.SizeMM[1], 0) + " mm"
	if len(b.Prints) > 1 {
		return "two prints: the frames do not fit together on a bed of " + size
	}
	text := "both frames at once on a bed of " + size
	if b.Pairs > 1 {
		text += ", or " + FormatNumber(float64(b.Pairs), 0) + " pairs"
	}
	return text
}
