package live

import (
	"cmp"
	"context"
	"net/http"
)

// answers are what a page may ask for, whoever carries question and answer.
type answers struct {
	pages   map[string]Document
	actions map[string]action
	events  *events
}

func newAnswers(pages map[string]Document) answers {
	return answers{pages: pages, actions: map[string]action{}, events: newEvents()}
}

// Document makes a page anew when it is asked for. seen is the number of the
// last event before that, for the page to ask for what comes after it; which is
// what the address has behind "?which=", of a page with several faces: it comes
// from outside and may be anything.
type Document func(seen int, which string) ([]byte, error)

// Reply is the answer to a request that a page's script makes.
type Reply struct {
	Status int    // as http.StatusOK; 0 for that
	Type   string // "application/json"
	Attach string // the name under which a browser saves it; "" for what it shows
	Body   []byte
}

// Action answers a request. which is as for a Document, body what a POST has
// brought. It comes from outside and may be anything.
type Action func(ctx context.Context, which string, body []byte) Reply

type action struct {
	Action
	most int64 // bytes of a body; 0: asked for by GET
}

// Handle serves an action under a name, before Serve. With most over 0 it is a
// POST of up to so many bytes, which the server's own page alone may send.
func (a *answers) Handle(name string, most int64, do Action) { a.actions[name] = action{do, most} }

// Tell sends an event to all pages that are open. Of a kind only the last is
// kept for those that ask later. The text must be of one line.
func (a *answers) Tell(kind Kind, text string) { a.events.tell(kind, text) }

// Pages is how many pages listen to the server's events.
func (a *answers) Pages() int { return int(a.events.pages.Load()) }

// answer answers a question. What nobody knows is not found; a body that is too
// long is refused.
func (a *answers) answer(ctx context.Context, name, which string, body []byte) Reply {
	act, acts := a.actions[name]
	page := a.pages[name]
	switch {
	case acts && int64(len(body)) > act.most:
		return textReply(http.StatusRequestEntityTooLarge, "")
	case acts:
		reply := act.Action(ctx, which, body)
		reply.Status = cmp.Or(reply.Status, http.StatusOK)
		return reply
	case page == nil:
		return textReply(http.StatusNotFound, "")
	}
	data, err := page(a.events.last(), which)
	if err != nil {
		return textReply(http.StatusInternalServerError, err.Error())
	}
	return Reply{Status: http.StatusOK, Type: "text/html; charset=utf-8", Body: data}
}

// textReply says a text, or what the status says.
func textReply(status int, text string) Reply {
	return Reply{Status: status, Type: "text/plain; charset=utf-8", Body: []byte(cmp.Or(text, http.StatusText(status)) + "\n")}
}
