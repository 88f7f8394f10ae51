package pourplan

import (
	"fmt"
	"math"

	"halfpour/moldbox"
)

// socketPlay is the room that an eye needs to go into its socket with its glue, mm
// (common practice, no source).
const socketPlay = 0.1

// SocketFindings says of each head whose eye socket, as the head is scaled and its
// coats leave it, is too narrow for the eye that is to be glued in.
func (j *Job) SocketFindings(m *moldbox.Mold) []moldbox.Finding {
	t := j.Finish
	if t.Socket == 0 || t.StickEye == 0 {
		return nil
	}
	var fs []moldbox.Finding
	coats, eye := 2*j.coatThickness(true), float64(t.StickEye)
	for _, c := range m.Cavities {
		left := c.Scale*float64(t.Socket) - coats
		if left >= eye+socketPlay-1e-9 {
			continue
		}
		draw := math.Ceil(10*(eye+socketPlay+coats)/c.Scale-1e-9) / 10
		f := moldbox.Finding{Severity: moldbox.Warn, Code: "socket-narrow", Cavity: c.Name,
			Value: left, Limit: eye + socketPlay, Unit: "mm",
			Message: fmt.Sprintf("the eye socket comes out %.2f mm wide: tight for an eye of %s mm", left, FormatNumber(eye, 2)),
			Remedy:  fmt.Sprintf("draw the socket %.1f mm wide and set finish.socket to it, or use a smaller eye", draw)}
		if left < eye {
			f.Severity = moldbox.Stop
			f.Message = fmt.Sprintf("the eye socket comes out %.2f mm wide: an eye of %s mm does not fit", math.Max(0, left), FormatNumber(eye, 2))
		}
		fs = append(fs, f)
	}
	return fs
}
