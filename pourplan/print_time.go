package pourplan

import (
	"fmt"
	"math"
)

// Flow of plastic through a usual nozzle of 0.4 mm while it prints, walls, travel and
// slow first layers included, mm³/s (common practice, no source).
const slowFlow, fastFlow = 2.0, 8.0

// PrintTime is how long a volume of plastic, mm³, takes to print solid, s: rough.
// Frames are mostly walls and floors, so that little infill is saved.
func PrintTime(volume float64) (low, high float64) { return volume / fastFlow, volume / slowFlow }

// PrintTimeText says so: "about 20 min to 1 h 20 min (rough)".
func PrintTimeText(volume float64) string {
	low, high := PrintTime(volume)
	return fmt.Sprintf("%.1f cm³ of plastic, about %s to %s (rough)", volume/1000, FormatDuration(wholeMinutes(low)), FormatDuration(wholeMinutes(high)))
}

func wholeMinutes(s float64) float64 { return 60 * math.Ceil(s/60) }
