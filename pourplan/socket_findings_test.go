package pourplan

import (
	"strings"
	"testing"

	"halfpour/moldbox"
)

// By hand: a socket drawn 5 mm wide is 4.5 mm at scale 0.9, and 4.3 mm under a coat of
// 0.1 mm. An eye of 4.5 mm needs 4.6 + 0.2 mm, which is 5.33 mm as modelled.
func TestSocketFindings(t *testing.T) {
	for _, c := range []struct {
		socket, eye, powder, scale float64
		want                       moldbox.Severity // "": none
		value                      float64
		draw                       string
	}{
		{5, 4.5, 0.1, 0.9, moldbox.Stop, 4.3, "draw the socket 5.4 mm wide"},
		{5, 4.5, 0, 0.9, moldbox.Warn, 4.5, "draw the socket 5.2 mm wide"},
		{5, 4.4, 0, 0.9, "", 0, ""},
		{5.4, 4.5, 0.1, 0.9, "", 0, ""},
		{4.5, 4.5, 0, 0.99, moldbox.Stop, 4.455, "draw the socket 4.7 mm wide"},
		{0, 0, 0.1, 1, "", 0, ""},
	} {
		job := Default()
		job.Finish.Socket, job.Finish.StickEye, job.Finish.Powder = MM(c.socket), MM(c.eye), MM(c.powder)
		fs := job.SocketFindings(&moldbox.Mold{Cavities: []moldbox.Placed{{Name: "one", Scale: c.scale}}})
		if c.want == "" {
			if len(fs) != 0 {
				t.Errorf("%v: %v", c, fs)
			}
			continue
		}
		if len(fs) != 1 || fs[0].Severity != c.want || fs[0].Cavity != "one" || !strings.Contains(fs[0].Remedy, c.draw) {
			t.Errorf("%v: %+v", c, fs)
			continue
		}
		near(t, "width", fs[0].Value, c.value, 1e-9)
	}
}
