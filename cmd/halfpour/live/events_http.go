//go:build !js

package live

import (
	"fmt"
	"net/http"
	"strconv"
	"time"
)

// heartbeat keeps a silent connection from being taken for dead.
const heartbeat = 15 * time.Second

// serve writes events until the page goes away or the server ends.
func (e *events) serve(w http.ResponseWriter, r *http.Request) {
	e.pages.Add(1)
	defer e.pages.Add(-1)
	out := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	seen := max(numberOf(r.URL.Query().Get("seen")), numberOf(r.Header.Get("Last-Event-ID")))
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	fmt.Fprint(w, "retry: 1000\n\n")
	told := 0
	for {
		list, news := e.after(max(seen, told), told)
		for _, v := range list {
			told = v.number
			fmt.Fprintf(w, "id: %d\nevent: %s\ndata: %s\n\n", v.number, v.kind, v.text)
		}
		// Events go on: only a page that takes none of them is given up.
		_ = out.SetWriteDeadline(time.Now().Add(2 * heartbeat))
		if err := out.Flush(); err != nil {
			return
		}
		select {
		case <-news:
		case <-beat.C:
			fmt.Fprint(w, ": still here\n\n")
		case <-r.Context().Done():
			return
		}
	}
}

// numberOf reads the number of an event; what is none is before the first.
func numberOf(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0
	}
	return n
}
